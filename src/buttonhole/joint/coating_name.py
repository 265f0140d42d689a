"""Names of metallic coatings as makers print them, with the thickness that their mass makes."""

import math
import re
from dataclasses import dataclass

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.sources import Status, Table, table
from buttonhole.units import BadInput

EN, EN_ELECTROLYTIC, VDA = "EN 10346", "EN 10152", "VDA 239-100"
JIS, JIS_ELECTROLYTIC, ASTM = "JIS G 3302", "JIS G 3313", "ASTM A653"
G_PER_M2, UM = 1e-3, 1e-6  # kg/m2, m
LOW, HIGH = 0.75, 1.45  # -, of the thickness by mass: by the ranges of EN 10326, derived
FINISH = {"N": "usual spangle", "M": "small spangle", "R": "usual matt finish of zinc-iron"}
QUALITY = {
    "A": "surface as coated",
    "B": "improved surface",
    "C": "best surface, for skin panels",
    "U": "unexposed part",
    "E": "exposed part",
}
TREATMENT = {
    "C": "chemically passivated",
    "O": "oiled",
    "CO": "passivated and oiled",
    "P": "phosphated",
    "PO": "phosphated and oiled",
    "S": "sealed",
    "UNTREATED": "untreated",
}
_EN_FORM = re.compile(
    r"(?P<code>ZF|ZA|ZM|AZ|AS|Z)(?P<mass>\d{2,3})?"
    r"(?:(?P<finish>[NMR])?(?P<quality>[ABC])(?P<treatment>CO|PO|C|O|P|S|U)?)?"
)
_ELECTROLYTIC_FORM = re.compile(
    r"(?P<code>ZE|ZN)(?:(?P<a>\d{2,3})/(?P<b>\d{2,3}))?(?P<quality>[AB])?(?P<treatment>PO|CO|P|C|O)?"
)
_VDA_FORM = re.compile(
    r"(?P<code>GI|GA|EG|ZM|AS)(?:(?P<a>\d{2,3})/(?P<b>\d{2,3}))?(?P<quality>[UE])?(?P<treatment>PO|P|O)?"
)
_JIS_FORM = re.compile(r"(?P<code>[ZF]\d{2}|E\d{1,2})(?:/(?P=code))?")
# ASTM A653: 60G60G has the mass of each side, G60 that of both in hundredths of an ounce per ft2
_ASTM_SIDES = re.compile(r"(?P<a>\d{2,3})(?P<code>[GA])(?P<b>\d{2,3})(?P=code)(?P<quality>[UE])?")
_ASTM_BOTH = re.compile(r"(?P<code>[GA])(?P<ounces>\d{2,3})")
OUNCE = 305.0  # g/m2 in 1 oz/ft2, galvanizing-notes


@dataclass(frozen=True, slots=True)
class CoatingName:
    """A coating as printed: system, the program's coating, mass and thickness of each side.

    ``mass`` [kg/m2] and ``thickness`` [m] are for side A and side B, NaN where the name gives none;
    ``thickness_range`` [m] is what one side may have anywhere.
    """

    text: str
    system: str
    coating: Coating
    meaning: str
    mass: tuple[float, float]
    thickness: tuple[float, float]
    thickness_range: tuple[float, float]
    surface: tuple[str, ...]
    source: str  # key in the bibliography
    status: Status

    @property
    def holds_zinc(self) -> bool:
        """Zinc is in it, or may be."""
        return self.coating in ZINC

    @property
    def hints(self) -> tuple[str, ...]:
        """What to mind about it, for people."""
        said = []
        if self.holds_zinc:
            said.append(
                "Holds zinc: it boils at 907 degC, long before steel melts. Fumes make ill: "
                "extraction on, breathing protection."
            )
        else:
            said.append(
                "No zinc in this layer. A primer, a repair or the next sheet may still hold some."
            )
        if self.text.startswith("AZ"):
            said.append(
                "More than half of it is aluminium, the rest zinc: the program has no coating of "
                "its own for it and takes it for an unknown one."
            )
        if self.coating is Coating.ALSI:
            said.append(
                "After hot stamping the layer is an alloy with iron, thicker and of high contact "
                "resistance."
            )
        return tuple(said)


def find_coating(text: str, system: str = "") -> CoatingName:
    """Return what a coating's name says; nothing is guessed.

    Parameters
    ----------
    text : str
        As printed: "Z100MB", "ZE25/25", "GI50/50-U", "Z12", "60G60G", "G60", "GI"; case, spaces,
        hyphens and a leading + do not count.
    system : str
        Standard it is of, where known: "EN 10346", "EN 10152", "VDA 239-100", "JIS G 3302",
        "JIS G 3313", "ASTM A653"; "" for any.

    Returns
    -------
    CoatingName
        With the program's coating.

    Raises
    ------
    BadInput
        It is no such name, or one of two standards that mean different things by it.

    Sources
    -------
    en-10326 (zinc, zinc-iron and zinc-aluminium, read); en-10346 (from memory)
    galvanizing-notes (read)
    vda-239-100 (from memory); jis-automotive (from memory)
    """
    key = re.sub(r"[\s\-‐-―_+]", "", text[:60]).upper()
    every = [one for one in _readings(key) if not system or one.system == system]
    if len({(one.coating, one.mass) for one in every}) == 1:
        return every[0]
    shown = repr(text if len(text) <= 40 else text[:40] + "...")
    if every:
        meant = "; ".join(f"{one.meaning} ({one.system})" for one in every)
        raise BadInput(
            "coating", f"{shown} means more than one thing: {meant}. Say by which standard"
        )
    known = sorted(set(table("coating_systems").text("code")))
    raise BadInput(
        "coating",
        f"{shown} is no coating name of this book. Names begin with {', '.join(known)}; then "
        'comes the mass, as in Z100 or GI50/50. Give it as printed, or "unknown"; nothing is '
        "guessed",
    )


