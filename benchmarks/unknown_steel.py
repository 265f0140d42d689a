"""How far hints bound a steel that nobody knows, and how often they take the true one out.

``./go bench unknown_steel`` writes docs/validation/unknown-steel.md; it takes a minute. A
simulation, not a comparison with measured sheets: every steel of the book in turn, its strength,
thickness and forming anywhere in what the program allows for, readings off by a bell curve of which
5 % lie farther out than is stated.
"""

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from buttonhole.joint.hardness_tensile import hardness_of_tensile
from buttonhole.joint.hints import (
    HARDNESS_OFF,
    THICKENED,
    THICKNESS_OFF,
    THINNED,
    HardnessTester,
    Hints,
    Magnet,
    bounds,
    on_the_body,
)
from buttonhole.joint.steel import Family
from buttonhole.joint.steel_book import Entry, book

PAGE = Path(__file__).parents[1] / "docs" / "validation" / "unknown-steel.md"
SHEETS = 12  # of each steel
SEED = 20
Z95 = 1.96  # standard deviations either side of 95 %
WORKSHOP = 0.10  # -, of the reading: a good portable tester on a piece that is held
CUT_OUT = 0.03  # -, Vickers on a piece cut out

Sheet = tuple[Entry, float, float, float]  # steel, tensile strength [Pa], hardness [HV], m


def sheets() -> list[Sheet]:
    """Sheets on a body: each steel, anywhere in its spans."""
    chance = np.random.default_rng(SEED)
    found = []
    for one in book():
        for _ in range(SHEETS):
            low, high = on_the_body(one.steel)
            strength = float(chance.uniform(low, high))
            band = hardness_of_tensile(float(np.clip(strength, 250e6, 2180e6)), one.steel.family)
            hardness = float(chance.uniform(band.low, band.high))
            made = float(chance.uniform(*one.habit.usual))
            thickness = made * float(chance.uniform(THINNED, THICKENED))
            found.append((one, strength, hardness, thickness))
    return found


def read(sheet: Sheet, chance: np.random.Generator, share: float, tester: HardnessTester) -> Hints:
    """What would be read on it, errors by a bell curve."""
    one, _, hardness, thickness = sheet
    off = share * hardness
    reading = float(np.clip(chance.normal(hardness, off / Z95), 80.0, 650.0))
    measured = float(np.clip(chance.normal(thickness, THICKNESS_OFF / Z95), 0.2e-3, 6.5e-3))
    magnet = Magnet.NOT if one.steel.family is Family.STAINLESS else Magnet.STICKS
    return Hints(
        thickness=measured, magnet=magnet, hardness=reading, hardness_off=off, tester=tester
    )


WAYS: dict[str, Callable[[Hints], Hints]] = {
    "thickness alone": lambda h: Hints(thickness=h.thickness),
    "magnet alone": lambda h: Hints(magnet=h.magnet),
    "hardness alone": lambda h: replace(h, thickness=None, magnet=None),
    "all three": lambda h: h,
}


def rows() -> list[str]:
    """One line of the table for each way to measure."""
    every = sheets()
    lines = []
    testers = (
        (f"portable, {100 * HARDNESS_OFF:.0f} %", HARDNESS_OFF, HardnessTester.UCI),
        (f"portable, held, {100 * WORKSHOP:.0f} %", WORKSHOP, HardnessTester.VICKERS),
        (f"cut out, {100 * CUT_OUT:.0f} %", CUT_OUT, HardnessTester.VICKERS),
    )
    for said, share, tester in testers:
        for way, keep in WAYS.items():
            if way in ("thickness alone", "magnet alone") and share is not HARDNESS_OFF:
                continue
            chance = np.random.default_rng(SEED + 1)
            kept, counts, widths, inside = 0, [], [], 0
            for sheet in every:
                found = bounds(keep(read(sheet, chance, share, tester)))
                kept += sheet[0] in found.possible
                counts.append(len(found.possible))
                low, high = found.tensile
                widths.append(high / low)
                inside += low <= sheet[1] <= high
            reading = said if "hardness" in way or way == "all three" else "–"
            lines.append(
                f"| {way} | {reading} | {100 * kept / len(every):.2f} % | "
                f"{np.median(counts):.0f} | {np.nanmedian(widths):.2f} | "
                f"{100 * inside / len(every):.2f} % |"
            )
    return lines


def page() -> str:
    """The page as text."""
    count = len(book())
    lines = [
        "# Unknown steel: what hints can tell",
        "",
        "Written by `./go bench unknown_steel`; a change by hand is lost. A simulation with "
        f"{SHEETS} sheets of each of the {count} steels of the book ({SHEETS * count} sheets), "
        f"seed {SEED}: strength anywhere between the least a part may have and the most that "
        "pressing makes of it, hardness anywhere in the band of the conversion, thickness anywhere "
        "usual, thinned or thickened by pressing. Readings are off by a bell curve with 5 % of "
        "them farther out than is stated. No measured sheets are in it: it says what the rules do, "
        "not how well they fit real parts, and nothing of steels that the book does not hold or "
        "that heat has softened.",
        "",
        "| measured | hardness by | true steel still possible | steels left, median "
        "| tensile span, most over least, median | true strength in the span |",
        "|---|---|---|---|---|---|",
        *rows(),
        "",
        f"Without any hint {count} of {count} steels are possible. However few are left, the steel "
        "stays unknown for every rule. Even a piece cut out leaves about half of the book: the "
        "conversion of hardness and the strength that pressing adds weigh more than the reading.",
    ]
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the page and print it."""
    text = page()
    PAGE.write_text(text, encoding="utf-8")
    sys.stdout.write(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
