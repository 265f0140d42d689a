"""``buttonhole window``: from the current that gives the least weld to the one that splashes."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.quantities import quantity
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.predict import JsonOption, RuleOption, WeldFileArgument
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from collections.abc import Sequence

LARGEST_MAP = 2000  # welds; about as many as a coffee break allows


def window(
    file: WeldFileArgument,
    rule: RuleOption = None,
    low: Annotated[
        str | None, typer.Option("--from", metavar="CURRENT", help=_("First current."))
    ] = None,
    high: Annotated[
        str | None, typer.Option("--to", metavar="CURRENT", help=_("Last current."))
    ] = None,
    steps: Annotated[int, typer.Option(help=_("How many currents."), min=3, max=200)] = 21,
    time: Annotated[
        list[str] | None,
        typer.Option("--time", metavar="TIME", help=_("Weld time; again for each more.")),
    ] = None,
    svg: Annotated[
        Path | None, typer.Option("--svg", metavar="FILE", help=_("Draw it into a file."))
    ] = None,
    json: JsonOption = False,
) -> None:
    """Find the window of welding current between too small and splash."""
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import read_weld_file
    from buttonhole.desk.window_answer import least_diameters, window_answer, window_drawing

    described = read_weld_file(file)
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    currents = _currents(described.set_up.pulses, low, high, steps)
    times = [quantity("--time", one, "time") for one in time or ()] or None
    if steps * len(times or [0]) > LARGEST_MAP:
        raise BadInput("--steps", _("asks for too many welds; at most {}").format(LARGEST_MAP))
    if svg is not None and svg.exists():
        raise BadInput(str(svg), _("is there already; give another name"))
    with solving(file), say.progress(_("welding")) as progress:
        from buttonhole.weld import spot

        found = spot.window(
            described.stack,
            described.set_up,
            least_diameters(described.stack, criterion),
            currents=currents,
            times=times,
            progress=progress,
        )
    if svg is not None:
        svg.write_text(window_drawing(found, described.set_up, criterion), encoding="utf-8")
    answer = window_answer(found, criterion) | {"model_version": spot.MODEL_VERSION}
    if json:
        say.give_json(answer)
        return
    from buttonhole.cli.window_text import window_lines

    say.give_lines(window_lines(answer, criterion, blocks=say.draws_blocks()))


def _currents(
    pulses: "Sequence[Any]", low: str | None, high: str | None, steps: int
) -> list[float]:
    main = max(pulses, key=lambda pulse: pulse.time).current
    first = quantity("--from", low, "current") or 0.55 * main
    last = quantity("--to", high, "current") or 1.45 * main
    if not 100.0 <= first < last <= 40e3:
        raise BadInput("--from", _("must be less than --to, both 0.1 to 40 kA"))
    return [first + (last - first) * step / (steps - 1) for step in range(steps)]
