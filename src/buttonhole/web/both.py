"""Two people saved the same joint: both versions as people read them, side by side."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.desk.conflict import Conflict, Version

# Names in the record that mean nothing to people.
_UNSAID = frozenset({"job", "joint", "coupon", "proposal", "release", "page_image_hash", "own"})

_UNITS = {
    "current": (1e-3, "kA"),
    "electrode_force": (1e-3, "kN"),
    "force": (1e-3, "kN"),
    "time": (1e3, "ms"),
    "slope": (1e3, "ms"),
    "thickness": (1e3, "mm"),
    "diameter": (1e3, "mm"),
    "radius": (1e3, "mm"),
    "gap": (1e3, "mm"),
    "face_before": (1e3, "mm"),
    "face_after": (1e3, "mm"),
    "d_max": (1e3, "mm"),
    "d_min": (1e3, "mm"),
}


@dataclass(frozen=True, slots=True)
class Row:
    """One value in both versions."""

    name: str
    theirs: str
    mine: str

    @property
    def differs(self) -> bool:
        """Whether the two are not the same."""
        return self.theirs != self.mine


def rows(conflict: Conflict) -> tuple[Row, ...]:
    """Put the last saved version and mine side by side, what differs first."""
    theirs = said(conflict.theirs[-1]) if conflict.theirs else {}
    mine = said(conflict.mine[-1]) if conflict.mine else {}
    names = dict.fromkeys([*theirs, *mine])
    found = [Row(name, theirs.get(name, "–"), mine.get(name, "–")) for name in names]
    return tuple(sorted(found, key=lambda row: not row.differs))


def said(version: Version) -> dict[str, str]:
    """Say every value of a version in a line."""
    return dict(_flat(version.values, ""))


def _flat(values: Mapping[str, Any], where: str) -> Iterator[tuple[str, str]]:
    for key, value in values.items():
        if key in _UNSAID:
            continue
        name = f"{where} {key.replace('_', ' ')}".strip()
        if isinstance(value, Mapping):
            yield from _flat(value, "" if key in ("stack", "set_up") else name)
        elif isinstance(value, list):
            yield from _listed(value, name)
        else:
            yield name, _words(key, value)


def _listed(values: list[Any], name: str) -> Iterator[tuple[str, str]]:
    one_of = name.removesuffix("s")
    for number, value in enumerate(values, start=1):
        if isinstance(value, Mapping):
            yield from _flat(value, f"{one_of} {number}")
        else:
            yield f"{one_of} {number}", _words(name, value)


def _words(key: str, value: object) -> str:
    if value is None or value == "":
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        for ending, (factor, unit) in _UNITS.items():
            if key.endswith(ending):
                return f"{value * factor:.6g} {unit}"
        return f"{value:.6g}"
    return str(value)
