"""How welds change from one tip dress to the next: chart, wear, dress interval, drift, re-check.

Charted is not the diameter but how far each coupon lies from what was expected of it, in standard
deviations: so all joints share one chart. It begins anew at each dress. The defaults are our own,
common practice, no source, but for the chart's numbers, see docs/validation/learning.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from buttonhole.coupon.control_chart import EwmaChart, ewma
from buttonhole.learning.evidence import LearningCoupon
from buttonhole.learning.foresight import rank_of
from buttonhole.learning.posterior import Posterior
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Z90, Estimate

FACTOR, LIMIT = 0.3, 2.7  # -, of the chart
DEFAULT_COATED, DEFAULT_BARE = 50, 150  # welds between dresses until wear is known
KNOWN_FROM = 30  # coupons from which the wear rate of the machine is used
RATE, RATE_DOUBT = 1.0e-6, 1.5e-6  # m per weld, before any coupon; judged, no source
SMALLEST_DRIFT = 2.0  # -, standard uncertainties of a difference that count as drift
LAST_SHARE = 0.25  # -, of the welds since the start coupon that are looked at after a drift
RECHECK_FROM = 10  # coupons that agree, from which one is enough for a daily re-check
LEAST_INTERVAL = 5  # welds


@dataclass(frozen=True, slots=True)
class WearReading:
    """One coupon in the life of the tips: which ``dress``, how many ``welds`` since, and how far it
    lies from what was expected, ``residual`` [-]; ``diameter`` [m] as read.
    """

    dress: int
    welds: int
    residual: float  # -
    diameter: float  # m


def residual(before: Posterior, coupon: LearningCoupon) -> float:
    """How far a coupon lies from what was expected of it before it was torn.

    Parameters
    ----------
    before : Posterior
        What was believed then.
    coupon : LearningCoupon
        The next one.

    Returns
    -------
    float
        In standard deviations [-]; of several interfaces the smallest.

    Raises
    ------
    BadInput
        Nothing was measured.
    """
    ranks = rank_of(before, coupon)
    if not ranks:
        raise BadInput("coupon", f"{coupon.key} has no measured button; it can't be charted")
    return NormalDist().inv_cdf(min(max(min(ranks), 1e-4), 1.0 - 1e-4))


@dataclass(frozen=True, slots=True)
class WearChart:
    """The chart since the last dress. ``signal``: the weighted mean fell below its limit."""

    chart: EwmaChart
    dress: int
    signal: bool
    words: str


def wear_chart(readings: Sequence[WearReading]) -> WearChart:
    """Chart the coupons since the last dress.

    Parameters
    ----------
    readings : sequence of WearReading
        In the order welded.

    Returns
    -------
    WearChart
        Of the last dress alone.

    Raises
    ------
    BadInput
        No reading, or dresses out of order.
    """
    if not readings:
        raise BadInput("readings", "are missing; chart at least one coupon")
    dresses = [one.dress for one in readings]
    if dresses != sorted(dresses):
        raise BadInput("readings", "are out of order; give them as they were welded")
    own = [one.residual for one in readings if one.dress == dresses[-1]]
    chart = ewma(own, factor=FACTOR, limit=LIMIT)
    signal = bool(chart.values[-1] < chart.lower[-1])
    words = (
        "Welds get smaller than expected: dress the tips, then weld a coupon."
        if signal
        else "The chart is quiet."
    )
    return WearChart(chart, dresses[-1], signal, words)


def wear_rate(readings: Sequence[WearReading], scatter: float) -> Estimate:
    """How much smaller welds get with each weld since a dress.

    Parameters
    ----------
    readings : sequence of WearReading
        Of any number of dresses; each dress has its own start.
    scatter : float
        Of one reading [m].

    Returns
    -------
    Estimate
        [m] per weld, between 5 % and 95 %.

    Raises
    ------
    BadInput
        No scatter.
    """
    if not scatter > 0.0:
        raise BadInput("scatter", f"is {scatter:g} m; give a standard deviation above zero")
    precision, pull = 1.0 / RATE_DOUBT**2, RATE / RATE_DOUBT**2
    for dress in {one.dress for one in readings}:
        own = [one for one in readings if one.dress == dress]
        middle = math.fsum(one.welds for one in own) / len(own)
        size = math.fsum(one.diameter for one in own) / len(own)
        for one in own:
            aside = one.welds - middle
            precision += aside**2 / scatter**2
            pull -= aside * (one.diameter - size) / scatter**2
    value, sd = pull / precision, 1.0 / math.sqrt(precision)
    return Estimate(value, value - Z90 * sd, value + Z90 * sd)


@dataclass(frozen=True, slots=True)
class DressInterval:
    """After how many ``welds`` the tips are to be dressed; ``learned`` or the default."""

    welds: int
    learned: bool
    words: str


def dress_interval(
    readings: Sequence[WearReading],
    new: float,
    least: float,
    scatter: float,
    *,
    coated: bool,
) -> DressInterval:
    """After how many welds to dress.

    Parameters
    ----------
    readings : sequence of WearReading
        All of the machine on such sheets.
    new : float
        Mean diameter on fresh tips [m].
    least : float
        Smallest diameter that is good [m].
    scatter : float
        Of one weld [m].
    coated : bool
        The sheets are coated.

    Returns
    -------
    DressInterval
        What is left of the diameter, two scatters kept, over the upper end of the wear.

    Raises
    ------
    BadInput
        As ``wear_rate``.
    """
    rate = wear_rate(readings, scatter)
    default = DEFAULT_COATED if coated else DEFAULT_BARE
    room = new - least - 2.0 * scatter
    if room <= 0.0:
        return DressInterval(
            LEAST_INTERVAL,
            True,
            "Even on fresh tips two scatters do not fit over the limit: move the set-up.",
        )
    worst = max(rate.high, 1e-9)
    by_wear = max(LEAST_INTERVAL, min(math.floor(room / worst), 10 * default))
    if len(readings) < KNOWN_FROM:
        welds = min(default, by_wear)
        return DressInterval(
            welds,
            False,
            f"Dress after {welds} welds: the usual figure until {KNOWN_FROM} coupons show the "
            f"wear ({len(readings)} so far).",
        )
    return DressInterval(
        by_wear,
        True,
        f"Dress after {by_wear} welds: they get up to {worst * 1e5:.2f} mm smaller in 100 welds, "
        f"and {room * 1e3:.1f} mm are left.",
    )


@dataclass(frozen=True, slots=True)
class Drift:
    """What start and end coupon of some work say together.

    ``accepted``: the end coupon is good, so what lies between counts as good. ``drifts``: it is
    smaller by more than readings differ. ``fall`` [m]. ``interval``: welds between dresses from now
    on. ``look_at``: welds for the wedge, first and last.
    """

    accepted: bool
    drifts: bool
    fall: float  # m
    interval: int
    look_at: tuple[int, int] | None
    words: str


def drift(
    start: float,
    end: float,
    least: float,
    *,
    uncertainty: float,
    welds: int,
    interval: int,
) -> Drift:
    """Compare the start and the end coupon of some work.

    Parameters
    ----------
    start, end : float
        Mean diameters [m].
    least : float
        Smallest that is good [m].
    uncertainty : float
        Standard uncertainty of one reading [m].
    welds : int
        Made between the two coupons.
    interval : int
        Welds between dresses so far.

    Returns
    -------
    Drift
        With a shorter interval and a list for the wedge when it drifts.

    Raises
    ------
    BadInput
        No weld between them.
    """
    if welds < 1:
        raise BadInput("welds", f"is {welds}; count the welds between the coupons")
    fall = start - end
    drifts = fall > SMALLEST_DRIFT * math.sqrt(2.0) * uncertainty
    if end < least:
        shorter = max(LEAST_INTERVAL, min(interval, welds) // 2)
        words = (
            f"The end coupon is under the limit ({end * 1e3:.2f} mm, {least * 1e3:.2f} mm asked): "
            f"the {welds} welds since the start coupon are not shown to be good. Check them all."
        )
        return Drift(False, drifts, fall, shorter, (1, welds), words)
    if not drifts:
        return Drift(True, False, fall, interval, None, "Start and end coupon agree.")
    guarded = least + Z90 * uncertainty
    return _drifting(fall, max((start - guarded) / (fall / welds), 1.0), welds, interval)


def _drifting(fall: float, lasts: float, welds: int, interval: int) -> Drift:
    """What to do about a drift at which welds reach the guard line after ``lasts`` of them."""
    part = math.floor(0.8 * min(lasts, welds))
    shorter = max(LEAST_INTERVAL, min(part, interval - 1))
    first = welds - math.floor(LAST_SHARE * welds)
    look_at = (max(1, min(first, math.floor(lasts) + 1)), welds)
    words = (
        f"Accepted, but it drifts: the end coupon is {fall * 1e3:.1f} mm smaller after {welds} "
        f"welds. Dress after {shorter} welds from now on, and put the wedge to welds {look_at[0]} "
        f"to {look_at[1]}."
    )
    return Drift(True, True, fall, shorter, look_at, words)


def one_coupon_is_enough(chart: WearChart, agreeing: int) -> bool:
    """Whether a daily re-check may rest on a single coupon.

    Parameters
    ----------
    chart : WearChart
        Of the machine.
    agreeing : int
        Earlier coupons that lay within what was expected.

    Returns
    -------
    bool
        With a quiet chart and enough of them.
    """
    return not chart.signal and agreeing >= RECHECK_FROM
