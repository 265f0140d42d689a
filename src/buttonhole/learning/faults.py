"""What goes wrong with welds: causes, their signs and checks, and what physics makes of them.

Causes and signs stand in two tables. Where the surrogate has an input that a cause moves, its
effect is computed; the sizes of the moves are judged, no source. All other causes have their signs
only, by words that people chose.

Sources: common-practice.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from buttonhole.sources import table
from buttonhole.units import BadInput

MM = 1e-3  # m
# Chance that a cause shows a sign, by the word that was chosen for it; judged.
WORDS = {
    "almost always": 0.9,
    "often": 0.7,
    "sometimes": 0.4,
    "rarely": 0.1,
    "hardly ever": 0.03,
}
UNLISTED = "hardly ever"
SCATTER_KEY = "scatter"


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong. ``minutes``: what its check takes; ``weight`` [-]: how often it
    is the cause before anything was seen, one is usual.
    """

    key: str
    process: str
    words: str
    check: str
    minutes: float  # min
    correction: str
    weight: float  # -


@dataclass(frozen=True, slots=True)
class Effect:
    """What a cause of usual severity does. ``moves``: inputs of the surrogate [SI]; ``spoil`` [-]:
    added to the splash score; ``size`` [m] and ``back`` [K]: added to what is predicted; ``parts``
    [-]: added to the log-odds that it parts between the sheets; ``shown`` [m]: added to what else
    shows, by name; ``meters``: which of the moves a meter shows.
    """

    moves: Mapping[str, float] = field(default_factory=dict)
    spoil: float = 0.0  # -
    size: float = 0.0  # m
    back: float = 0.0  # K
    parts: float = 0.0  # -
    shown: Mapping[str, float] = field(default_factory=dict)  # m
    meters: tuple[str, ...] = ()

    def adds_to(self, name: str) -> float:
        """What it adds to one of the surrogate's other figures [SI]."""
        return self.back if name == "back" else self.shown.get(name, 0.0)

    @property
    def looks(self) -> tuple[object, ...]:
        """What is the same for causes that no coupon and no meter tells apart, whatever it shows.

        They move the same things to the same side; only how far is different, which a severity
        that nobody knows covers.
        """
        moved = frozenset((name, move > 0.0) for name, move in self.moves.items())
        own = (self.size < 0.0, self.back < 0.0, self.spoil > 0.0, self.parts > 0.0)
        return moved, own, self.meters


