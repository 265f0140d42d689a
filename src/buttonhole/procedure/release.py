"""Permission to weld with one set-up, with an end.

A release is refused, with every reason at once, unless the maker's procedure is recorded or a
deviation is signed by two people, and every faying interface has an accepted coupon of exactly this
set-up, welded after the last change. Where all that holds, the rule on how likely the welds are
good has its say; two people may sign against that rule, but not against the criterion.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from buttonhole.coupon.arc.piece import ArcPiece
from buttonhole.coupon.comparison import Joined, Made, SetUp, compare
from buttonhole.coupon.difference import Difference, Level, Surroundings
from buttonhole.coupon.series import judge_series
from buttonhole.coupon.verdict import Outcome, Verdict
from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import cautions
from buttonhole.learning.decision import ReleaseDecision, Step
from buttonhole.procedure.authority import Authority, Deviation, MakerProcedure
from buttonhole.procedure.joining.decision import Decision
from buttonhole.procedure.joining.method import SQUEEZE, JoiningMethod
from buttonhole.procedure.refusal import Refusal, joining_refusals
from buttonhole.procedure.validity import (
    ARC_ENDS,
    SPOT_ENDS,
    EndCondition,
    Ending,
    Happening,
    ValidityPolicy,
    aware,
    endings,
)
from buttonhole.units import BadInput

PREVAILS = (
    "The vehicle maker's procedure, local rules and licensed practice go before this release."
)


@dataclass(frozen=True, slots=True)
class TestedCoupon:
    """A coupon with its place in the order of things and what was judged on it.

    ``sequence`` counts coupons and changes together, as they happened. ``set_up`` is what was set
    when it was welded.
    """

    __test__ = False  # not a test of this program

    key: str
    sequence: int
    stack: Joined
    set_up: SetUp
    verdicts: tuple[Verdict, ...]
    differences: tuple[Difference, ...] = ()
    expulsion: bool = False


class ReleaseRefused(Exception):
    """A set-up can't be released; ``refusals`` says all that stands against it."""

    def __init__(self, refusals: tuple[Refusal, ...]) -> None:
        super().__init__(" ".join(f"{each.reason} {each.do}" for each in refusals))
        self.refusals = refusals

    @property
    def reasons(self) -> tuple[str, ...]:
        """Each reason with what to do."""
        return tuple(f"{each.reason} {each.do}" for each in self.refusals)

    def __reduce__(self) -> tuple[type["ReleaseRefused"], tuple[tuple[Refusal, ...]]]:
        """Copy and pickle by what was refused."""
        return ReleaseRefused, (self.refusals,)


@dataclass(frozen=True, slots=True)
class Release:
    """Permission to weld. It holds until ``valid_until`` or the first of ``end_conditions``."""

    set_up: SetUp
    stack: Joined
    machine: str
    authority: MakerProcedure | Deviation
    coupons: tuple[str, ...]
    criteria: tuple[str, ...]
    released_by: str
    released_at: datetime
    valid_until: datetime
    max_welds: int | None  # an arc has no tips that wear
    ends_when: tuple[str, ...]
    end_conditions: tuple[EndCondition, ...]
    counting: tuple[str, ...]  # by interface: what counting alone shows
    cautions: tuple[str, ...]
    rules: tuple[str, ...] = ()  # key@version of what says that a spot may be made here
    decided: str = ""  # by the rule on how likely the welds are good, in words
    overruled: Deviation | None = None  # who signed against that rule


