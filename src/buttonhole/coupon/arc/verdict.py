"""What a reading of an arc weld means under a criterion.

The size that the criterion limits is compared with its limit and a guard band; further sizes that
were measured, the manner of fracture, the back and what was seen are weighed beside it, and the
worst of them decides. The outcome never gets worse with a larger size, and nothing under its limit
is accepted. The vehicle maker's procedure goes before every verdict.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from buttonhole.coupon.arc.criterion import arc_criteria, shares, smallest
from buttonhole.coupon.arc.fracture import ArcFracture, find_fracture
from buttonhole.coupon.arc.imperfection import weigh_seen
from buttonhole.coupon.arc.judgement import MORE_HEAT, weigh_back, weigh_fracture
from buttonhole.coupon.arc.piece import HOLE_PER_WIRE, ArcForm, ArcInterface, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Criterion, Limits
from buttonhole.coupon.judgement import Finding, Weight
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.uncertainty import EXPANDED, GuardPolicy, combined, probability_over_limit
from buttonhole.coupon.verdict import (
    COVERAGE,
    GO_ON,
    JudgedSize,
    Outcome,
    Verdict,
    by_size,
    size_words,
    together,
)
from buttonhole.units import BadInput

WORST_FIRST = (
    Outcome.REJECT,
    Outcome.INVALID,
    Outcome.UNDECIDED,
    Outcome.ACCEPT_NOTE,
    Outcome.ACCEPT,
)
CHANGE = "Change the set-up, then weld a new coupon."
# What to do about a size under its limit; common practice, no source.
CHANGES = {
    Limits.TORN_DIAMETER: MORE_HEAT,
    Limits.LEG: "Slower or more wire, aim into the joint; then weld a new coupon.",
    Limits.FUSED_LENGTH: (
        "Aim at the sheet that stayed smooth, hotter at the start, fill the end; then weld a new "
        "coupon."
    ),
}
TOO_LARGE = 2.0  # -, of the hole; a torn hole over it is more likely a slip of the unit
HELD_ALL_ALONG = frozenset(
    {
        ArcFracture.SHEET_TORN,
        ArcFracture.SOFT_ZONE_TORN,
        ArcFracture.TOE_TORN,
        ArcFracture.THROAT_TORN,
        ArcFracture.BRAZE_ON_BOTH,
        ArcFracture.UNBROKEN,
    }
)
_NAMES = {
    Limits.TORN_DIAMETER: "Mean torn diameter",
    Limits.HEAD_DIAMETER: "Mean head diameter",
    Limits.FUSED_LENGTH: "Length that held",
    Limits.LEG: "Leg",
    Limits.THROAT: "Throat",
    Limits.PENETRATION: "Melted depth",
    Limits.WETTED_WIDTH: "Wetted width",
}
MEASURE = {
    Limits.TORN_DIAMETER: "Measure the torn hole: largest and smallest diameter.",
    Limits.HEAD_DIAMETER: "Measure the head: largest and smallest diameter.",
    Limits.FUSED_LENGTH: "Measure the length that was torn or bent, and the length that held.",
    Limits.LEG: "Measure the smaller leg with a weld gauge.",
    Limits.THROAT: "Section one and measure the throat.",
    Limits.PENETRATION: "Section one and measure how deep each sheet melted.",
    Limits.WETTED_WIDTH: "Measure how wide the braze is drawn out.",
}


@dataclass(frozen=True, slots=True)
class _Size:
    """A size with its limit and guard band [m]."""

    quantity: Limits
    value: float  # m
    limit: float  # m
    guard: float  # m

    @property
    def outcome(self) -> Outcome:
        return by_size(self.value, self.limit, self.guard)


def judge_arc(
    reading: ArcReading,
    criterion: Criterion,
    piece: ArcPiece,
    *,
    policy: GuardPolicy = EXPANDED,
    backing: Sequence[ArcReading] = (),
    wire_diameter: float | None = None,
) -> Verdict:
    """Judge one reading of an arc weld.

    Parameters
    ----------
    reading : ArcReading
        What was measured and seen.
    criterion : Criterion
        One for arc welds.
    piece : ArcPiece
        What was joined on the coupon.
    policy : GuardPolicy
        How much room is kept to the limit.
    backing : sequence of ArcReading
        Of the same coupon: a section of the interface backs it, a look at the back counts for all.
    wire_diameter : float or None
        For the check of the hole against the wire [m].

    Returns
    -------
    Verdict
        With reasons in plain words, and what to do next.

    Raises
    ------
    BadInput
        What ``refuse_strangers`` refuses, or the criterion is for spots.

    Sources
    -------
    jcgm-100, iso-14253-1, iso-5817
    """
    refuse_strangers(reading, piece)
    interface = piece.interfaces[reading.interface]
    u = combined((reading.instrument_uncertainty, reading.reader_uncertainty))
    main = _main(reading, criterion, interface, piece, u, policy)
    backed = any(_backs(each, interface, criterion, piece, policy) for each in backing)
    back = next((one.back for one in (reading, *backing) if one.back is not None), None)
    findings = (
        weigh_fracture(reading, piece, interface, backed=backed),
        weigh_back(back, piece),
        *weigh_seen(reading.imperfections, piece, interface),
    )
    beside = _beside(reading, criterion, interface, piece, u, policy)
    verdict = _put_together(criterion, main, findings, beside, policy)
    if main is None:
        limit = _limit(criterion, interface, reading, piece)
        shown = _Size(criterion.quantity, 0.0, limit, policy.factor * u)
    else:
        shown = main
    cautions = (*criterion.cautions, *_cautions(reading, interface, piece, wire_diameter))
    return _with_figures(verdict, shown, u, interface.index, cautions)


def _with_figures(
    verdict: Verdict, size: _Size, u: float, index: int, cautions: tuple[str, ...]
) -> Verdict:
    value, limit, guard = size.value, size.limit, size.guard
    return replace(
        verdict,
        interface=index,
        mean_diameter=value,
        limit=limit,
        expanded_uncertainty=COVERAGE * u,
        guard_band=guard,
        guarded_limit=limit + guard,
        margin=value - (limit + guard),
        probability_over_limit=probability_over_limit(value, limit, u),
        cautions=cautions,
    )


def refuse_strangers(reading: ArcReading, piece: ArcPiece) -> None:
    """Refuse a reading that is not of a weld of this kind.

    Raises
    ------
    BadInput
        The interface is not there, fracture or imperfection is of another kind of weld, or sections
        were read of another number of sheets.
    """
    if reading.interface >= len(piece.interfaces):
        raise BadInput(
            "interface", f"is {reading.interface}; this weld has 0 to {len(piece.interfaces) - 1}"
        )
    weigh_seen(reading.imperfections, piece, piece.interfaces[reading.interface])
    if reading.fracture is not None:
        find_fracture(reading.fracture.value, piece)
    due = 1 if piece.form is ArcForm.PLUG else len(piece.sheets)
    if reading.penetrations and len(reading.penetrations) != due:
        raise BadInput(
            "penetrations",
            f"{len(reading.penetrations)} given; give {due}, from the side welded"
            + (" (of the sheet below)" if piece.form is ArcForm.PLUG else ""),
        )


def _value(quantity: Limits, reading: ArcReading, interface: ArcInterface) -> float | None:
    """What was measured [m]; where the weld held and a sheet tore, what it is at least."""
    if quantity is Limits.TORN_DIAMETER:
        found = reading.mean_diameter
        if found is None and reading.fracture and reading.fracture.is_at_least:
            return reading.mean_hole or interface.hole or None
        return found
    if quantity is Limits.FUSED_LENGTH:
        if reading.fused_length is None and reading.fracture in HELD_ALL_ALONG:
            return reading.tested_length
        return reading.fused_length
    return {
        Limits.HEAD_DIAMETER: reading.mean_head,
        Limits.LEG: reading.leg,
        Limits.THROAT: reading.throat,
        Limits.WETTED_WIDTH: reading.wetted_width,
    }.get(quantity)


def _size(
    reading: ArcReading,
    criterion: Criterion,
    interface: ArcInterface,
    piece: ArcPiece,
    guard: float,
) -> _Size | None:
    quantity = criterion.quantity
    if quantity is Limits.PENETRATION:
        return _shallowest(reading, criterion, piece, guard)
    value = _value(quantity, reading, interface)
    if value is None:
        return None
    limit = smallest(criterion, interface, reading)
    if quantity is Limits.FUSED_LENGTH and reading.tested_length is not None:
        # More than the whole can't hold: no room is kept where there is none.
        guard = min(guard, max(0.0, reading.tested_length - limit))
    return _Size(quantity, value, limit, guard)


def _shallowest(
    reading: ArcReading, criterion: Criterion, piece: ArcPiece, guard: float
) -> _Size | None:
    """Of the sheets in a section the one that is nearest to its limit, or farthest below it."""
    if not reading.penetrations:
        return None
    due = shares(criterion, piece)
    if piece.form is ArcForm.PLUG:
        due = due[reading.interface : reading.interface + 1]
    depth, limit = min(
        zip(reading.penetrations, due, strict=True), key=lambda pair: pair[0] - pair[1]
    )
    return _Size(criterion.quantity, depth, limit, guard)


def _main(
    reading: ArcReading,
    criterion: Criterion,
    interface: ArcInterface,
    piece: ArcPiece,
    u: float,
    policy: GuardPolicy,
) -> _Size | None:
    if criterion.quantity not in MEASURE:
        raise BadInput("criterion", f"{criterion.name} is for spots; choose one for arc welds")
    return _size(reading, criterion, interface, piece, policy.factor * u)


def _limit(
    criterion: Criterion, interface: ArcInterface, reading: ArcReading, piece: ArcPiece
) -> float:
    """Limit shown where nothing was measured [m]; of a length nobody gave, that of the seam."""
    if criterion.base == "tested length" and reading.tested_length is None:
        return (criterion.factor or 0.0) * piece.length
    return smallest(criterion, interface, reading)


def _beside(
    reading: ArcReading,
    criterion: Criterion,
    interface: ArcInterface,
    piece: ArcPiece,
    u: float,
    policy: GuardPolicy,
) -> list[tuple[JudgedSize, Criterion, float]]:
    """Every other size that was measured, each by the first rule of the list that limits it."""
    found: list[tuple[JudgedSize, Criterion, float]] = []
    done = {criterion.quantity}
    for one in arc_criteria(piece):
        if one.quantity in done or (one.base == "hole" and interface.hole <= 0.0):
            continue
        done.add(one.quantity)
        size = _size(reading, one, interface, piece, policy.factor * u if one.counts else 0.0)
        if size is not None:
            judged = JudgedSize(size.quantity, size.value, size.limit, size.outcome, one.key)
            found.append((judged, one, size.guard))
    return found


def _put_together(
    criterion: Criterion,
    main: _Size | None,
    findings: Sequence[Finding],
    beside: Sequence[tuple[JudgedSize, Criterion, float]],
    policy: GuardPolicy,
) -> Verdict:
    said: list[tuple[Outcome, str, tuple[str, ...]]] = []
    if main is None and findings[0].weight is Weight.REJECT:
        pass  # how it let go says enough: there is nothing to measure
    elif main is None:
        words = f"{_NAMES[criterion.quantity]} was not measured."
        said.append((Outcome.UNDECIDED, MEASURE[criterion.quantity], (words,)))
    else:
        name = _NAMES[criterion.quantity]
        words = size_words(main.value, main.limit, main.guard, policy, name)
        change = CHANGES.get(criterion.quantity, CHANGE)
        outcome, action = together(main.outcome, Finding(Weight.GOOD), change)
        said.append((outcome, action, (words,)))
    for finding in findings:
        outcome, action = together(Outcome.ACCEPT, finding, CHANGE)
        said.append((outcome, action if finding.action else "", finding.reasons))
    for size, rule, guard in beside:
        said.append(_said_beside(size, rule, guard, policy))
    worst = min((one[0] for one in said), key=WORST_FIRST.index)
    # What decides stands first; what is worse than a note says what to do, the rest does not.
    ordered = sorted(said, key=lambda one: WORST_FIRST.index(one[0]))
    told = [action for outcome, action, _ in ordered if outcome is worst and action]
    return Verdict(
        outcome=worst,
        interface=0,
        mean_diameter=0.0,
        limit=0.0,
        expanded_uncertainty=0.0,
        guard_band=0.0,
        guarded_limit=0.0,
        margin=0.0,
        probability_over_limit=0.0,
        reasons=tuple(dict.fromkeys(text for one in ordered for text in one[2] if text)),
        next_action=" ".join(dict.fromkeys(told)) or (GO_ON if worst.accepted else CHANGE),
        criterion=criterion.key,
        guard_policy=policy.key,
        quantity=criterion.quantity,
        beside=tuple(one for one, _, _ in beside),
    )


def _said_beside(
    size: JudgedSize, rule: Criterion, guard: float, policy: GuardPolicy
) -> tuple[Outcome, str, tuple[str, ...]]:
    """A rule that does not count only makes a note; one from memory never counts."""
    name = _NAMES[size.quantity]
    words = f"{size_words(size.value, size.limit, guard, policy, name)[:-1]}: {rule.name}"
    words += f", {rule.mark}." if rule.mark else "."
    if size.outcome is Outcome.ACCEPT:
        return Outcome.ACCEPT, "", (words,)
    if not rule.counts:
        return Outcome.ACCEPT_NOTE, "", (words,)
    change = CHANGES.get(size.quantity, CHANGE)
    action = change if size.outcome is Outcome.REJECT else MEASURE[size.quantity]
    return size.outcome, action, (words,)


def _cautions(
    reading: ArcReading, interface: ArcInterface, piece: ArcPiece, wire_diameter: float | None
) -> list[str]:
    found = list(piece.strict)
    if found:
        found[-1] += " Strict class: its release rests on more coupons."
    hole = reading.mean_hole or interface.hole
    if wire_diameter and 0.0 < hole < HOLE_PER_WIRE * wire_diameter * (1 - 1e-9):
        found.append(
            f"The hole of {hole * 1e3:g} mm is under {HOLE_PER_WIRE:g} times the wire "
            f"({HOLE_PER_WIRE * wire_diameter * 1e3:g} mm): the arc stays on its rim. Drill a "
            "larger one unless the maker says otherwise."
        )
    torn = reading.mean_diameter
    if torn is not None and hole > 0.0 and torn > TOO_LARGE * hole:
        found.append(
            f"A torn diameter of {torn * 1e3:g} mm is over twice the hole: look for a slip; only "
            "what was fused counts."
        )
    return found


def _backs(
    other: ArcReading,
    interface: ArcInterface,
    criterion: Criterion,
    piece: ArcPiece,
    policy: GuardPolicy,
) -> bool:
    """Whether a section shows a sound weld by the same criterion, each sheet melted."""
    if other.test is not TestKind.MACRO or other.interface != interface.index:
        return False
    u = combined((other.instrument_uncertainty, other.reader_uncertainty))
    size = _size(other, criterion, interface, piece, policy.factor * u)
    melted = not other.penetrations or piece.brazed or min(other.penetrations) > 0.0
    sized = size is not None and size.outcome is Outcome.ACCEPT
    by_depth = criterion.quantity is Limits.FUSED_LENGTH and bool(other.penetrations)
    return melted and (sized or by_depth)
