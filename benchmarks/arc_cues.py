"""Weld every cue of plugs and seams, good and bad; write the page docs/arc-cues.md.

Run as ``python -m benchmarks.arc_cues``. The sizes are the model's own and no evidence.
"""

from collections.abc import Iterator
from pathlib import Path

from buttonhole.desk.arc_cues import ARC_CUES, Compared, Cue
from buttonhole.desk.cues import compared
from buttonhole.desk.predict_arc import predict_arc
from buttonhole.desk.weld_file import arc_weld_file_from

PAGE = Path(__file__).resolve().parent.parent / "docs" / "arc-cues.md"
HEAD = """# What the trade looks for in plugs and seams

Written by `python -m benchmarks.arc_cues`. The same stands on the page `/cues`, with sections and
backs of the plates side by side, and in `buttonhole cues`.

What the trade says is common practice, no source. Beside it stands how much of it the model
explains, and a good and a bad weld that differ in one thing, with sizes computed by the model: they
are no evidence. "As said" tells whether a size goes the way the trade says; where it does not, that
stands here as well.
"""
AGREES = {True: "yes", False: "**no**", None: "no claim"}


def main() -> None:
    """Write the page."""
    lines = [HEAD, *(line for cue in ARC_CUES for line in _lines(cue))]
    PAGE.write_text("\n".join(lines).rstrip() + "\n", encoding="utf-8")


def _lines(cue: Cue) -> Iterator[str]:
    yield f"## {cue.name}"
    yield ""
    yield f"**The trade says:** {cue.trade}"
    yield ""
    yield f"**{cue.explained.words}.** {cue.model}"
    yield ""
    if not cue.cases:
        return
    cases = (cue.cases[0], cue.cases[cue.bad])
    good, bad = (predict_arc(arc_weld_file_from(one.keys)) for one in cases)
    yield f"| | good: {cases[0].words} | bad: {cases[1].words} | as said |"
    yield "|---|---|---|---|"
    for one in compared(cue, good, bad):
        cells = " | ".join(_cell(one, each) for each in (one.good, one.other))
        yield f"| {one.name} in {one.unit} | {cells} | {AGREES[one.agrees]} |"
    yield f"| back of the plate | {good['back_mark']} | {bad['back_mark']} | |"
    yield ""


def _cell(row: Compared, reading: tuple[float, float, float]) -> str:
    digits = 2 if row.unit in ("mm", "kN") else 0
    value, low, high = (f"{one:.{digits}f}" for one in reading)
    return f"{value} ({low} to {high})"


if __name__ == "__main__":
    main()
