"""``buttonhole set-up``: propose a set-up for a joint and accept one."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JointArgument,
    RecordOption,
    SeenOption,
    desk_at,
    find_joint,
)
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.joint import tell
from buttonhole.cli.verbs.predict import JsonOption, RuleOption
from buttonhole.cli.verbs.propose import (
    ArmPairOption,
    CurrentTypeOption,
    MachineOption,
    chosen_current_type,
)
from buttonhole.cli.words import _

GunOption = Annotated[str, typer.Option("--gun", help=_("Name of the gun."))]
ArmsOption = Annotated[str, typer.Option("--arms", help=_("Arm pair on the gun."))]
ProgramOption = Annotated[str, typer.Option("--program", help=_("Program version of the gun."))]
OutletOption = Annotated[str, typer.Option("--outlet", help=_("Mains outlet, as labelled."))]
LeadOption = Annotated[str, typer.Option("--lead", help=_("Extension lead, as labelled."))]
PositionOption = Annotated[str, typer.Option("--position", help=_("Welding position."))]
WelderOption = Annotated[str, typer.Option("--welder", help=_("Who welds."))]
TorchOption = Annotated[str, typer.Option("--torch", help=_("Torch and earth of an arc."))]
LinerOption = Annotated[str, typer.Option("--liner", help=_("Liner of the torch."))]
SpoolOption = Annotated[str, typer.Option("--spool", help=_("Number of the wire's spool."))]
CylinderOption = Annotated[str, typer.Option("--cylinder", help=_("Number of the gas cylinder."))]
FacesOption = Annotated[
    str,
    typer.Option("--faces", help=_("What is on the faces: as_joint, bare, primer, e-coat ...")),
]
BetweenOption = Annotated[
    str, typer.Option("--between", help=_("Sealer or adhesive between the sheets or near."))
]
SetUpFileOption = Annotated[
    Path | None,
    typer.Option("--file", metavar="FILE", help=_("Take the set-up of this weld file.")),
]


def propose(
    joint: JointArgument,
    machine: MachineOption,
    by: ByOption,
    current_type: CurrentTypeOption = None,
    arms: ArmPairOption = None,
    rule: RuleOption = None,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Have a set-up proposed from physics inside the machine's limits."""
    from buttonhole.desk.machine_file import read_machine_file
    from buttonhole.desk.propose_set_up import ProposeSetUp, propose_set_up
    from buttonhole.desk.rules import rule_named

    gun = read_machine_file(machine)
    criterion = None if rule is None else rule_named(rule)
    with (
        desk_at(record, by) as desk,
        solving(joint),
        say.progress(_("searching a set-up")) as progress,
    ):
        found = find_joint(desk, joint)
        command = ProposeSetUp(
            found.id,
            seen or found.seen,
            gun,
            criterion,
            chosen_current_type(current_type),
            arm_pair=arms,
        )
        found = propose_set_up(desk, command, progress=progress)
    tell(found, json)


def accept(
    joint: JointArgument,
    by: ByOption,
    file: SetUpFileOption = None,
    gun: GunOption = "",
    arms: ArmsOption = "",
    program: ProgramOption = "",
    outlet: OutletOption = "",
    lead: LeadOption = "",
    position: PositionOption = "",
    welder: WelderOption = "",
    torch: TorchOption = "",
    liner: LinerOption = "",
    spool: SpoolOption = "",
    cylinder: CylinderOption = "",
    faces: FacesOption = "",
    between: BetweenOption = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Accept the proposed set-up, or one of your own, as it will be used at the vehicle."""
    from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up
    from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
    from buttonhole.desk.weld_file import BadFile, read_arc_keys, read_weld_file

    keys = None if file is None else read_arc_keys(file)
    own = None if file is None or keys is not None else read_weld_file(file).set_up
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        if found.arc is not None:
            if own is not None:
                raise BadFile(str(file), "process", _("is of a spot weld; this joint is not"))
            table = None if keys is None else keys["set_up"]
            by_arc = AcceptArcSetUp(
                found.id,
                seen or found.seen,
                table,
                gun,
                program,
                outlet,
                lead,
                welder,
                torch=torch,
                liner=liner,
                wire_batch=spool,
                gas_batch=cylinder,
                coating_state=faces,
                between=between,
            )
            tell(accept_arc_set_up(desk, by_arc), json)
            return
        if keys is not None:
            raise BadFile(str(file), "process", _("is of an arc weld; this joint is spot welded"))
        command = AcceptSetUp(
            found.id,
            seen or found.seen,
            own,
            gun,
            arms,
            program,
            outlet,
            lead,
            position,
            welder,
            faces,
            between,
        )
        found = accept_set_up(desk, command)
    tell(found, json)