def release(
    set_up: SetUp,
    stack: Joined,
    *,
    machine: str,
    authority: MakerProcedure | Deviation | None,
    coupons: Sequence[TestedCoupon],
    last_change: int,
    now: datetime,
    released_by: str,
    policy: ValidityPolicy | None = None,
    decision: Decision | None = None,
    ways: Sequence[JoiningMethod] = SQUEEZE,
    decided: ReleaseDecision | None = None,
    overruled: Deviation | None = None,
) -> Release:
    """Release a set-up, or refuse with every reason.

    Parameters
    ----------
    set_up : SpotSetUp or ArcSettings
    stack : StackUp or ArcPiece
        Of the joint.
    machine : str
    authority : MakerProcedure or Deviation or None
        By whose word.
    coupons : sequence of TestedCoupon
        All coupons of the joint, none left out.
    last_change : int
        Sequence of the last change of set-up, tips, machine or supply; 0 for none.
    now : datetime
        With its time zone.
    released_by : str
        Who answers for it.
    policy : ValidityPolicy, optional
    decision, ways : Decision or None, sequence of JoiningMethod
        What the rules say of the joint, and the ways it may be made (``joining_refusals``).
    decided, overruled : ReleaseDecision or None, Deviation or None
        What coupons, machine and physics say together; two people who release although it does not.

    Returns
    -------
    Release

    Raises
    ------
    ReleaseRefused, BadInput
        No machine, no name, or a time without a zone.
    """
    _check(now, machine, released_by)
    series, policy = [c for c in coupons if c.sequence > last_change], policy or ValidityPolicy()
    counted = _counted(series, set_up, stack)
    rules = (*_authority(authority, now, ways), *joining_refusals(decision, authority, ways))
    torn = _coupons(stack, series, counted, policy)
    sure = () if torn or overruled is not None else _not_sure(decided)
    against = (*rules, *_sheets(stack), *torn, *sure)
    if against or authority is None:  # no authority is refused above
        raise ReleaseRefused(against)
    given = _given(set_up, stack, machine, authority, counted, now, released_by, policy)
    return _as_decided(_by_rules(given, decision, ways), decided, overruled)


def _counted(series: Sequence[TestedCoupon], set_up: SetUp, stack: Joined) -> list[TestedCoupon]:
    """Those of this set-up; what was welded unlike the joint only where nothing else was."""
    same = [c for c in series if c.set_up == set_up]
    return [c for c in same if not _unlike(c, stack)] or same


def _not_sure(decided: ReleaseDecision | None) -> tuple[Refusal, ...]:
    if decided is None or decided.step is Step.RELEASE:
        return ()
    code, do = {
        Step.ANOTHER: ("not-sure", "Weld and tear another coupon of this set-up."),
        Step.MOVE: ("move-set-up", "Move the set-up, then begin a new series."),
        Step.REFUSE: ("not-by-rule", "Find out why, change what explains it, begin a new series."),
    }[decided.step]
    said = " ".join(decided.reasons) or decided.words
    return (Refusal(code, said, do),)


def _as_decided(
    given: Release, decided: ReleaseDecision | None, overruled: Deviation | None
) -> Release:
    if decided is None:
        return given
    if overruled is None or decided.step is Step.RELEASE:
        return replace(given, decided=decided.words)
    said = (
        f"Released against the rule on how likely its welds are good, signed by "
        f"{overruled.signed_by} and {overruled.second_signature}: {overruled.reason}",
        *decided.reasons,
    )
    return replace(
        given,
        decided=decided.words,
        overruled=overruled,
        cautions=tuple(dict.fromkeys((*said, *given.cautions))),
    )


def _check(now: datetime, machine: str, released_by: str) -> None:
    aware("now", now)
    for key, text in (("machine", machine), ("released_by", released_by)):
        if not text.strip():
            raise BadInput(key, "is missing; a release names it")


def _by_rules(given: Release, decision: Decision | None, ways: Sequence[JoiningMethod]) -> Release:
    """Let a release name the rules that let the weld be made here, and say whose they are not."""
    if decision is None:
        return given
    way = decision.best_of(tuple(ways))
    said = (way.mark,) if way.mark else ()
    return replace(
        given,
        rules=tuple(one.name for one in way.reasons),
        cautions=tuple(dict.fromkeys((*given.cautions, *said))),
    )


