"""Shielding gases by the groups of ISO 14175."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from buttonhole.sources import table
from buttonhole.units import BadInput

SMALLEST = 0.5  # %, what counts as a part of the mixture (ISO 14175, from memory)
SUM_TOLERANCE = 0.5  # %, rounding on a label; our own


class GasKind(StrEnum):
    """What a gas does to hot metal."""

    INERT = "inert"
    ACTIVE = "active"  # holds oxygen or carbon dioxide
    REDUCING = "reducing"  # holds hydrogen


@dataclass(frozen=True, slots=True)
class Gas:
    """A shielding gas: its ISO 14175 group; ``parts`` [%] by volume, empty where not known."""

    group: str
    kind: GasKind
    parts: Mapping[str, float]

    def __hash__(self) -> int:
        return hash((self.group, tuple(sorted(self.parts.items()))))


_GROUP = re.compile(r"(?<![A-Z0-9])(I[123]|M1[1-4]|M2[0-7]|M3[1-5]|C[12]|R[12])(?![0-9])")
_FORMULAS = ("Ar", "CO2", "O2", "He", "H2")
_FORMULA = r"AR|CO2|O2|HE|H2"
_PART = re.compile(
    rf"(?P<before>[0-9]+(?:[.,][0-9]+)?)\s*%?\s*(?P<then>{_FORMULA})(?![A-Z0-9])"
    rf"|(?<![A-Z0-9])(?P<first>{_FORMULA})\s*(?P<after>[0-9]+(?:[.,][0-9]+)?)(?![A-Z0-9.,])\s*%?"
    rf"|(?<![A-Z0-9])(?P<alone>{_FORMULA})(?![A-Z0-9])"
)
_WORDS = {"ARGON": "I1", "HELIUM": "I2", "CARBON DIOXIDE": "C1"}


def find_gas(text: str) -> Gas:
    """Return the gas of a label: its group ("M21", "ISO 14175 - M21") or its mixture.

    A mixture is read as "Ar + 18 CO2", "82 Ar / 18 CO2", "Ar80/CO2 20", "argon" or "CO2"; the gas
    without a number makes up the rest.

    Parameters
    ----------
    text : str
        As printed on the cylinder.

    Returns
    -------
    Gas
        With its group.

    Raises
    ------
    BadInput
        No group and no mixture can be read, or the parts do not make 100 %.

    Sources
    -------
    iso-14175 (limits from memory).
    """
    plain = re.sub(r"ISO\s*14175(\s*:\s*[0-9]{4})?", " ", text.upper()).strip()
    if plain in _WORDS:
        return _of_group(_WORDS[plain])
    if found := _GROUP.search(plain):
        return _of_group(found[1])
    parts = _parts(text, plain)
    if not parts:
        raise BadInput(
            "gas",
            f"{text.strip()[:40]!r} is no gas that is known; give its group by ISO 14175 as on "
            'the cylinder, such as "M21", or the mixture, such as "Ar + 18 CO2"',
        )
    return Gas(classify(parts), _kind(parts), MappingProxyType(parts))


def classify(parts: Mapping[str, float]) -> str:
    """Return the group of a mixture.

    Parameters
    ----------
    parts : mapping
        Formula ("Ar", "CO2", "O2", "He", "H2") to share by volume [%].

    Returns
    -------
    str
        Group of ISO 14175.

    Raises
    ------
    BadInput
        The mixture is in none of the groups.

    Sources
    -------
    iso-14175 (limits from memory).
    """
    share = {name: parts.get(name, 0.0) for name in _FORMULAS}
    # In an active mixture helium may stand for argon without changing the group.
    active = max(share["CO2"], share["O2"]) >= SMALLEST
    for row in table("gases_iso14175").rows():
        base = str(row["base"])
        free = {"Ar", "He"} if active and base == "Ar" else {base}
        limits = {name: _limits(row, name) for name in _FORMULAS if name not in free}
        present = sum(share[name] for name in free) > 0.0
        if present and all(_inside(share[name], limit) for name, limit in limits.items()):
            return str(row["group"])
    said = ", ".join(f"{value:g} % {name}" for name, value in parts.items())
    raise BadInput("gas", f"{said} is in no group of ISO 14175; give the group on the cylinder")


def _limits(row: Mapping[str, float | str | None], name: str) -> tuple[float, float]:
    low, high = (row.get(f"{name}_{end} [%]") for end in ("min", "max"))
    return float(low or 0.0), float(high or 0.0)


def _inside(share: float, limits: tuple[float, float]) -> bool:
    low, high = limits
    if high == 0.0:
        return share < SMALLEST
    above = share >= low if low <= SMALLEST else share > low
    return above and share <= high


def _parts(text: str, plain: str) -> dict[str, float]:
    spelled = {"AR": "Ar", "CO2": "CO2", "O2": "O2", "HE": "He", "H2": "H2"}
    parts: dict[str, float] = {}
    rest: list[str] = []
    number_first = number_last = False
    for match in _PART.finditer(plain.replace("ARGON", "AR").replace("HELIUM", "HE")):
        if match["alone"]:
            rest.append(spelled[match["alone"]])
            continue
        number_first |= bool(match["then"])
        number_last |= bool(match["first"])
        value = (match["before"] or match["after"]).replace(",", ".")
        name = spelled[match["then"] or match["first"]]
        if name in parts:
            raise BadInput("gas", f"{text.strip()[:40]!r} names {name} twice")
        parts[name] = float(value)
    if number_last and (rest or number_first):
        # "Ar 18 CO2": whose is the number?
        raise BadInput(
            "gas", f'{text.strip()[:40]!r} can be read two ways; write it like "Ar + 18 CO2"'
        )
    total = sum(parts.values())
    if len(rest) == 1 and rest[0] not in parts and total <= 100.0:
        parts[rest[0]] = 100.0 - total
    elif rest or (parts and abs(total - 100.0) > SUM_TOLERANCE):
        raise BadInput(
            "gas", f"{text.strip()[:40]!r}: the parts make {total:g} %, they must make 100 %"
        )
    return parts


def _kind(parts: Mapping[str, float]) -> GasKind:
    if max(parts.get("CO2", 0.0), parts.get("O2", 0.0)) >= SMALLEST:
        return GasKind.ACTIVE
    return GasKind.REDUCING if parts.get("H2", 0.0) >= SMALLEST else GasKind.INERT


@cache
def _of_group(group: str) -> Gas:
    (row,) = table("gases_iso14175").where("group", group).rows()
    largest = {name: float(row[f"{name}_max [%]"] or 0.0) for name in ("CO2", "O2", "H2")}
    pure = {"I1": {"Ar": 100.0}, "I2": {"He": 100.0}, "C1": {"CO2": 100.0}}
    kind = _kind(largest)
    return Gas(group, kind, MappingProxyType(pure.get(group, {})))
