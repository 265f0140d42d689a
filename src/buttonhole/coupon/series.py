"""What several coupons of one set-up mean together.

Every coupon of the set-up counts, in the order welded, none is left out; a changed set-up begins
a new series. The numbers of coupons are our own defaults, common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.coupon.statistics import Counting, counting_alone
from buttonhole.coupon.verdict import Outcome, Verdict
from buttonhole.units import BadInput

STOP_AT = 5


@dataclass(frozen=True, slots=True)
class SeriesVerdict:
    """Outcome of a series for one interface, with what counting alone shows."""

    outcome: Outcome
    passed: int
    n: int
    counting: Counting | None
    smallest_margin: float | None  # m
    reasons: tuple[str, ...]
    next_action: str


def judge_series(verdicts: Sequence[Verdict], *, at_least: int = 1) -> SeriesVerdict:
    """Judge the coupons of one set-up at one interface together.

    Parameters
    ----------
    verdicts : sequence of Verdict
        All of them in the order welded; those that say nothing do not count.
    at_least : int
        How many must be accepted.

    Returns
    -------
    SeriesVerdict
        Rejected as soon as one is; undecided while too few are accepted or the last is undecided.

    Raises
    ------
    BadInput
        Verdicts of different interfaces, or ``at_least`` under one.
    """
    if len({v.interface for v in verdicts}) > 1:
        raise BadInput("verdicts", "are of different interfaces; judge one interface at a time")
    if at_least < 1:
        raise BadInput("at_least", f"is {at_least}; at least one coupon must be torn")
    counted = [v for v in verdicts if v.outcome is not Outcome.INVALID]
    if not counted:
        return SeriesVerdict(
            Outcome.INVALID, 0, 0, None, None, ("No coupon counts yet.",), "Weld a coupon."
        )
    passed, n = sum(v.outcome.accepted for v in counted), len(counted)
    counting = counting_alone(passed, n)
    outcome, action = _outcome(counted, passed, at_least)
    reasons = [counting.text]
    if outcome is Outcome.REJECT:
        reasons.append("One coupon of this set-up is not accepted: it is not tried until it fits.")
    return SeriesVerdict(
        outcome, passed, n, counting, min(v.margin for v in counted), tuple(reasons), action
    )


def _outcome(counted: list[Verdict], passed: int, at_least: int) -> tuple[Outcome, str]:
    outcomes = [v.outcome for v in counted]
    if Outcome.REJECT in outcomes:
        return Outcome.REJECT, "Change something that explains it, then begin a new series."
    if passed < at_least or outcomes[-1] is Outcome.UNDECIDED:
        if len(counted) >= STOP_AT:
            return Outcome.UNDECIDED, "Stop here: move the set-up away from the limit instead."
        return Outcome.UNDECIDED, counted[-1].next_action or "Weld another coupon."
    noted = Outcome.ACCEPT_NOTE in outcomes
    return (Outcome.ACCEPT_NOTE if noted else Outcome.ACCEPT), "The set-up may go to release."
