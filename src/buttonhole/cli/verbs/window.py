"""``buttonhole window``: from the current that gives the least weld to the one that splashes."""

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.quantities import quantity
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.predict import JsonOption, RuleOption, WeldFileArgument
from buttonhole.cli.verbs.propose import ArmPairOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from buttonhole.coupon.criterion import Criterion
    from buttonhole.joint.stack_up import StackUp
    from buttonhole.procedure.machine import SpotMachine
    from buttonhole.weld.spot.condition import SpotCondition
    from buttonhole.weld.spot.set_up import SpotSetUp

WINDOW_STEPS, LOBE_STEPS = 21, 15
LARGEST_MAP = 2000  # welds; about as many as a coffee break allows

SvgOption = Annotated[
    Path | None, typer.Option("--svg", metavar="FILE", help=_("Draw it into a file."))
]
SecondForceOption = Annotated[
    str | None, typer.Option("--force", metavar="FORCE", help=_("Second force of the lobe."))
]
LimitsOption = Annotated[
    Path | None,
    typer.Option("--machine", metavar="FILE", help=_("Machine file: its limits and scatter.")),
]
DentOption = Annotated[
    int, typer.Option(help=_("Deepest dent of the lobe, % of the outer sheet."), min=1, max=100)
]


def window(
    file: WeldFileArgument,
    rule: RuleOption = None,
    low: Annotated[
        str | None, typer.Option("--from", metavar="CURRENT", help=_("First current."))
    ] = None,
    high: Annotated[
        str | None, typer.Option("--to", metavar="CURRENT", help=_("Last current."))
    ] = None,
    steps: Annotated[
        int | None, typer.Option(help=_("How many currents; 21, of a lobe 15."), min=3, max=200)
    ] = None,
    time: Annotated[
        list[str] | None,
        typer.Option("--time", metavar="TIME", help=_("Weld time; again for each more.")),
    ] = None,
    lobe: Annotated[
        bool, typer.Option("--lobe", help=_("Map current and weld time at two forces."))
    ] = False,
    force: SecondForceOption = None,
    machine: LimitsOption = None,
    arms: ArmPairOption = None,
    dent: DentOption = 25,
    svg: SvgOption = None,
    json: JsonOption = False,
) -> None:
    """Find the window of welding current between too small and splash, or the whole lobe."""
    from buttonhole.desk.machine_file import read_machine_file
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import read_weld_file

    described = read_weld_file(file)
    times = [quantity("--time", one, "time") for one in time or ()]
    if lobe and len(times) == 1:
        raise BadInput("--time", _("give two weld times or more for a lobe, or none"))
    around = lobe and low is None and high is None and steps is None
    steps = steps or (LOBE_STEPS if lobe else WINDOW_STEPS)
    if steps * len(times or [0]) > LARGEST_MAP:
        raise BadInput("--steps", _("asks for too many welds; at most {}").format(LARGEST_MAP))
    if svg is not None and svg.exists():
        raise BadInput(str(svg), _("is there already; give another name"))
    asked = _Asked(
        file,
        described.stack,
        described.set_up,
        rule_for(described.stack, rule or described.minimum_rule),
        None if around else _currents(described.set_up.pulses, low, high, steps),
        times or None,
        None if machine is None else read_machine_file(machine),
        svg,
        described.condition,
    )
    second = quantity("--force", force, "force")
    lines, answer = _lobe(asked, second, arms, dent / 100.0) if lobe else _window(asked)
    if json:
        say.give_json(answer)
    else:
        say.give_lines(lines())


@dataclass(frozen=True)
class _Asked:
    """What is to be mapped, for both kinds of answer."""

    file: Path
    stack: "StackUp"
    set_up: "SpotSetUp"
    criterion: "Criterion"
    currents: list[float] | None  # A
    times: list[float] | None  # s
    machine: "SpotMachine | None"
    svg: Path | None
    condition: "SpotCondition"

    @property
    def spreads(self) -> tuple[float, float]:
        """Scatter of current and force [-], of the machine or as usual."""
        from buttonhole.procedure.machine import CURRENT_SPREAD, FORCE_SPREAD

        if self.machine is None:
            return CURRENT_SPREAD, FORCE_SPREAD
        return self.machine.current_spread, self.machine.force_spread

    def draw(self, picture: "Callable[[], str]") -> None:
        """Write the picture into its file, where one was asked for."""
        if self.svg is not None:
            self.svg.write_text(picture(), encoding="utf-8")


_Told = tuple["Callable[[], list[str]]", dict[str, Any]]


def _window(asked: _Asked) -> _Told:
    from buttonhole.desk.condition_answer import condition_answer
    from buttonhole.desk.window_answer import (
        least_diameters,
        robust_answer,
        window_answer,
        window_drawing,
    )

    stack, set_up, criterion = asked.stack, asked.set_up, asked.criterion
    with solving(asked.file), say.progress(_("welding")) as progress:
        from buttonhole.weld import spot
        from buttonhole.weld.spot.robust import part_of, robust, scatter_for

        found = spot.window(
            stack, set_up, least_diameters(stack, criterion),
            currents=asked.currents, times=asked.times, progress=part_of(progress, 0, 2),
            condition=asked.condition,
        )  # fmt: skip
        best = robust(
            stack, set_up, found, scatter_for(stack, *asked.spreads),
            progress=part_of(progress, 1, 2),
            compute=partial(spot.window, condition=asked.condition),
        )  # fmt: skip
    asked.draw(lambda: window_drawing(found, set_up, criterion))
    answer = window_answer(found, criterion)
    answer |= {"robust": robust_answer(best), "condition": condition_answer(asked.condition)}
    answer |= {"model_version": spot.MODEL_VERSION}

    def lines() -> list[str]:
        from buttonhole.cli.window_text import window_lines

        return window_lines(answer, criterion, blocks=say.draws_blocks())

    return lines, answer


def _lobe(asked: _Asked, wanted: float | None, arms: str | None, dent: float) -> _Told:
    from buttonhole.cli.lobe_text import lobe_lines
    from buttonhole.desk.condition_answer import condition_answer
    from buttonhole.desk.lobe_answer import find_lobe, lobe_answer, lobe_drawing
    from buttonhole.procedure.force_level import second_force

    set_up, criterion = asked.set_up, asked.criterion
    other, words = second_force(set_up, asked.machine, arms, wanted)
    with solving(asked.file), say.progress(_("welding")) as progress:
        from buttonhole.weld.spot import MODEL_VERSION

        found = find_lobe(
            asked.stack, set_up, criterion, (set_up.electrode_force, other), asked.spreads,
            currents=asked.currents, times=asked.times, dent=dent, progress=progress,
            condition=asked.condition,
        )  # fmt: skip
    asked.draw(lambda: lobe_drawing(found, criterion))
    answer = lobe_answer(found, criterion, words)
    answer |= {"condition": condition_answer(asked.condition), "model_version": MODEL_VERSION}
    return (lambda: lobe_lines(answer)), answer


def _currents(
    pulses: "Sequence[Any]", low: str | None, high: str | None, steps: int
) -> list[float]:
    main = max(pulses, key=lambda pulse: pulse.time).current
    first = quantity("--from", low, "current") or 0.55 * main
    last = quantity("--to", high, "current") or 1.45 * main
    if not 100.0 <= first < last <= 40e3:
        raise BadInput("--from", _("must be less than --to, both 0.1 to 40 kA"))
    return [first + (last - first) * step / (steps - 1) for step in range(steps)]
