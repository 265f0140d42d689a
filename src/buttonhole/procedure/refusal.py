"""A reason against a release, and those that come from the rules for the way of joining."""

from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.procedure.authority import Deviation, MakerProcedure
from buttonhole.procedure.joining.decision import Decision, Standing
from buttonhole.procedure.joining.method import SQUEEZE, JoiningMethod
from buttonhole.procedure.joining.rule import Kind

SHEETS = frozenset({"unknown-steel"})  # refused by the sheets themselves, in their own words


@dataclass(frozen=True, slots=True)
class Refusal:
    """One reason against a release, and what to do about it."""

    code: str
    reason: str
    do: str


def joining_refusals(
    decision: Decision | None,
    authority: MakerProcedure | Deviation | None,
    ways: Sequence[JoiningMethod] = SQUEEZE,
) -> tuple[Refusal, ...]:
    """Say what the rules for the way of joining hold against releasing a weld.

    Parameters
    ----------
    decision : Decision or None
        What they say of the joint.
    authority : MakerProcedure or Deviation or None
        By whose word it is welded.
    ways : sequence of JoiningMethod
        The way the weld is made, or all that are as good.

    Returns
    -------
    tuple of Refusal
        What holds the joint and what a local code forbids, always; what the maker's texts reject
        or contradict each other about, unless two people signed a deviation.
    """
    if decision is None:
        return ()
    found = [
        Refusal("hold", one.reason, "Find out, tell it at the joint, then release.")
        for one in decision.holds
        if one.key not in SHEETS
    ]
    way = decision.best_of(tuple(ways))
    laws = [one for one in way.reasons if one.kind is Kind.LAW]
    if laws and way.standing in (Standing.REJECTED, Standing.ASK):
        said = " ".join(one.reason for one in laws)
        found.append(
            Refusal("local-code", f"A code of the place is against it: {said}", "Keep to it.")
        )
    if isinstance(authority, Deviation):
        return tuple(found)
    if way.in_conflict and not laws:
        found.append(
            Refusal(
                "maker-contradicts",
                "The maker's texts contradict each other about this weld.",
                "Ask the maker and file the answer, or have a deviation signed by two people.",
            )
        )
    makers = isinstance(authority, MakerProcedure) and authority.allows(ways)
    if makers and way.is_makers and way.standing is Standing.REJECTED:
        found.append(
            Refusal(
                "maker-rule",
                f"A text of the maker of higher rank is against it: {' '.join(way.why)}",
                "Join it as that text says, or have a deviation signed by two people.",
            )
        )
    return tuple(found)
