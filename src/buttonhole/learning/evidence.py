"""What coupons and meters show, as the machine is learned from it.

Every coupon that was entered counts. None is taken out: a wrong entry is corrected by a later one
that says why, and both stay.

The words for how a weld let go are those of ``coupon.fracture``.

Sources: common-practice.
"""

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.uncertainty import combined
from buttonhole.units import BadInput

MOST_OFF = 0.7  # -, a machine that gives half or twice of what is set is broken, not off; our own


class Kind(StrEnum):
    """What kind of evidence; the value is the word in files and records."""

    MEASURED = "measured"  # a button or a fused area was measured
    NO_BUTTON = "no_button"  # nothing fused, or a stuck weld
    INTERFACIAL = "interfacial"  # it parted between the sheets and nobody measured
    EXPULSION = "expulsion"  # metal was thrown out: teaches the splash, not the current
    AT_LEAST = "at_least"  # the fused area took in at least so much, e.g. the hole of a plug
    CHISEL_PASSED = "chisel_passed"  # the chisel did not open it
    BACK_MARK = "back_mark"  # the hottest place of the back, by what shows there
    METER = "meter"  # a meter read what the machine gives
    SHOWN = "shown"  # what else the coupon shows, measured: dent, crown, ring; for the diagnosis


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing seen at one interface.

    ``value``: a diameter [m]; of a back mark the lower end of its temperature [degC]; of a meter
    the logarithm of true over set, or the gap or the growth of the face itself [SI]; of what else
    shows its size [m]. ``upper``: the other end of a back mark [degC]. ``uncertainty``: one
    standard deviation [SI]. ``meter``: which meter, or what is shown.
    """

    kind: Kind
    interface: int = 0
    value: float = math.nan  # SI
    upper: float = math.nan  # SI
    uncertainty: float = 0.0  # SI
    meter: str = ""

    def __post_init__(self) -> None:
        """Refuse what says nothing."""
        needs = set(Kind) - {Kind.NO_BUTTON, Kind.INTERFACIAL, Kind.EXPULSION}
        if self.kind in needs and not math.isfinite(self.value):
            raise BadInput("value", f"is missing; {self.kind.value} needs a value")
        if self.kind is Kind.BACK_MARK and not self.upper > self.value:
            raise BadInput("upper", "give the upper end of the back's temperature, over the lower")
        if self.kind is Kind.METER and not self.meter:
            raise BadInput("meter", "say which: current, force, face, feed, voltage ...")
        if self.kind is Kind.SHOWN and not self.meter:
            raise BadInput("shown", "say what: dent, crown or ring")
        if self.kind is Kind.METER and not self.uncertainty > 0.0:
            raise BadInput("uncertainty", "give the meter's standard uncertainty, above zero")
        if self.kind is Kind.METER and not abs(self.value) <= MOST_OFF:
            raise BadInput(
                "value",
                f"is {self.value:g}; a meter's value is the logarithm of true over set, within "
                f"{MOST_OFF:g} either way: look for a slip",
            )
        if not 0.0 <= self.uncertainty < math.inf:
            raise BadInput("uncertainty", "give one standard deviation, zero or more")


@dataclass(frozen=True, slots=True)
class LearningCoupon:
    """One coupon as it teaches the machine.

    ``joint``: key of the joint it was welded from. ``point``: what was set, as inputs of that
    joint's surrogate [SI]. ``current`` [A]: set, for an offset; 0 where there is none. ``series``:
    coupons of one set-up, uninterrupted. ``corrected``: why, where an entry was put right.
    """

    key: str
    joint: str
    point: tuple[float, ...]  # SI
    evidence: tuple[Evidence, ...]
    current: float = 0.0  # A
    series: str = ""
    corrected: str = ""

    @property
    def splashed(self) -> bool:
        """Metal was thrown out of it."""
        return any(each.kind is Kind.EXPULSION for each in self.evidence)


@dataclass(frozen=True, slots=True)
class Correction:
    """What a later entry says of an earlier coupon: the right evidence, and why.

    Raises
    ------
    BadInput
        No reason, or no evidence: nothing is ever taken out.
    """

    coupon: str
    evidence: tuple[Evidence, ...]
    reason: str

    def __post_init__(self) -> None:
        """Refuse a correction without a reason, or one that would delete."""
        if not self.reason.strip():
            raise BadInput("reason", "is missing; a correction says why")
        if not self.evidence:
            raise BadInput("evidence", "is empty; a coupon is corrected, never taken out")


def as_corrected(
    coupons: Sequence[LearningCoupon], corrections: Sequence[Correction]
) -> tuple[LearningCoupon, ...]:
    """Return all coupons with the last correction of each.

    Parameters
    ----------
    coupons : sequence of LearningCoupon
        In the order welded.
    corrections : sequence of Correction
        In the order entered.

    Returns
    -------
    tuple of LearningCoupon
        As many as were given, each with every reason that was said.

    Raises
    ------
    BadInput
        A correction of a coupon that is not there, or a coupon entered twice.
    """
    kept = {each.key: each for each in coupons}
    if len(kept) != len(coupons):
        raise BadInput("coupon", "the same coupon was entered twice; correct the first entry")
    for one in corrections:
        if one.coupon not in kept:
            raise BadInput("coupon", f"{one.coupon!r} was never entered; nothing to correct")
        before = kept[one.coupon]
        reasons = "; ".join(filter(None, (before.corrected, one.reason.strip())))
        kept[one.coupon] = dataclasses.replace(before, evidence=one.evidence, corrected=reasons)
    return tuple(kept.values())


def evidence_of(reading: Reading) -> tuple[Evidence, ...]:
    """Return what a torn weld teaches.

    Parameters
    ----------
    reading : Reading
        As measured.

    Returns
    -------
    tuple of Evidence
        A splashed one teaches the splash alone, whatever its diameter.
    """
    at = reading.interface
    if reading.expulsion or reading.mode is FractureMode.EXPELLED:
        return (Evidence(Kind.EXPULSION, at),)
    if reading.mode is not None and not reading.mode.fused:
        return (Evidence(Kind.NO_BUTTON, at),)
    if reading.mean_diameter <= 0.0:
        parted = reading.mode is FractureMode.INTERFACIAL
        return (Evidence(Kind.INTERFACIAL if parted else Kind.NO_BUTTON, at),)
    u = combined((reading.instrument_uncertainty, reading.reader_uncertainty))
    found = Evidence(Kind.MEASURED, at, reading.mean_diameter, uncertainty=u)
    if reading.indentation is None:
        return (found,)
    return (found, shown_evidence("dent", reading.indentation))


@dataclass(frozen=True, slots=True)
class Shown:
    """How well something that shows is predicted and read, one standard deviation each [m].

    ``off``: the prediction on one joint; ``scatter``: from weld to weld; ``read``: by the usual
    gauge.
    """

    off: float  # m
    scatter: float  # m
    read: float  # m


# Judged, no source. Dent: depth gauge; crown: metal over the sheet, spread over the hole, by its
# height; ring: what was tinted or lost its zinc on the back, by a rule.
SHOWN = {
    "dent": Shown(0.03e-3, 0.012e-3, 0.015e-3),
    "crown": Shown(0.3e-3, 0.12e-3, 0.10e-3),
    "ring": Shown(1.0e-3, 0.4e-3, 0.3e-3),
}


def shown_evidence(what: str, size: float) -> Evidence:
    """Return what a dent, a crown or a ring says.

    Parameters
    ----------
    what : str
        dent, crown or ring.
    size : float
        Depth, height or diameter [m].

    Returns
    -------
    Evidence
        Read with the usual gauge.

    Raises
    ------
    BadInput
        Another word.
    """
    if what not in SHOWN:
        raise BadInput("shown", f"is {what!r}; give one of {', '.join(SHOWN)}")
    return Evidence(Kind.SHOWN, 0, size, uncertainty=SHOWN[what].read, meter=what)


# Hottest place of the back by what shows there [degC]; from memory, as in weld/arc/plug/marks.
_BACK = {
    "none": (-200.0, 300.0),
    "faint": (300.0, 907.0),
    "clear": (907.0, 1500.0),
    "bump": (1500.0, 2200.0),
    "drip": (1530.0, 2500.0),
    "hole": (1560.0, 3000.0),
}
BACK_UNCERTAINTY = 60.0  # K, of what an eye makes of a colour; judged, no source


def back_evidence(mark: str) -> Evidence:
    """Return what the mark on the back teaches.

    Parameters
    ----------
    mark : str
        As ``BackMark``: none, faint, clear, bump, drip, hole.

    Returns
    -------
    Evidence
        Between which temperatures the back was.

    Raises
    ------
    BadInput
        An unknown word.
    """
    if mark not in _BACK:
        raise BadInput("back_mark", f"is {mark!r}; give one of {', '.join(_BACK)}")
    low, high = _BACK[mark]
    return Evidence(Kind.BACK_MARK, 0, low, high, BACK_UNCERTAINTY)
