"""A machine over time: its chart since the last dress, how long tips last, whether one coupon does.

Everything comes from coupons and dresses of the record.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from buttonhole.coupon.reading import Reading
from buttonhole.desk.decide_release import ENGINE, SEED
from buttonhole.desk.desk import Desk
from buttonhole.desk.machine_past import PastCoupon, past_of
from buttonhole.desk.view import JointView
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.learning.residuals import Residual

COMPARED = "end_coupon_compared"


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One coupon on the chart: ``score`` [-] how far from expected, ``mean`` [-] weighted,
    ``lower`` [-] the limit of the mean.
    """

    name: str
    score: float  # -
    mean: float  # -
    lower: float  # -


@dataclass(frozen=True, slots=True)
class MachineWatch:
    """What the coupons of a machine say over time.

    ``points``: since the last dress. ``agreeing``: coupons that lay within what was expected.
    ``enough``: one coupon does for a daily re-check. ``welds``: after how many to dress.
    """

    machine: str
    points: tuple[ChartPoint, ...]
    signal: bool
    words: str
    agreeing: int
    enough: bool
    welds: int | None
    learned: bool
    interval_words: str


def watch_machine(desk: Desk, machine: str, joint: JointView | None = None) -> MachineWatch:
    """
    Look at a machine over time.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    machine : str
        Its name.
    joint : JointView, optional
        Whose dress interval is asked for.

    Returns
    -------
    MachineWatch
        Quiet where nothing was torn yet.
    """
    found = _residuals(desk, machine)
    if not found:
        return MachineWatch(machine, (), False, NOTHING, 0, False, None, False, "")
    from buttonhole.learning.wear import WearReading, one_coupon_is_enough, wear_chart

    chart = wear_chart(
        [
            WearReading(torn.dress, torn.coupon.welds_since_dress or 0, one.score, 0.0)
            for torn, one in found
        ]
    )
    own = [(torn, one) for torn, one in found if torn.dress == chart.dress]
    points = tuple(
        ChartPoint(torn.name, one.score, float(mean), float(lower))
        for (torn, one), mean, lower in zip(own, chart.chart.values, chart.chart.lower, strict=True)
    )
    agreeing = sum(one.agrees for _, one in found)
    interval = None if joint is None else dress_interval_of(desk, joint)
    welds, learned, words = interval or (None, False, "")
    return MachineWatch(
        machine=machine,
        points=points,
        signal=chart.signal,
        words=chart.words,
        agreeing=agreeing,
        enough=one_coupon_is_enough(chart, agreeing),
        welds=welds,
        learned=learned,
        interval_words=words,
    )


NOTHING = "No coupon is torn yet that a model of its weld is learned with."


def _residuals(desk: Desk, machine: str) -> "list[tuple[PastCoupon, Residual]]":
    """Each coupon of a machine beside what was expected of it."""
    # The nets of the emulator are slow to load, and most steps do not need them.
    from buttonhole.desk.learned_machine import learned_machine
    from buttonhole.learning.residuals import residuals

    past = [one for one in past_of(desk, machine) if one.coupon.readings]
    if not past:
        return []
    try:
        known = learned_machine(past)
    except BadInput:  # not one of them is of a weld that can be learned
        return []
    ordered = [one for one in past if one.coupon.id in known.coupons]
    coupons = [known.coupons[one.coupon.id] for one in ordered]
    whose = {id(coupon): one for coupon, one in zip(coupons, ordered, strict=True)}
    found = residuals(known.model, coupons, seed=SEED, engine=ENGINE)
    return [(whose[id(one.coupon)], one) for one in found]


def dress_interval_of(desk: Desk, joint: JointView) -> tuple[int, bool, str] | None:
    """
    Say after how many welds the tips are to be dressed for a joint's set-up.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        With an accepted set-up.

    Returns
    -------
    tuple of int, bool, str, or None
        Welds [-], whether they were learned rather than usual, and in words; None without a coupon
        of this set-up.
    """
    from buttonhole.learning.wear import WearReading, dress_interval

    if joint.set_up is None or joint.arc is not None:
        return None
    machine, stack = joint.set_up.surroundings.machine, joint.stack
    alike = [
        one
        for one in past_of(desk, machine)
        if one.coupon.stack == stack and one.coupon.set_up == joint.set_up.set_up
    ]
    sized = [(one, *size) for one in alike if (size := _narrowest(one)) is not None]
    if not sized:
        return None
    readings = [
        WearReading(one.dress, one.coupon.welds_since_dress or 0, 0.0, size)
        for one, size, _, _ in sized
    ]
    scatter = _scatter([size for _, size, _, _ in sized], max(u for *_, u in sized))
    fresh = [size for one, size, _, _ in sized if not one.coupon.welds_since_dress]
    new = math.fsum(fresh) / len(fresh) if fresh else max(size for _, size, _, _ in sized)
    coated = any(one.coating is not Coating.BARE for one in stack.sheets)
    found = dress_interval(readings, new, sized[-1][2], scatter, coated=coated)
    shorter = shortened(desk, machine)
    if shorter is not None and shorter < found.welds:
        words = f"Dress after {shorter} welds: an end coupon showed that the welds get smaller."
        return shorter, True, words
    return found.welds, found.learned, found.words


def shortened(desk: Desk, machine: str) -> int | None:
    """
    Say to how many welds an end coupon shortened the dress interval of a machine.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    machine : str
        Its name.

    Returns
    -------
    int or None
        By the last end coupon that drifted [-]; None where none did.
    """
    told = [
        one.payload["interval"]
        for one in desk.store.events(f"machine/{machine}")
        if one.type == COMPARED and one.payload["drifts"]
    ]
    return int(told[-1]) if told else None


def _narrowest(one: PastCoupon) -> tuple[float, float, float] | None:
    """Size, limit and uncertainty [m] of a coupon at its narrowest interface."""
    sizes = [
        (each.verdict.mean_diameter, each.verdict.limit, 0.5 * each.verdict.expanded_uncertainty)
        for each in one.coupon.judged
        if isinstance(each.reading, Reading)
        and not each.reading.expulsion
        and each.verdict.mean_diameter > 0.0
    ]
    return min(sizes, key=lambda each: each[0] - each[1]) if sizes else None


USUAL_SCATTER = 0.28e-3  # m, of one weld, until coupons show it; as the belief of spots


def _scatter(sizes: list[float], uncertainty: float) -> float:
    """Of one weld and its reading [m]; the usual one while there are few."""
    if len(sizes) < 5:
        return math.hypot(USUAL_SCATTER, uncertainty)
    mean = math.fsum(sizes) / len(sizes)
    spread = math.sqrt(math.fsum((one - mean) ** 2 for one in sizes) / (len(sizes) - 1))
    return max(spread, uncertainty)
