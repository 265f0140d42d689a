"""What the trade looks for in a spot weld, and what of it the model explains.

Each cue is a pair of welds that differ in one thing; every size is computed when it is asked for.
What the trade says is common practice, no source.
"""

from collections.abc import Callable, Mapping
from typing import Any

from buttonhole.desk.arc_cues import Answer, Case, Cue, Explained, Reading, Watched

_SHEET = {"steel": "DC04", "thickness": "1.0 mm", "coating": "GI"}
_SET_UP = {
    "welding_current": "11.6 kA", "current_type": "MFDC", "electrode_force": "2.8 kN",
    "electrode_face": "6 mm", "squeeze_time": "300 ms", "weld_time": "260 ms",
    "hold_time": "200 ms",
}  # fmt: skip
_UNREGULATED = {"mains_voltage": "400 V", "current_control": "unregulated"}


def _spot(gap: str = "", condition: Mapping[str, str] | None = None, **changes: str) -> Any:
    """Two zinc-coated sheets of 1 mm, and what is otherwise than in the right weld."""
    keys: dict[str, Any] = {
        "process": "spot",
        "sheet": [_SHEET, _SHEET],
        "set_up": {**_SET_UP, **changes},
    }
    if condition:
        keys["condition"] = dict(condition)
    return {**keys, "gap": gap} if gap else keys


def _lead(words: str, **lead: str) -> Case:
    return Case(words, _spot(condition={**_UNREGULATED, **lead}))


_RIGHT = Case("as set: 11.6 kA, 2.8 kN, 260 ms, 6 mm face", _spot())