def _given(
    set_up: SetUp,
    stack: Joined,
    machine: str,
    authority: MakerProcedure | Deviation,
    counted: Sequence[TestedCoupon],
    now: datetime,
    released_by: str,
    policy: ValidityPolicy,
) -> Release:
    conditions = ARC_ENDS if isinstance(stack, ArcPiece) else SPOT_ENDS
    return Release(
        set_up=set_up,
        stack=stack,
        machine=machine.strip(),
        authority=authority,
        coupons=tuple(c.key for c in counted),
        criteria=tuple(dict.fromkeys(v.criterion for c in counted for v in c.verdicts)),
        released_by=released_by.strip(),
        released_at=now,
        valid_until=policy.end(now),
        max_welds=_most_welds(stack, policy),
        ends_when=tuple(each.words for each in conditions),
        end_conditions=conditions,
        counting=tuple(_counting(counted, face.index) for face in stack.interfaces),
        cautions=_cautions(stack, authority, counted),
    )


def _most_welds(stack: Joined, policy: ValidityPolicy) -> int | None:
    if isinstance(stack, ArcPiece):
        return policy.welds_arc
    coated = any(sheet.coating is not Coating.BARE for sheet in stack.sheets)
    return policy.welds_coated if coated else policy.welds_bare


def _authority(
    authority: MakerProcedure | Deviation | None, now: datetime, ways: Sequence[JoiningMethod]
) -> list[Refusal]:
    if authority is None:
        return [
            Refusal(
                "no-authority",
                "No maker's procedure is recorded for this joint.",
                "Look it up and record it, ask the maker, or have a deviation signed by two "
                "people.",
            )
        ]
    if isinstance(authority, Deviation):
        return []
    found = []
    if not authority.allows(ways):
        named = f" It names: {authority.method}." if authority.permits else ""
        found.append(
            Refusal(
                "maker-forbids",
                f"{authority.reference} does not permit this weld here.{named}",
                "Use the method the maker names, or have a deviation signed by two people.",
            )
        )
    if authority.read_on > now.date():
        found.append(
            Refusal(
                "read-in-future",
                f"The procedure is said to be read on {authority.read_on.isoformat()}, which is "
                "still to come.",
                "Put the date right.",
            )
        )
    return found


def _sheets(stack: Joined) -> list[Refusal]:
    if not stack.has_unknown:
        return []
    return [
        Refusal(
            "unknown-sheet",
            "A sheet's steel or coating is not known; nothing is released on an assumption.",
            "Find it in the maker's material map, or ask the maker.",
        )
    ]


def _coupons(
    stack: Joined,
    series: Sequence[TestedCoupon],
    counted: Sequence[TestedCoupon],
    policy: ValidityPolicy,
) -> list[Refusal]:
    found = []
    if series and not counted:
        found.append(
            Refusal(
                "other-set-up",
                "No coupon since the last change was welded with exactly this set-up.",
                "Weld a coupon with what is to be released.",
            )
        )
    for coupon in counted:
        found.extend(_coupon(coupon, stack))
        if not coupon.verdicts and any(one.verdicts for one in counted):
            reason = f"Coupon {coupon.key} is not torn and judged yet: every coupon counts."
            found.append(Refusal("not-torn", reason, "Tear it, or withdraw it with a reason."))
    if any(one.code == "difference" for one in found):
        return found  # none of them is the joint: what they showed says nothing of it
    strict = isinstance(stack, ArcPiece) and bool(stack.strict)
    due = max(policy.coupons, policy.strict_coupons) if strict else policy.coupons
    for face in stack.interfaces:
        verdicts = [v for c in _ordered(counted) for v in c.verdicts if v.interface == face.index]
        result = judge_series(verdicts, at_least=due)
        if not result.outcome.accepted:
            place = f"Interface {face.index + 1}"
            why = {
                Outcome.INVALID: "has no torn coupon since the last change",
                Outcome.REJECT: "has a coupon that is not accepted",
            }.get(result.outcome, f"is not decided ({result.passed} of {due} accepted)")
            found.append(Refusal("interface", f"{place} {why}.", result.next_action))
    return found


