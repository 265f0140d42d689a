"""``buttonhole run``: one weld after the other with the same caps, and how warm they get."""

from typing import Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.quantities import quantity
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.predict import JsonOption, WeldFileArgument
from buttonhole.cli.words import _

SHOWN = 12  # rows of the table; of a longer run the first and last ones


def run(
    file: WeldFileArgument,
    welds: Annotated[int, typer.Option(help=_("How many."), min=2, max=500)] = 20,
    every: Annotated[
        str, typer.Option(metavar="TIME", help=_("From one weld to the next."))
    ] = "5 s",
    json: JsonOption = False,
) -> None:
    """Make one spot weld after the other with the same caps, and say how warm they get."""
    from buttonhole.desk.run_answer import run_answer
    from buttonhole.desk.weld_file import read_weld_file

    described = read_weld_file(file)
    interval = quantity("--every", every, "time") or 0.0
    with solving(file), say.progress(_("welding")) as progress:
        from buttonhole.weld.spot.run import weld_run

        found = weld_run(
            described.stack, described.set_up, welds, interval, condition=described.condition,
            progress=progress,
        )  # fmt: skip
    answer = run_answer(found, interval)
    if json:
        say.give_json(answer)
        return
    say.give_lines(_lines(answer))


def _lines(answer: dict[str, Any]) -> list[str]:
    rows = answer["welds"]
    lines = [_("weld   caps start °C    hottest °C    nugget mm")]
    half = SHOWN // 2
    shown = rows if len(rows) <= SHOWN else [*rows[:half], None, *rows[-half:]]
    for row in shown:
        if row is None:
            lines.append(" ...")
            continue
        start, hottest = (
            " {:6.0f} {:6.0f}".format(*row[key]) for key in ("cap_start_degC", "cap_hottest_degC")
        )
        nuggets = "  ".join(f"{one:.2f}" for one in row["nugget_diameter_mm"])
        lines.append(f"{row['number']:4d}{start}{hottest}    {nuggets}")
    after = answer["settled_after_welds"]
    said = _("The caps have not settled in this run.")
    if after is not None:
        said = _("From weld {} on the caps start within a kelvin of the last.").format(after + 1)
    text = _(
        "Caps A and B side by side. The hottest copper comes out high by some ten kelvin, as only "
        "the end of the water bore is taken to cool. Caps too hot to touch burn: let them cool."
    )
    return [*lines, "", said, *say.wrapped(text)]