SPOT_CUES = (
    Cue(
        "tip",
        "Tip worn",
        "A tip that has grown wide makes a smaller weld at the same current, and a flat print.",
        Explained.YES,
        "The same current through a wider face heats each square millimetre less. How fast a face "
        "grows is counted by welds and coatings; a mushroomed or pitted face is not computed.",
        (
            _RIGHT,
            Case("faces 0.5 mm wider", _spot(condition={"wear": "0.5 mm"})),
            Case("faces 1 mm wider", _spot(condition={"wear": "1 mm"})),
            Case("faces 2 mm wider", _spot(condition={"wear": "2 mm"})),
        ),
        2,
        (Watched("nugget", "less"), Watched("dent", "less"), Watched("haz", "")),
        "spot",
    ),
    Cue(
        "time",
        "Weld time",
        "Too short a time leaves a stuck weld; a longer one makes it larger, and then only hotter.",
        Explained.YES,
        "The nugget grows while current flows and slows down as heat leaves into the caps.",
        (
            _RIGHT,
            Case("100 ms", _spot(weld_time="100 ms")),
            Case("160 ms", _spot(weld_time="160 ms")),
            Case("400 ms", _spot(weld_time="400 ms")),
        ),
        2,
        (
            Watched("nugget", "less"),
            Watched("dent", "less"),
            Watched("haz", "less"),
            Watched("heat", "less"),
        ),
        "spot",
    ),
    Cue(
        "force",
        "Electrode force",
        "Too little force splashes; too much makes the weld smaller and the print deeper.",
        Explained.PARTLY,
        "Computed: a harder press gives a better contact and less heat, and holds the melt in. "
        "Whether it splashes is a chance from two pressures, no more.",
        (
            _RIGHT,
            Case("1.2 kN", _spot(electrode_force="1.2 kN")),
            Case("2.0 kN", _spot(electrode_force="2.0 kN")),
            Case("4.0 kN", _spot(electrode_force="4.0 kN")),
        ),
        1,
        (
            Watched("splash", "more"),
            Watched("dent", "less"),
            Watched("nugget", ""),
            Watched("heat", ""),
        ),
        "spot",
    ),
    Cue(
        "supply",
        "Lead and supply",
        "A long thin lead makes a smaller weld: the same dial, another outlet, another weld.",
        Explained.YES,
        "The voltage lost in the lead is missing at the gun. A gun that regulates its current "
        "makes up for it until it can give no more; one that does not is shown here.",
        (
            _lead("no lead, dial as before"),
            _lead("10 m of 6 mm²", lead_length="10 m", lead_area="6 mm2"),
            _lead("25 m of 2.5 mm²", lead_length="25 m", lead_area="2.5 mm2"),
            _lead("50 m of 1.5 mm²", lead_length="50 m", lead_area="1.5 mm2"),
        ),
        2,
        (Watched("nugget", "less"), Watched("heat", "less"), Watched("haz", "less")),
        "spot",
    ),
    Cue(
        "spot-gap",
        "Gap under the gun",
        "A gap splashes and makes a small weld: the gun is not a clamp.",
        Explained.PARTLY,
        "Computed: the force that closing the gap takes away from the weld. Less force alone makes "
        "the weld larger and splash likelier; that the contact is ragged, that the sheets spring "
        "back and that the melt is pulled apart is not computed. So a larger figure here is no "
        "leave to weld over a gap.",
        (
            _RIGHT,
            Case("gap 0.5 mm", _spot("0.5 mm")),
            Case("gap 1 mm", _spot("1 mm")),
            Case("gap 1.5 mm", _spot("1.5 mm")),
        ),
        3,
        (Watched("nugget", "less"), Watched("splash", "more"), Watched("dent", "")),
        "spot",
    ),
    Cue(
        "shunt",
        "Spot beside a spot",
        "Part of the current goes through the last spot: close together the next one is smaller.",
        Explained.YES,
        "The share that goes aside follows from the distance, the last weld and the sheets.",
        (
            _RIGHT,
            Case("20 mm from the last", _spot(condition={"shunt_distance": "20 mm"})),
            Case("12 mm from the last", _spot(condition={"shunt_distance": "12 mm"})),
            Case("8 mm from the last", _spot(condition={"shunt_distance": "8 mm"})),
        ),
        2,
        (Watched("nugget", "less"), Watched("heat", "less"), Watched("dent", "")),
        "spot",
    ),
    Cue(
        "square",
        "Gun square to the flange",
        "A gun tilted by more than a few degrees leaves an oval, one-sided print and splashes.",
        Explained.PARTLY,
        "Computed: the smaller face that bears, and the deeper print under it. The model is round: "
        "an oval and a weld beside the middle are not computed.",
        (
            _RIGHT,
            Case("tilted by 3°", _spot(condition={"tilt": "3 deg"})),
            Case("tilted by 6°", _spot(condition={"tilt": "6 deg"})),
        ),
        2,
        (Watched("dent", "more"), Watched("splash", "more"), Watched("nugget", "")),
        "spot",
    ),
    Cue(
        "squeeze-and-hold",
        "Squeeze before, hold after",
        "Current before the force is full splashes; a gun opened at once leaves pores and cracks.",
        Explained.NO,
        "The force is full from the first moment in the model, and pores and cracks are not "
        "computed.",
        process="spot",
    ),
)


def _mm(key: str, interval: str) -> Callable[[Answer], Reading]:
    def read(answer: Answer) -> Reading:
        low, high = answer[f"{interval}_interval_mm"]
        return float(answer[f"{key}_mm"]), float(low), float(high)

    return read


def _nugget(answer: Answer) -> Reading:
    return _mm("nugget_diameter", "nugget")(answer["interfaces"][0])


def _splash(answer: Answer) -> Reading:
    low, high = answer["expulsion_interval"]
    return 100.0 * float(answer["expulsion_probability"]), 100.0 * float(low), 100.0 * float(high)


def _heat(answer: Answer) -> Reading:
    low, high = answer["heat_interval_J"]
    return float(answer["heat_J"]), float(low), float(high)


# Name, unit and where it stands in an answer.
SPOT_FIGURES: Mapping[str, tuple[str, str, Callable[[Answer], Reading]]] = {
    "nugget": ("nugget", "mm", _nugget),
    "dent": ("depth of the print", "mm", _mm("indentation", "indentation")),
    "haz": ("heat zone", "mm", _mm("haz_diameter", "haz")),
    "splash": ("chance of splash", "%", _splash),
    "heat": ("heat", "J", _heat),
}