_SPOT = {
    # On a flat cap the solver makes much of a wider face, on a dome hardly anything; charts name
    # wear first, so what a pitted, alloyed face keeps from the weld is judged beside it.
    "worn_tips": Effect({"face": 0.11, "current": -0.05}, meters=("face",)),
    "low_current": Effect({"current": -0.13}, meters=("current",)),
    "shunt": Effect({"current": -0.12}),
    "short_time": Effect({"time": -0.30}, meters=("time",)),
    "high_force": Effect({"force": 0.28}, meters=("force",)),
    "low_force": Effect({"force": -0.28}, spoil=1.5, meters=("force",)),
    "gap": Effect({"gap": 0.6 * MM}, spoil=2.0, meters=("gap",)),
    "high_current": Effect({"current": 0.14}, spoil=0.5, meters=("current",)),
    "long_time": Effect({"time": 0.30}, spoil=0.3, meters=("time",)),
    "small_tip": Effect({"face": -0.12}, spoil=0.7, meters=("face",)),
    "short_squeeze": Effect({"force": -0.15}, spoil=2.0),
    "dirt_between": Effect({"current": -0.10}, spoil=1.5),
    "dirty_outside": Effect({}, spoil=1.0),
    "alloyed_tip": Effect({"face": 0.05}, spoil=0.7),
    "poor_cooling": Effect({"face": 0.06}, spoil=0.7),
    "wrong_program": Effect({"current": -0.20}, meters=("current",)),
    "adaptive_fooled": Effect({"current": -0.12}, meters=("current",)),
    "misaligned": Effect({"face": 0.04}, spoil=1.0),
    "hard_nugget": Effect({}, parts=8.0),
    "wrong_test": Effect({}, parts=8.0),
    "short_hold": Effect({}, parts=3.0),
    "void": Effect({}, parts=3.0),
    "joint_differs": Effect({"current": -0.10}),
    "iron_in_throat": Effect({"current": -0.08}, meters=("current",)),
    "transformer_hot": Effect({"current": -0.10}, meters=("current",)),
    "low_air": Effect({"force": -0.20}, spoil=1.0, meters=("force",)),
    "no_force": Effect({"force": -0.36}, spoil=5.0, meters=("force",)),
}
_PLUG = {
    "rim_arc": Effect({}, size=-2.5 * MM, back=-800.0, shown={"ring": -8.0 * MM}),
    "low_power": Effect({"feed": -0.16}, meters=("feed",)),
    "long_stickout": Effect({"distance": 0.30}, meters=("distance",)),
    "small_hole": Effect({}, size=-1.2 * MM, shown={"crown": 0.35 * MM}),
    "dirt": Effect({"efficiency": -0.05}, size=-0.4 * MM),
    "gap": Effect({"gap": 0.4 * MM}, spoil=1.0, meters=("gap",)),
    "too_long": Effect({"time": 0.30}, spoil=1.0, meters=("time",)),
    "thin_lower": Effect({"efficiency": 0.10}, spoil=2.0),
    "quick_dab": Effect({"time": -0.32}, meters=("time",)),
    "fast_wire": Effect({"voltage": -0.10}, meters=("voltage",)),
    "push_angle": Effect({}, size=-0.8 * MM),
    "thick_lower": Effect({"efficiency": -0.08}),
}
_SEAM = {
    "aim_top": Effect({"stray": -0.8 * MM}),
    "fast_travel": Effect({"speed": 0.25}, meters=("speed",)),
    "cold": Effect({"feed": -0.16}, meters=("feed",)),
    "wide_gap": Effect({"gap": 0.5 * MM}, spoil=1.0, size=-0.3 * MM, meters=("gap",)),
    "hot": Effect({"feed": 0.16}, spoil=0.5, meters=("feed",)),
    "slow_travel": Effect({"speed": -0.25}, spoil=0.5, meters=("speed",)),
    "high_voltage": Effect({"voltage": 0.10}, spoil=0.5, meters=("voltage",)),
    "fast_wire": Effect({"voltage": -0.10}, meters=("voltage",)),
    "zinc_paint": Effect({"efficiency": -0.05}, size=-0.4 * MM),
    "poor_earth": Effect({"voltage": -0.06}),
    "liner": Effect({"feed": -0.10}, meters=("feed",)),
    "worn_contact_tip": Effect({"feed": -0.06}),
}
_BRAZE = {
    "too_hot": Effect({"feed": 0.16}, spoil=1.0, meters=("feed",)),
    "too_cold": Effect({"feed": -0.16}, meters=("feed",)),
    "dirt": Effect({}, size=-1.2 * MM),
    "no_slot": Effect({"gap": -0.1 * MM}, size=-0.8 * MM),
    "one_sided": Effect({"stray": -0.8 * MM}),
    "steel_liner": Effect({"feed": -0.10}, meters=("feed",)),
}
_ALUMINIUM = {
    "long_arc": Effect({"voltage": 0.10}, spoil=1.0, meters=("voltage",)),
    "heat_sink": Effect({"efficiency": -0.10}, size=-0.5 * MM),
    "soft_wire": Effect({"feed": -0.12}, meters=("feed",)),
    "over_heat": Effect({"efficiency": 0.10}, spoil=2.0),
}
EFFECTS: Mapping[str, Mapping[str, Effect]] = {
    "spot": _SPOT,
    "plug": _PLUG,
    "seam": _SEAM,
    "braze": _BRAZE,
    "aluminium": _ALUMINIUM,
}
NO_EFFECT = Effect()


@cache
def causes(process: str) -> tuple[Cause, ...]:
    """Return the causes of one process, with plain scatter as the last.

    Parameters
    ----------
    process : str
        spot, plug, seam, braze or aluminium.

    Returns
    -------
    tuple of Cause
        As listed in the table ``failure_causes``.

    Raises
    ------
    BadInput
        Another process.
    """
    found = [
        Cause(
            str(row["cause"]),
            process,
            str(row["words"]),
            str(row["check"]),
            _number(row["check [min]"]),
            str(row["correction"]),
            _number(row["weight [-]"]),
        )
        for row in table("failure_causes").rows()
        if row["process"] == process
    ]
    if not found:
        raise BadInput("process", f"is {process!r}; give spot, plug, seam, braze or aluminium")
    by_chance = Cause(
        SCATTER_KEY,
        process,
        "nothing but scatter",
        "weld another one",
        5.0,
        "weld another one",
        0.5,
    )
    return (*found, by_chance)


def _number(cell: float | str | None) -> float:
    return float(cell or 0.0)


@dataclass(frozen=True, slots=True)
class Sign:
    """Something that is seen on a failed weld: its ``row``, the words, and for each cause how often
    it shows it [-].
    """

    row: str
    process: str
    words: str
    chances: Mapping[str, float]  # -

    def chance(self, cause: str) -> float:
        """Chance [-] that a cause shows it."""
        return self.chances.get(cause, WORDS[UNLISTED])


@cache
def signs() -> Mapping[str, Sign]:
    """Return every sign by its row, from the table ``failure_signs``."""
    found: dict[str, Sign] = {}
    for row in table("failure_signs").rows():
        key = str(row["row"])
        earlier = dict(found[key].chances) if key in found else {}
        earlier[str(row["cause"])] = WORDS[str(row["how_often"])]
        found[key] = Sign(key, str(row["process"]), str(row["sign"]), earlier)
    return found


def effect_of(cause: Cause) -> Effect | None:
    """Return what physics makes of a cause; None where only its signs are known."""
    if cause.key == SCATTER_KEY:
        return NO_EFFECT
    return EFFECTS.get(cause.process, {}).get(cause.key)
