"""What the trade looks for in a plug or a seam, and what of it the model explains.

Each cue is a pair of welds that differ in one thing; every size is computed when it is asked for.
What the trade says is common practice, no source.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from buttonhole.desk.arc_view import Keys

Answer = Mapping[str, Any]
Reading = tuple[float, float, float]  # value, lower and upper end of the 90 % interval


class Explained(StrEnum):
    """How much of a cue the model explains."""

    YES = "explained"
    PARTLY = "partly"
    NO = "not"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "explained": "The model explains this",
            "partly": "The model explains only a part of this",
            "not": "The model does not explain this",
        }[self.value]


@dataclass(frozen=True, slots=True)
class Case:
    """One way to weld it: its words, and the keys of a weld file."""

    words: str
    keys: Keys


@dataclass(frozen=True, slots=True)
class Watched:
    """A figure of a cue: its key, and whether the trade says it is more or less in a bad weld."""

    figure: str
    bad_is: str  # more | less | same | "": the trade says nothing of it


@dataclass(frozen=True, slots=True)
class Cue:
    """One thing the trade looks for: its claim, what of it the model explains, and the welds.

    The first case is the good one, ``bad`` the place of the bad one; no cases where the model has
    nothing to show.
    """

    key: str
    name: str
    trade: str
    explained: Explained
    model: str
    cases: tuple[Case, ...] = ()
    bad: int = 0
    watched: tuple[Watched, ...] = ()
    process: str = "arc"  # arc | spot


@dataclass(frozen=True, slots=True)
class Compared:
    """A figure of two welds [unit], and whether it went the way the trade says; None: no claim."""

    name: str
    unit: str
    good: Reading
    other: Reading
    agrees: bool | None


_SET_UP = {
    "wire": "G 3Si1", "wire_diameter": "0.8 mm", "gas": "M21", "wire_feed_speed": "6.4 m/min",
    "arc_voltage": "17.5 V", "contact_tube_distance": "13 mm",
}  # fmt: skip


def _plug(top: str = "1.0 mm", gap: str = "", **changes: str) -> dict[str, Any]:
    """A plug in an 8 mm hole, through ``top`` on 1.5 mm."""
    sheets = [
        {"steel": "DC04", "thickness": top, "coating": "GI", "hole_diameter": "8 mm"},
        {"steel": "DC04", "thickness": "1.5 mm", "coating": "GI"},
    ]
    table = {**_SET_UP, "arc_time": "1.9 s", "torch_path": "spiral", **changes}
    keys: dict[str, Any] = {"process": "plug", "sheet": sheets, "set_up": table}
    return {**keys, "gap": gap} if gap else keys


def _lap(**changes: str) -> dict[str, Any]:
    """A lap of two sheets of 1 mm, 40 mm long."""
    sheet = {"steel": "DC04", "thickness": "1.0 mm", "coating": "GI"}
    table = {
        **_SET_UP, "wire_feed_speed": "5.6 m/min", "travel_speed": "10 mm/s",
        "work_angle": "45 deg", **changes,
    }  # fmt: skip
    return {
        "process": "seam", "joint": "lap", "length": "40 mm", "sheet": [sheet, sheet],
        "set_up": table,
    }  # fmt: skip


def _distances(*found: str) -> tuple[Case, ...]:
    return tuple(
        Case(f"{one} from contact tube to work", _plug(contact_tube_distance=one)) for one in found
    )


ARC_CUES = (
    Cue(
        "stick-out",
        "Stick-out",
        "A short stick-out with the torch upright penetrates and raises a mark on the back; a "
        "long one at the same wire feed loses current, and then penetration.",
        Explained.YES,
        "The heat that melts the wire stays the same; the longer wire warms itself, and the arc "
        "pays for the lost current.",
        _distances("10 mm", "13 mm", "16 mm", "20 mm", "25 mm"),
        3,
        (
            Watched("current", "less"),
            Watched("penetration", "less"),
            Watched("fused", "less"),
            Watched("back_spot", "less"),
            Watched("back_peak", ""),
        ),
    ),
    Cue(
        "gap",
        "Gap",
        "A gap burns the edge of the hole back and starves the sheet below.",
        Explained.PARTLY,
        "Computed: the metal the gap swallows, and the contact that is lost. Assumed, without "
        "a source: how much of the arc jumps to the bare edge of the hole. The edge is melted back "
        "in the model only with a long arc time; that it falls in is not computed.",
        tuple(
            Case(
                f"gap {one}" if one != "0 mm" else "no gap",
                _plug("0.8 mm", one, arc_time="1.7 s"),
            )
            for one in ("0 mm", "0.5 mm", "1 mm", "1.5 mm")
        ),
        2,
        (
            Watched("penetration", "less"),
            Watched("fused", "less"),
            Watched("burnt_hole", "more"),
            Watched("head", "less"),
            Watched("back_spot", ""),
        ),
    ),
    Cue(
        "path",
        "Path of the torch",
        "Begun in the middle and washed out to the rim, a plug fuses more than welded round the "
        "rim alone.",
        Explained.YES,
        "Where the arc stands long enough on the sheet below, it melts before the metal from the "
        "wire covers it.",
        tuple(
            Case(words, _plug(torch_path=path))
            for path, words in (
                ("spiral", "from the middle out to the rim"),
                ("rim", "along the rim only"),
                ("centre", "held in the middle"),
            )
        ),
        1,
        (
            Watched("fused", "less"),
            Watched("penetration", "less"),
            Watched("back_spot", "less"),
            Watched("zinc_ring", ""),
        ),
    ),
    Cue(
        "small-head",
        "Small head",
        "A plug with a small head tears out through the hole of the top sheet.",
        Explained.PARTLY,
        "Computed: how long the hole takes to fill and how much metal is left for a head and for "
        "the edge of the hole. Without flow and surface tension the edge of the head is good to "
        "0.7 mm at best; what it holds is a guide value, no plug was pulled for it.",
        tuple(
            Case(f"arc time {one}", _plug("0.8 mm", arc_time=one))
            for one in ("2.6 s", "2.2 s", "1.8 s", "1.5 s")
        ),
        3,
        (
            Watched("head", "less"),
            Watched("head_height", "less"),
            Watched("rim_fusion", "less"),
            Watched("cross_tension", "less"),
        ),
    ),
    Cue(
        "aim",
        "Aim into the joint",
        "A lap seam aimed into the joint at 40 to 45 degrees fuses both sheets with a tight heat "
        "zone; one pointed at 90 degrees on to one sheet does not.",
        Explained.YES,
        "Both sheets fuse only while the wire points at both. The heat zone gets wide because the "
        "arc then dwells on one sheet, not because of the angle.",
        (
            Case("45°, into the joint", _lap()),
            Case(
                "90°, 1.5 mm on to the lower sheet", _lap(work_angle="90 deg", aim_offset="1.5 mm")
            ),
            Case("90°, 3 mm on to the lower sheet", _lap(work_angle="90 deg", aim_offset="3 mm")),
            Case("90°, 3 mm on to the upper sheet", _lap(work_angle="90 deg", aim_offset="-3 mm")),
        ),
        2,
        (
            Watched("fused_upper", "less"),
            Watched("throat", "less"),
            Watched("haz_lower", "more"),
            Watched("fused_lower", ""),
        ),
    ),
    Cue(
        "angle",
        "Work angle and width of the heat zone",
        "A torch held at 90 degrees makes a wide heat zone, one held at 40 to 45 degrees a tight "
        "one.",
        Explained.PARTLY,
        "Turned about the same spot the torch leaves the band of the heat zone as it is, or a "
        "little narrower: the model gives no reason for a wider one. It gives one for a wide "
        "zone when the arc dwells on one sheet. So a wide zone does not prove a wrong angle.",
        (
            Case("45°, into the joint", _lap()),
            Case("60°, into the joint", _lap(work_angle="60 deg")),
            Case("90°, into the joint", _lap(work_angle="90 deg")),
        ),
        2,
        (
            Watched("haz_lower", "more"),
            Watched("band_lower", "more"),
            Watched("fused_lower", ""),
            Watched("fused_upper", ""),
        ),
    ),
    Cue(
        "travel-angle",
        "Travel angle: push and drag",
        "A dragged torch goes deeper, a pushed one lays a flat, wide bead.",
        Explained.NO,
        "Conduction gives no usable sign for it. A rule without a source stands in for it, at most "
        "a third of the depth.",
    ),
    Cue(
        "pores",
        "Pores from zinc",
        "Zinc boiling off in a closed joint blows pores; a small gap lets it out.",
        Explained.NO,
        "How far the zinc boils off is computed, pores are not.",
    ),
    Cue(
        "position",
        "Position, arc force, distortion",
        "Upwards and overhead the pool sags; a strong arc digs; long seams warp.",
        Explained.NO,
        "The pool does not flow in the model: positions other than flat, the force of the arc and "
        "distortion are not computed.",
    ),
)


def _figure(key: str, unit: str) -> Callable[[Answer], Reading]:
    def read(answer: Answer) -> Reading:
        low, high = answer[f"{key}_interval_{unit}"]
        return float(answer[f"{key}_{unit}"]), float(low), float(high)

    return read


def _interface(key: str, interval: str) -> Callable[[Answer], Reading]:
    def read(answer: Answer) -> Reading:
        one = answer["interfaces"][0]
        low, high = one[interval]
        return float(one[key]), float(low), float(high)

    return read


def _sheet(place: int, key: str) -> Callable[[Answer], Reading]:
    def read(answer: Answer) -> Reading:
        return _figure(key, "mm")(answer["sheets"][place])

    return read


def _cross_tension(answer: Answer) -> Reading:
    one = next(each for each in answer["strength"] if each["pull"] == "cross_tension")
    low, high = (1e-3 * each for each in one["load_interval_N"])
    return 1e-3 * float(one["load_N"]), low, high


def _percent(answer: Answer) -> Reading:
    value, low, high = _figure("rim_fusion", "share")(answer)
    return 100.0 * value, 100.0 * low, 100.0 * high


# Name, unit and where it stands in an answer.
ARC_FIGURES: Mapping[str, tuple[str, str, Callable[[Answer], Reading]]] = {
    "current": ("current", "A", _figure("welding_current", "A")),
    "fused": ("fused", "mm", _interface("fused_diameter_mm", "fused_interval_mm")),
    "penetration": (
        "depth into the sheet below", "mm", _interface("penetration_mm", "penetration_interval_mm"),
    ),
    "back_spot": ("molten through, on the back", "mm", _figure("back_spot_diameter", "mm")),
    "back_peak": ("hottest on the back", "°C", _figure("back_peak", "C")),
    "zinc_ring": ("zinc ring on the back", "mm", _figure("zinc_ring_diameter", "mm")),
    "burnt_hole": ("hole, with its edge burnt back", "mm", _figure("burnt_hole_diameter", "mm")),
    "head": ("head", "mm", _figure("head_diameter", "mm")),
    "head_height": ("head stands over", "mm", _figure("head_height", "mm")),
    "rim_fusion": ("edge of the hole fused", "%", _percent),
    "cross_tension": ("holds in cross tension", "kN", _cross_tension),
    "fused_lower": ("melted, lower sheet", "mm", _sheet(0, "penetration")),
    "fused_upper": ("melted, upper sheet from its edge", "mm", _sheet(1, "penetration")),
    "haz_lower": ("heat zone from the joint, lower sheet", "mm", _sheet(0, "haz_width")),
    "band_lower": ("band of the heat zone, lower sheet", "mm", _sheet(0, "haz_band")),
    "throat": ("throat", "mm", _figure("throat", "mm")),
}  # fmt: skip
