"""Two people saved the same joint: both versions as people read them, side by side."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.conflict import Conflict, Version
from buttonhole.procedure.authority import Authority

# What means nothing to people, or follows from what is shown.
_UNSAID = frozenset(
    {
        "job",
        "joint",
        "coupon",
        "coupons",
        "number",
        "proposal",
        "release",
        "page_image_hash",
        "own",
        "body_diameter",
        "differences",
        "index",
        "reader_uncertainty",
        "instrument_uncertainty",
        "key",
        "editable",
        "quantity",
        "thickness_rule",
        "used_by",
        "source",
        "status",
        "fixed_diameter",
        "data_digest",
        "model_version",
        "rests_on",
        "current_spread",
        "force_spread",
        "condition",
        "corrects",
        "serves",
        "sha256",
        "bytes",
        "found",
        "rule_names",
        "asked",
        "scope",
        "order",
        "superseded_by",
        "effect",
        "version",
        "topic",
        "inside",
    }
)

# What a release says of itself beside what it rests on.
_OF_A_RELEASE = ("machine", "max_welds", "valid_until", "released_by")

# Parts that are said without naming the whole.
_PLAIN = frozenset(
    {
        "stack",
        "weld",
        "set_up",
        "procedure",
        "deviation",
        "rules",
        "rule",
        "circumstances",
        "surroundings",
        "details",
        "reading",
        "verdict",
    }
)

_NAMES = {
    "name": "joint",
    "location": "place",
    "gap": "gap before clamping",
    "cap_a": "electrode, side A:",
    "cap_b": "electrode, side B:",
    "cap": "electrode",
    "face_diameter": "face",
    "radius": "face radius",
    "pulse 1": "",
    "up_slope": "up-slope",
    "down_slope": "down-slope",
    "current": "welding current",
    "time": "weld time",
    "machine": "gun",
    "arm_pair": "arms",
    "lead": "extension lead",
    "welder": "who welds",
    "program_version": "program of the gun",
    "reference": "document and page",
    "revision": "revision or date printed",
    "says": "what it says",
    "authority": "whose word it is",
    "permits": "allows this weld here",
    "minimum_diameter": "least size it gives",
    "spots_factor": "new spots for each old one",
    "read_back": "the gun showed:",
    "weld_time": "weld time",
    "tip_state": "how the tip looks",
    "welds_since_dress": "welds since the tip was dressed",
    "d_max": "largest diameter",
    "d_min": "across it",
    "expulsion": "splash",
    "mode": "how it let go",
    "interface": "between",
    "face_before": "tip face before dressing",
    "face_after": "tip face after dressing",
    "max_welds": "holds for so many welds",
    "valid_until": "holds until, UTC",
    "corrects": "entry taken back",
    "criterion": "least size by",
}

_UNITS = {
    "current": (1e-3, "kA"),
    "current_min": (1e-3, "kA"),
    "current_max": (1e-3, "kA"),
    "force": (1e-3, "kN"),
    "force_min": (1e-3, "kN"),
    "force_max": (1e-3, "kN"),
    "force_uncertainty": (1e-3, "kN"),
    "time": (1e3, "ms"),
    "slope": (1e3, "ms"),
    "thickness": (1e3, "mm"),
    "diameter": (1e3, "mm"),
    "radius": (1e3, "mm"),
    "gap": (1e3, "mm"),
    "flange_width": (1e3, "mm"),
    "reach_needed": (1e3, "mm"),
    "arm_reach": (1e3, "mm"),
    "throat_depth": (1e3, "mm"),
    "face_before": (1e3, "mm"),
    "face_after": (1e3, "mm"),
    "d_max": (1e3, "mm"),
    "d_min": (1e3, "mm"),
    "indentation": (1e3, "mm"),
    "torque": (1.0, "N m"),
    "twist_angle": (1.0, "°"),
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
    """Put what was saved meanwhile and mine side by side, what differs first."""
    theirs, mine = _together(conflict.theirs), _together(conflict.mine)
    names = dict.fromkeys([*theirs, *mine])
    found = [Row(name, theirs.get(name, "–"), mine.get(name, "–")) for name in names]
    told = [row for row in found if (row.theirs, row.mine) != ("–", "–")]
    return tuple(sorted(told, key=lambda row: not row.differs))


def _together(versions: Iterable[Version]) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in versions:
        found |= said(one)
    return found


def said(version: Version) -> dict[str, str]:
    """Say every value of a version in a line, in the words of the trade."""
    return dict(_flat(version.values, ""))


def _flat(values: Mapping[str, Any], where: str) -> Iterator[tuple[str, str]]:
    for key, value in values.items():
        if key in _UNSAID:
            continue
        if key == "judged":
            yield from _judged(value)
        elif key == "details":
            yield from _flat({one: value.get(one) for one in _OF_A_RELEASE}, where)
        elif key in ("criterion", "machine") and isinstance(value, Mapping):
            yield _name(where, key), str(value.get("name"))
        elif isinstance(value, Mapping):
            yield from _flat(value, where if key in _PLAIN else _name(where, key))
        elif isinstance(value, list):
            yield from _listed(value, key, where)
        else:
            yield _name(where, key), _words(key, value)


def _name(where: str, key: str) -> str:
    return f"{where} {_NAMES.get(key, key.replace('_', ' '))}".strip()


def _listed(values: list[Any], key: str, where: str) -> Iterator[tuple[str, str]]:
    one_of = key.removesuffix("s").replace("_", " ")
    for number, value in enumerate(values, start=1):
        name = f"{where} {one_of} {number}".strip()
        if len(values) == 1:
            name = f"{where} {_NAMES.get(f'{one_of} 1', one_of)}".strip()
        if isinstance(value, Mapping):
            yield from _flat(value, name)
        else:
            yield name, _words(key, value)


def _judged(values: list[Any]) -> Iterator[tuple[str, str]]:
    for one in values:
        place = _between(one["interface"])
        yield f"{place}, verdict", Outcome(one["verdict"]["outcome"]).words
        yield f"{place}, least size by", str(one["criterion"]["name"])


def _between(index: int) -> str:
    return f"sheet {index + 1} to {index + 2}"


def _words(key: str, value: object) -> str:
    if value is None or value == "":
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if key == "authority" and isinstance(value, int):
        return Authority(value).words
    if key == "interface" and isinstance(value, int):
        return _between(value)
    if key == "mode":
        return FractureMode(str(value)).words.name
    if key == "test":
        return str(value).replace("_", " ")
    if key == "valid_until":
        return str(value)[:16].replace("T", " ")
    if isinstance(value, int | float):
        for ending, (factor, unit) in _UNITS.items():
            if key == ending or key.endswith(f"_{ending}"):
                return f"{value * factor:.6g} {unit}"
        return f"{value:.6g}"
    return str(value)
