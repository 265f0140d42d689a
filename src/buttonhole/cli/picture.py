"""Pictures in letters: the stack-up with the predicted weld in it, and the window of settings.

A cut through the weld axis, side A on top. Widths are to scale; thicknesses are stretched so that a
thin sheet is still seen, and the picture says how much.
"""

from dataclasses import dataclass

import numpy as np

from buttonhole.cli.words import _
from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.result import Section, SpotWeld
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

HALF_WIDTH = 21  # letters from the weld axis to the edge of the picture
LETTERS_PER_MM = 2.2
LETTER_ASPECT = 2.0  # a letter of a terminal is about twice as high as wide
TALLEST = 22  # rows for all sheets together


@dataclass(frozen=True, slots=True)
class Letters:
    """What stands for what in a picture."""

    sheet: str
    heated: str
    melted: str
    between: str
    joined: str
    cap: str


BLOCKS = Letters(sheet="░", heated="▒", melted="█", between="─", joined="┼", cap="║")
PLAIN = Letters(sheet=".", heated="o", melted="#", between="-", joined="+", cap="|")


def cut_through(
    stack: StackUp, set_up: SpotSetUp, weld: SpotWeld | None, letters: Letters
) -> list[str]:
    """Draw the stack-up between the caps, with what melted and what was heated over Ac1.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        For the caps.
    weld : SpotWeld or None
        The prediction to draw into the sheets; without one only the sheets are drawn.
    letters : Letters
        What to draw with.

    Returns
    -------
    list of str
        Lines of at most 80 letters.
    """
    rows_of = _rows(stack)
    lines = _cap_lines(set_up.cap_a, "A", letters)
    for number, (sheet, rows) in enumerate(zip(stack.sheets, rows_of, strict=True), start=1):
        name = f"{number}  {sheet.steel.designation}  {sheet.thickness * 1e3:g} mm"
        name += f"  {sheet.coating.value}"
        for row in range(rows):
            depth = (row + 0.5) / rows
            body = _sheet_row(weld, number, sheet.steel, depth, letters)
            lines.append(body + ("   " + name if row == rows // 2 else ""))
        if number < len(stack.sheets):
            lines.append(_between(weld, number - 1, letters))
    lines += reversed(_cap_lines(set_up.cap_b, "B", letters))
    stretch = LETTER_ASPECT * sum(rows_of) / (stack.total_thickness * 1e3 * LETTERS_PER_MM)
    lines.append(_legend(weld, letters, stretch))
    return lines


def _rows(stack: StackUp) -> list[int]:
    total = stack.total_thickness * 1e3
    per_mm = min(4.0, TALLEST / total)
    return [max(2, round(sheet.thickness * 1e3 * per_mm)) for sheet in stack.sheets]


def _cap_lines(cap: ElectrodeCap, side: str, letters: Letters) -> list[str]:
    body = min(HALF_WIDTH - 1, round(cap.body_diameter / 2 * 1e3 * LETTERS_PER_MM))
    face = cap.face_diameter
    if face is None:  # a dome: its flank leaves the sheet where it is a tenth of a mm away
        face = 2.0 * (2.0 * (cap.radius or 0.05) * 1e-4) ** 0.5
    tip = min(body, max(2, round(face / 2 * 1e3 * LETTERS_PER_MM)))
    return [_cap_line(body, letters) + _("   side {}").format(side), _cap_line(tip, letters)]


def _cap_line(half: int, letters: Letters) -> str:
    inside = letters.cap + " " * (2 * half - 1) + letters.cap
    return inside.center(2 * HALF_WIDTH + 1)


def _sheet_row(
    weld: SpotWeld | None, number: int, steel: object, depth: float, letters: Letters
) -> str:
    if weld is None:
        return letters.sheet * (2 * HALF_WIDTH + 1)
    peak = _peak_over_radius(weld.section, number, depth)
    material = curves(steel)
    zones = weld.sheets[number - 1] if weld.sheets else None
    changed = material.ac1 if zones is None or zones.ac1 is None else zones.ac1.value
    half = ""
    for column in range(HALF_WIDTH + 1):
        radius = column / LETTERS_PER_MM * 1e-3
        at = int(np.searchsorted(weld.section.r_faces, radius, side="right")) - 1
        temperature = peak[at] if at < len(peak) else 0.0
        if temperature >= 0.5 * (material.solidus + material.liquidus):
            half += letters.melted
        elif temperature >= changed:
            half += letters.heated
        else:
            half += letters.sheet
    return half[:0:-1] + half


def _peak_over_radius(section: Section, number: int, depth: float) -> np.ndarray:
    """Peak temperature [degC] against radius at a depth (0 to 1) of one sheet."""
    rows = np.flatnonzero((section.part == number).any(axis=1))
    top, bottom = section.z_faces[rows[0]], section.z_faces[rows[-1] + 1]
    row = int(np.searchsorted(section.z_faces, top + depth * (bottom - top), side="right")) - 1
    row = min(max(row, int(rows[0])), int(rows[-1]))
    return np.where(section.part[row] == number, section.peak_temperature[row], 0.0)


def _between(weld: SpotWeld | None, interface: int, letters: Letters) -> str:
    if weld is None:
        return letters.between * (2 * HALF_WIDTH + 1)
    found = weld.interfaces[interface]
    diameter = found.nugget_diameter.value
    melted = _letters(diameter)
    corona = found.corona
    joined = max(melted, -1 if corona is None else _letters(corona.outer_diameter.value))
    half = "".join(
        letters.melted if n <= melted else letters.joined if n <= joined else letters.between
        for n in range(HALF_WIDTH + 1)
    )
    return half[:0:-1] + half + _("   nugget {:.1f} mm").format(1e3 * diameter)


def _letters(diameter: float) -> int:
    return round(diameter / 2 * 1e3 * LETTERS_PER_MM) if diameter > 0.0 else -1


def _legend(weld: SpotWeld | None, letters: Letters, stretch: float) -> str:
    scale = _("thickness drawn {:.1f} times too large").format(stretch)
    if weld is None:
        return scale
    words = (
        (letters.melted, _("melted")),
        (letters.joined, _("joined only")),
        (letters.heated, _("over Ac1")),
        (letters.sheet, _("less")),
    )
    return "  ".join(f"{letter} {word}" for letter, word in words) + "; " + scale
