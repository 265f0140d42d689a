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
from buttonhole.units import BadInput

GunOption = Annotated[str, typer.Option("--gun", help=_("Name of the gun."))]
ArmsOption = Annotated[str, typer.Option("--arms", help=_("Arm pair on the gun."))]
ProgramOption = Annotated[str, typer.Option("--program", help=_("Program version of the gun."))]
OutletOption = Annotated[str, typer.Option("--outlet", help=_("Mains outlet, as labelled."))]
LeadOption = Annotated[str, typer.Option("--lead", help=_("Extension lead, as labelled."))]
PositionOption = Annotated[str, typer.Option("--position", help=_("Welding position."))]
WelderOption = Annotated[str, typer.Option("--welder", help=_("Who welds."))]
AroundOption = Annotated[
    list[str] | None,
    typer.Option(
        "--around",
        metavar="TEXT",
        help=_(
            "What else is the same or not: 'faces bare', 'between sealer'; of an arc 'torch T1', "
            "'liner steel', 'spool 4711', 'cylinder 12'; once for each."
        ),
    ),
]
AROUND = {
    "faces": "coating_state",
    "between": "between",
    "torch": "torch",
    "liner": "liner",
    "spool": "wire_batch",
    "cylinder": "gas_batch",
}


def around_of(lines: list[str] | None) -> dict[str, str]:
    """What `--around` said, by the names of the record.

    Parameters
    ----------
    lines : list of str or None
        Each a word and what it is.

    Returns
    -------
    dict
        Empty where nothing was said.

    Raises
    ------
    BadInput
        A word nobody knows, or one without anything behind it.
    """
    found = {}
    for line in lines or ():
        word, _blank, rest = line.strip().partition(" ")
        if word not in AROUND or not rest.strip():
            known = ", ".join(AROUND)
            raise BadInput("--around", _("is {!r}; begin with one of {}").format(line[:40], known))
        found[AROUND[word]] = rest.strip()
    return found


SetUpFileOption = Annotated[
    Path | None,
    typer.Option("--file", metavar="FILE", help=_("Take the set-up of this weld file.")),
]


def spot_around(lines: list[str] | None) -> dict[str, str]:
    """The same of a spot, which has no torch.

    Raises
    ------
    BadInput
        Something only an arc has.
    """
    found = around_of(lines)
    if found.keys() - {"coating_state", "between"}:
        raise BadInput("--around", _("names something of an arc; this joint is spot welded"))
    return found


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
    around: AroundOption = None,
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
                **around_of(around),
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
            **spot_around(around),
        )
        found = accept_set_up(desk, command)
    tell(found, json)
