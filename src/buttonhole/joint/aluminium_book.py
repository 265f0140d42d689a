"""What the book says of the aluminium alloys that a vehicle body is made of; no steel is one."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from buttonhole.joint.steel import normal_form
from buttonhole.sources import Status, table


@dataclass(frozen=True, slots=True)
class AluminiumEntry:
    """An alloy in the temper that is usual in bodies.

    ``yield_range`` and ``tensile_range`` [Pa] are the standard's, infinite where it sets no limit;
    ``elongation`` [-] the smallest; ``composition_limit`` [wt%] the maxima by element; ``usual``
    [m] the thickness usual in bodies.
    """

    designation: str
    chemical: str
    temper: str
    yield_range: tuple[float, float]
    tensile_range: tuple[float, float]
    elongation: float
    composition_limit: Mapping[str, float]
    usual: tuple[float, float]
    places: tuple[str, ...]
    source: str  # key in the bibliography
    status: Status


@cache
def aluminium_book() -> Mapping[str, AluminiumEntry]:
    """Return the alloys by designation.

    Sources
    -------
    en-485-2 (from memory); en-573-3 (from memory)
    """
    listed = table("aluminium_book")
    composition = {str(row["designation"]): row for row in table("aluminium_composition").rows()}
    return MappingProxyType(
        {
            str(row["designation"]): _entry(row, composition[str(row["designation"])])
            for row in listed.rows()
        }
    )


def _entry(
    row: Mapping[str, float | str | None], composition: Mapping[str, float | str | None]
) -> AluminiumEntry:
    where = table("aluminium_book").provenance
    return AluminiumEntry(
        designation=str(row["designation"]),
        chemical=str(row["chemical"]),
        temper=str(row["temper"]),
        yield_range=_span(row, "Rp02"),
        tensile_range=_span(row, "Rm"),
        elongation=_number(row["A_min [%]"], 0.0) / 100.0,
        composition_limit={
            header.removesuffix(" [%]"): value
            for header, value in composition.items()
            if isinstance(value, float) and not header.startswith("Mg_min")
        },
        usual=(
            _number(row["usual_from [mm]"], 0.0) * 1e-3,
            _number(row["usual_to [mm]"], 0.0) * 1e-3,
        ),
        places=tuple(str(row["places"]).split("; ")),
        source=where.source,
        status=where.status,
    )


def _span(row: Mapping[str, float | str | None], name: str) -> tuple[float, float]:
    low, high = row[f"{name}_min [MPa]"], row[f"{name}_max [MPa]"]
    return 1e6 * _number(low, 0.0), 1e6 * _number(high, float("inf"))


def _number(value: float | str | None, otherwise: float) -> float:
    return value if isinstance(value, float) else otherwise


def find_aluminium(text: str) -> AluminiumEntry | None:
    """Return the alloy of exactly this designation, None for any other text.

    Parameters
    ----------
    text : str
        "EN AW-6016", "AW-6016", "AA6016", "6016", or with a temper behind it ("EN AW-6016-T4"), or
        the chemical symbols; case, spaces and hyphens do not count.

    Returns
    -------
    AluminiumEntry or None
        Of the temper that is listed; the one in the text must be that.
    """
    key = normal_form(text[:60]).removeprefix("en").removeprefix("aw").removeprefix("aa")
    for one in aluminium_book().values():
        number = re.sub(r"\D", "", one.designation)
        tempers = [normal_form(each) for each in one.temper.split("/")]
        symbols = normal_form(one.chemical)
        names = {number, symbols, symbols.replace(",", ".")}
        if key in names | {name + temper for name in names for temper in tempers}:
            return one
    return None