def _ordered(coupons: Sequence[TestedCoupon]) -> list[TestedCoupon]:
    return sorted(coupons, key=lambda coupon: coupon.sequence)


def _unlike(coupon: TestedCoupon, stack: Joined) -> list[Difference]:
    """What makes a coupon another joint."""
    alone = Surroundings("")  # surroundings are compared by whoever welded the coupon
    own = _own_differences((stack, coupon.set_up, alone), (coupon.stack, coupon.set_up, alone))
    every = (*own, *coupon.differences)
    return list({one.item: one for one in every if one.level is Level.RED}.values())


def _coupon(coupon: TestedCoupon, stack: Joined) -> list[Refusal]:
    found = []
    if coupon.expulsion and not isinstance(stack, ArcPiece):  # an arc's is refused by its verdict
        found.append(
            Refusal(
                "expulsion",
                f"Coupon {coupon.key} splashed.",
                "Close the gap, check force and tips, lower the current last; weld a new coupon.",
            )
        )
    found.extend(
        Refusal(
            "difference",
            f"Coupon {coupon.key} is not the joint: {each.item} {each.on_coupon}, on the vehicle "
            f"{each.on_joint}.",
            each.advice or "Weld a coupon that is the same as the joint.",
        )
        for each in _unlike(coupon, stack)
    )
    return found


def _own_differences(joint: Made, coupon: Made) -> tuple[Difference, ...]:
    """Compare anew; a coupon of another process is none of this joint."""
    try:
        return compare(joint, coupon)
    except BadInput:
        words = ("as described", "of another process")
        return (Difference("process", *words, Level.RED, "Weld a coupon by the same process."),)


def _counting(coupons: Sequence[TestedCoupon], index: int) -> str:
    verdicts = [v for c in _ordered(coupons) for v in c.verdicts if v.interface == index]
    counting = judge_series(verdicts).counting
    return counting.text if counting else ""


def _cautions(
    stack: Joined, authority: MakerProcedure | Deviation, coupons: Sequence[TestedCoupon]
) -> tuple[str, ...]:
    said = [PREVAILS]
    if isinstance(authority, Deviation):
        said.append(
            f"Released by a deviation signed by {authority.signed_by} and "
            f"{authority.second_signature}: {authority.reason}"
        )
    elif authority.authority is not Authority.MAKER_PROCEDURE:
        said.append(f"Rests on {authority.authority.words}.")
    if len(coupons) == 1:
        said.append("Rests on one coupon. A second one, torn at the end of the work, shows drift.")
    said.extend(text for c in coupons for v in c.verdicts for text in v.cautions)
    said.extend(
        f"Coupon {c.key}, interface {v.interface + 1}: {v.next_action}"
        for c in coupons
        for v in c.verdicts
        if v.outcome is Outcome.ACCEPT_NOTE
    )
    if not isinstance(stack, ArcPiece):
        said.extend(each.text for each in cautions(stack))
    return tuple(dict.fromkeys(said))


def ended(
    released: Release, now: datetime, happenings: Sequence[Happening] = (), welds_made: int = 0
) -> tuple[Ending, ...]:
    """Return what has ended a release by now; empty while it holds.

    Parameters
    ----------
    released : Release
        The release.
    now : datetime
        The moment, with its time zone.
    happenings : sequence of Happening
        What happened since; earlier ones do not count.
    welds_made : int
        Welds made under it.

    Returns
    -------
    tuple of Ending
        In the order it happened.

    Raises
    ------
    BadInput
        A time without a zone, or fewer than no welds.
    """
    if welds_made < 0:
        raise BadInput("welds_made", f"is {welds_made}; count from 0")
    return endings(
        released.released_at,
        released.valid_until,
        released.max_welds,
        now,
        happenings,
        welds_made,
    )
