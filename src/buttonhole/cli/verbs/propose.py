"""``buttonhole propose``: a set-up from physics, inside what a machine can do."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.predict import JsonOption, RuleOption, WeldFileArgument
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
    from buttonhole.weld.spot.set_up import CurrentType

MachineOption = Annotated[
    Path,
    typer.Option("--machine", metavar="FILE", help=_("Machine file (TOML), see examples.")),
]
CurrentTypeOption = Annotated[
    str | None,
    typer.Option("--current-type", metavar="TYPE", help=_("MFDC, AC50 or AC60, if it has more.")),
]
ArmPairOption = Annotated[
    str | None, typer.Option("--arms", metavar="NAME", help=_("Arm pair of the machine file."))
]


def propose(
    file: WeldFileArgument,
    machine: Annotated[
        Path | None,
        typer.Option(
            "--machine", metavar="FILE", help=_("Machine file (TOML) of the gun; spot welds only.")
        ),
    ] = None,
    current_type: CurrentTypeOption = None,
    arms: ArmPairOption = None,
    rule: RuleOption = None,
    json: JsonOption = False,
) -> None:
    """Propose a set-up for the sheets of a weld file; its own set-up is not used."""
    from buttonhole.desk.machine_file import read_machine_file
    from buttonhole.desk.proposal_answer import proposal_answer
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import WeldFile, read_any_weld_file

    described = read_any_weld_file(file)
    if not isinstance(described, WeldFile):
        _propose_arc(file, described, json=json)
        return
    if machine is None:
        raise BadInput("--machine", _("is missing; give the machine file of the gun"))
    gun = read_machine_file(machine)
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    with solving(file), say.progress(_("searching a set-up")) as progress:
        from buttonhole.procedure.proposal import propose_with_suggestions

        found = propose_with_suggestions(
            described.stack,
            gun,
            criterion,
            current_type=chosen_current_type(current_type) or gun.current_types[0],
            arm_pair=arms,
            progress=progress,
        )
    if json:
        say.give_json(proposal_answer(found, criterion))
        return
    from buttonhole.cli.proposal_text import proposal_lines

    say.give_lines(proposal_lines(found, described.stack, criterion))


def _propose_arc(file: Path, described: "PlugWeldFile | SeamWeldFile", *, json: bool) -> None:
    """Propose feed, voltage and time or travel for an arc weld."""
    from buttonhole.desk.propose_arc import propose_arc
    from buttonhole.desk.weld_file import named_file

    with named_file(file), say.progress(_("trying set-ups")) as progress:
        answer = propose_arc(described, progress)
    if json:
        say.give_json(answer)
        return
    lines = [
        f'wire_feed_speed = "{answer["wire_feed_speed_m_per_min"]:.1f} m/min"',
        f'arc_voltage = "{answer["arc_voltage_V"]:.1f} V"',
    ]
    if answer["arc_time_s"] is not None:
        lines.append(f'arc_time = "{answer["arc_time_s"]:.1f} s"')
    if answer["travel_speed_mm_per_s"] is not None:
        lines.append(f'travel_speed = "{answer["travel_speed_mm_per_s"]:g} mm/s"')
    lines.append("")
    for reason in answer["reasons"]:
        lines += say.wrapped(reason, first="  - ")
    for words, key in (
        (_("less"), "wire_feed_10_percent_less"),
        (_("more"), "wire_feed_10_percent_more"),
    ):
        one = answer["margins"][key]
        text = _("With 10 % {} wire feed: {:.0f} in 100 fused, {:.0f} in 100 a hole.")
        chances = [100 * one["fusion_probability"], 100 * one["hole_probability"]]
        if answer["brazed"]:
            text = _("With 10 % {} wire feed: {:.0f} in 100 wetted, {:.0f} a hole, {:.0f} melts.")
            chances.append(100 * one["melting_probability"])
        lines += say.wrapped(text.format(words, *chances), first="  - ")
    text = _(
        "A proposal releases nothing: weld a coupon, look at its back, section it. The vehicle "
        "maker's procedure prevails."
    )
    say.give_lines([*lines, "", *say.wrapped(text)])


def chosen_current_type(typed: str | None) -> "CurrentType | None":
    """Read the option for the kind of current.

    Parameters
    ----------
    typed : str or None
        As typed; None when left out.

    Returns
    -------
    CurrentType or None
        The kind.

    Raises
    ------
    BadInput
        There is no such kind.
    """
    from buttonhole.weld.spot.set_up import CurrentType

    if typed is None:
        return None
    for one in CurrentType:
        if typed.casefold() == one.value.casefold():
            return one
    listed = ", ".join(one.value for one in CurrentType)
    raise BadInput("--current-type", _("is {!r}; give one of {}").format(typed, listed))