def _readings(key: str) -> list[CoatingName]:
    found = []
    if match := _EN_FORM.fullmatch(key):
        found.append(_by_mass(key, EN, match))
    if match := _ELECTROLYTIC_FORM.fullmatch(key):
        found.append(_by_side(key, match))
    if match := _VDA_FORM.fullmatch(key):
        found.append(_by_side(key, match))
    if match := _JIS_FORM.fullmatch(key):
        row = _rows("coating_masses_jis", "code", match["code"])
        found += [_by_jis(key, row)] if row.cells else []
    if match := _ASTM_SIDES.fullmatch(key):
        found.append(_by_side(key, match))
    if match := _ASTM_BOTH.fullmatch(key):
        found.append(_by_ounces(key, match))
    return found


def _rows(name: str, header: str, value: str) -> Table:
    return table(name).where(header, value)


def _system(code: str, *systems: str) -> Table:
    listed = _rows("coating_systems", "code", code)
    for system in systems:
        found = listed.where("system", system)
        if found.cells:
            return found
    raise AssertionError(code)  # every code of the forms above is listed


def _by_mass(key: str, system: str, match: re.Match[str]) -> CoatingName:
    row = _system(match["code"], system)
    total = float(match["mass"]) * G_PER_M2 if match["mass"] else math.nan
    mass = (total / 2.0, total / 2.0)
    thickness, within = _thickness(row, mass)
    listed = _rows("coating_masses", "designation", f"{match['code']}{match['mass']}")
    if listed.cells:
        middle, low, high = (
            float(listed.column(f"{h} [um]")[0]) * UM
            for h in ("thickness", "thickness_low", "thickness_high")
        )
        thickness, within = (middle, middle), (low, high)
    return _named(key, row, mass, thickness, within, match.groupdict())


def _by_ounces(key: str, match: re.Match[str]) -> CoatingName:
    row = _system(match["code"], ASTM)
    total = float(match["ounces"]) / 100.0 * OUNCE * G_PER_M2
    mass = (total / 2.0, total / 2.0)
    thickness, within = _thickness(row, mass)
    return _named(key, row, mass, thickness, within, match.groupdict())


def _by_side(key: str, match: re.Match[str]) -> CoatingName:
    row = _system(match["code"], VDA, EN_ELECTROLYTIC, "EN 10271", ASTM)
    figures = tuple(float(match[side]) if match[side] else math.nan for side in ("a", "b"))
    density = float(row.column("density [g/cm3]")[0]) * 1e3
    if row.text("figure_is")[0] == "thickness":
        thickness = (figures[0] / 10.0 * UM, figures[1] / 10.0 * UM)
        mass = (thickness[0] * density, thickness[1] * density)
        within = (LOW * min(thickness), HIGH * max(thickness))
    else:
        mass = (figures[0] * G_PER_M2, figures[1] * G_PER_M2)
        thickness, within = _thickness(row, mass)
    return _named(key, row, mass, thickness, within, match.groupdict())


def _by_jis(key: str, listed: Table) -> CoatingName:
    coating = listed.text("coating")[0]
    row = _system({"GI": "Z", "GA": "ZF", "EG": "ZE"}[coating], EN, EN_ELECTROLYTIC)
    total = float(listed.column("mass [g/m2]")[0]) * G_PER_M2
    mass = (total / 2.0, total / 2.0)
    thickness, within = _thickness(row, mass)
    return CoatingName(
        text=key,
        system=listed.text("standard")[0],
        coating=Coating(coating),
        meaning=row.text("meaning")[0].partition(";")[0],
        mass=mass,
        thickness=thickness,
        thickness_range=within,
        surface=(),
        source="jis-automotive",
        status=Status.MEMORY,
    )


def _thickness(
    row: Table, mass: tuple[float, float]
) -> tuple[tuple[float, float], tuple[float, float]]:
    density = float(row.column("density [g/cm3]")[0]) * 1e3
    thickness = (mass[0] / density, mass[1] / density)
    return thickness, (LOW * min(thickness), HIGH * max(thickness))


def _named(
    key: str,
    row: Table,
    mass: tuple[float, float],
    thickness: tuple[float, float],
    within: tuple[float, float],
    groups: dict[str, str | None],
) -> CoatingName:
    surface = [
        words[str(groups[name])]
        for name, words in (("finish", FINISH), ("quality", QUALITY), ("treatment", TREATMENT))
        if groups.get(name) and str(groups[name]) in words
    ]
    return CoatingName(
        text=key,
        system=row.text("system")[0],
        coating=Coating(row.text("coating")[0]),
        meaning=row.text("meaning")[0].partition(";")[0],
        mass=mass,
        thickness=thickness,
        thickness_range=within,
        surface=tuple(surface),
        source=row.text("source")[0],
        status=row.row_status()[0],
    )
