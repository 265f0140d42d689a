"""A training day: what a piece shows by two figures and a fault, and who is ready for the test.

The rule of readiness (eight of the last ten pass, and the mean lies surely above the limit) is a
proposal of ours, common practice without a source; the trainer may set other numbers.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.units import BadInput

LARGEST = 60e-3  # m; no weld of a training piece is wider
SURE = 0.90  # -, confidence of a lower bound; common practice, no source


class WeldType(StrEnum):
    """What is welded in training; the value is the word in records."""

    SPOT = "spot"
    PLUG = "plug"
    LAP = "lap"
    BUTT = "butt"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "spot": "Spot",
            "plug": "Plug",
            "lap": "Lap seam",
            "butt": "Butt on backing",
        }[self.value]

    @property
    def is_round(self) -> bool:
        """Whether two diameters are measured; else a width and a length that is not fused."""
        return self in (WeldType.SPOT, WeldType.PLUG)

    @property
    def asks(self) -> tuple[str, str]:
        """What the two figures are."""
        if self.is_round:
            return "Largest diameter", "Smallest diameter"
        return "Least fused width", "Length not fused"


class Fault(StrEnum):
    """What is seen on a piece: one figure on the keypad each, 0 for none."""

    NONE = "0"
    NOT_FUSED = "1"
    SMALL = "2"
    ASIDE = "3"
    BURNT = "4"
    PORES = "5"
    UNDERCUT = "6"
    COLD = "7"
    CRACK = "8"
    OTHER = "9"

    @property
    def words(self) -> str:
        """In plain words."""
        return _FAULTS[self][0]

    @property
    def fails(self) -> bool:
        """Whether the piece fails by it alone, whatever its size."""
        return self in (Fault.NOT_FUSED, Fault.BURNT, Fault.CRACK)

    def cue(self, weld: WeldType) -> str:
        """Say what to try next. Common practice, no source."""
        return _FAULTS[self][1 if weld is WeldType.SPOT else 2]


_FAULTS = {
    Fault.NONE: ("none", "", ""),
    Fault.NOT_FUSED: (
        "not fused, stuck",
        "Dress the tip, look at force, lead and outlet; then a longer time.",
        "Start on the sheet below, torch upright, 8 to 12 mm stick-out; do not ride on the rim.",
    ),
    Fault.SMALL: (
        "too small",
        "Dress the tip first; then current or time, one at a time.",
        "Hold longer before moving on; shorten the stick-out; look at the wire feed.",
    ),
    Fault.ASIDE: (
        "beside the middle, one-sided",
        "Hold the gun square to the flange; tips in line.",
        "Aim at the middle of the hole or the root; hold the torch as the sheet shows.",
    ),
    Fault.BURNT: (
        "burnt through, splashed",
        "Close the gap, full force before the current; only then less current.",
        "Close the gap; shorter arc or faster travel; copper behind.",
    ),
    Fault.PORES: (
        "pores",
        "Clean faces; longer hold.",
        "Gas flow, draught, zinc and primer off where the arc burns.",
    ),
    Fault.UNDERCUT: (
        "undercut, deep print",
        "Less time or a wider face; force as the card says.",
        "Slower at the toes; less voltage; torch at the right angle.",
    ),
    Fault.COLD: (
        "cold, tall, lapped over",
        "Look at the current the gun shows; lead and outlet.",
        "More power or slower; stick-out shorter; start at the root.",
    ),
    Fault.CRACK: (
        "crack",
        "Longer hold; ask which steel it is.",
        "Fill the crater; ask which steel or alloy it is.",
    ),
    Fault.OTHER: ("something else", "Ask the trainer.", "Ask the trainer."),
}


@dataclass(frozen=True, slots=True)
class Piece:
    """One torn piece: two figures and a fault. What they are follows from its weld type."""

    first: float  # m
    second: float  # m
    fault: Fault = Fault.NONE


@dataclass(frozen=True, slots=True)
class PieceResult:
    """What a piece shows: the size that counts [m], its limit [m], whether it passes, and why."""

    size: float
    limit: float
    passed: bool
    reason: str

    @property
    def margin(self) -> float:
        """Distance to the limit [m]; below 0 it is missed."""
        return self.size - self.limit


@dataclass(frozen=True, slots=True)
class ReadyRule:
    """When somebody is ready: at least `share` [-] of the last `pieces` pass."""

    pieces: int = 10
    share: float = 0.8

    def __post_init__(self) -> None:
        """Refuse a rule that nobody or everybody meets."""
        if not 2 <= self.pieces <= 50:
            raise BadInput("pieces", f"is {self.pieces}; count over 2 to 50 pieces")
        if not 0.5 <= self.share <= 1.0:
            raise BadInput("share", f"is {self.share:g}; half of them to all must pass")


@dataclass(frozen=True, slots=True)
class Readiness:
    """Whether somebody is ready: ``state`` is ready, not yet or too few; with the figures."""

    state: str
    counted: int
    passed: int
    mean_margin: float | None  # m
    sure_margin: float | None  # m, the mean is surely above the limit by this
    reason: str


def usual_limit(weld: WeldType, thinner: float, hole: float) -> float:
    """
    Give the least size a training piece is to reach, where the trainer sets none.

    Parameters
    ----------
    weld : WeldType
        What is welded.
    thinner : float
        Thinner sheet [m].
    hole : float
        Hole of a plug [m].

    Returns
    -------
    float
        Least size [m]: 4.5 times the root of the thinner sheet (in mm) for a spot, 5/8 of the hole
        for a plug, the thinner sheet for a seam.

    Sources
    -------
    - trade-weld-test: plug.
    - common-practice: spot and seam.
    """
    if weld is WeldType.SPOT:
        return 4.5 * math.sqrt(thinner * 1e3) * 1e-3
    return 0.625 * hole if weld is WeldType.PLUG else thinner


def judge_piece(weld: WeldType, piece: Piece, limit: float) -> PieceResult:
    """
    Say what a piece shows.

    Parameters
    ----------
    weld : WeldType
        What was welded.
    piece : Piece
        As measured.
    limit : float
        Least size [m].

    Returns
    -------
    PieceResult
        With the reason in a few words.

    Raises
    ------
    BadInput
        When a figure is none, or the smallest diameter is above the largest.
    """
    names = weld.asks
    for key, name, value in (("first", names[0], piece.first), ("second", names[1], piece.second)):
        if not 0.0 <= value <= LARGEST:  # also catches NaN
            raise BadInput(key, f"{name} is {value * 1e3:g} mm; give 0 to {LARGEST * 1e3:g} mm")
    if weld.is_round and piece.second > piece.first:
        raise BadInput("second", "is above the first; the largest diameter comes first")
    size = 0.5 * (piece.first + piece.second) if weld.is_round else piece.first
    said = []
    if piece.fault.fails:
        said.append(piece.fault.words)
    if size < limit * (1 - 1e-9):
        said.append(f"{size * 1e3:.1f} mm, at least {limit * 1e3:.1f} mm")
    if not weld.is_round and piece.second > 0.0:
        said.append(f"{piece.second * 1e3:.0f} mm not fused")
    return PieceResult(size, limit, not said, "; ".join(said))


def readiness(results: Sequence[PieceResult], rule: ReadyRule) -> Readiness:
    """
    Say whether somebody is ready for the test, by the last pieces of one weld type.

    Parameters
    ----------
    results : sequence of PieceResult
        In the order they were welded.
    rule : ReadyRule
        How many are counted, how many must pass.

    Returns
    -------
    Readiness
        With what stands against it.
    """
    last = list(results)[-rule.pieces :]
    passed = sum(one.passed for one in last)
    if not last:
        return Readiness("too few", 0, 0, None, None, f"0 of {rule.pieces} pieces")
    margins = [one.margin for one in last]
    mean = math.fsum(margins) / len(margins)
    sure = _sure(margins, mean)
    if len(last) < rule.pieces:
        reason = f"{len(last)} of {rule.pieces} pieces"
        return Readiness("too few", len(last), passed, mean, sure, reason)
    need = math.ceil(round(rule.share * len(last), 9))
    if passed < need:
        reason = f"{passed} of {len(last)} passed, {need} are wanted"
        return Readiness("not yet", len(last), passed, mean, sure, reason)
    if sure is None or sure <= 0.0:
        reason = "they pass, but scatter so much that the next may not"
        return Readiness("not yet", len(last), passed, mean, sure, reason)
    return Readiness("ready", len(last), passed, mean, sure, f"{passed} of {len(last)} passed")


def _sure(margins: Sequence[float], mean: float) -> float | None:
    """Lower 90 % bound of the mean, one-sided, by Student's t; None of one piece."""
    count = len(margins)
    if count < 2:
        return None
    from scipy.special import stdtrit  # slow to import, and most pages need none

    spread = math.sqrt(math.fsum((one - mean) ** 2 for one in margins) / (count - 1))
    return mean - float(stdtrit(count - 1, SURE)) * spread / math.sqrt(count)


def commonest(faults: Sequence[Fault]) -> tuple[tuple[Fault, int], ...]:
    """
    Count faults, the commonest first.

    Parameters
    ----------
    faults : sequence of Fault
        Of many pieces; none is not counted.

    Returns
    -------
    tuple of (Fault, int)
        Empty when there are none.
    """
    counted = Counter(one for one in faults if one is not Fault.NONE)
    return tuple(sorted(counted.items(), key=lambda one: (-one[1], one[0].value)))
