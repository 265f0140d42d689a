"""What a reading means under a criterion.

The diameter is compared with its limit and a guard band; how the weld let go is then weighed
against the test and the steel (``judgement``). The outcome never gets worse with a larger
diameter. The vehicle maker's procedure goes before every verdict.

The limits of the aspect ratio and of the angle of twist are from memory and only make notes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.coupon.criterion import (
    STRICTEST,
    Criterion,
    Limits,
    find_criterion,
    minimum_diameter,
    minimum_force,
)
from buttonhole.coupon.judgement import Finding, Weight, outermost_thin, weigh
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.uncertainty import EXPANDED, GuardPolicy, combined, probability_over_limit
from buttonhole.joint.stack_up import FayingInterface, StackUp
from buttonhole.units import BadInput

COVERAGE = 2.0  # -, the expanded uncertainty shown is U = 2 u
LONG = 1.3  # -, aspect ratio from which the tips may be out of line (from memory)
ROUNDING = 1e-9  # m; numerical: a reading just at its limit is not under it
BRITTLE_ANGLE = 20.0  # deg of twist (from memory)


class Outcome(StrEnum):
    """What a coupon is worth; the value is the word in files and records."""

    ACCEPT = "accept"
    ACCEPT_NOTE = "accept_note"
    UNDECIDED = "undecided"
    REJECT = "reject"
    INVALID = "invalid"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "accept": "Accepted",
            "accept_note": "Accepted, with a note",
            "undecided": "Not decided",
            "reject": "Not accepted",
            "invalid": "Says nothing",
        }[self.value]

    @property
    def accepted(self) -> bool:
        """The weld is good enough, with or without a note."""
        return self in (Outcome.ACCEPT, Outcome.ACCEPT_NOTE)


@dataclass(frozen=True, slots=True)
class JudgedSize:
    """One more size that was measured beside the one that is judged; ``value``, ``limit`` [m]."""

    quantity: Limits
    value: float  # m
    limit: float  # m
    outcome: Outcome
    criterion: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """What one reading means.

    ``quantity`` says what was judged: of a spot its diameter, of an arc weld what the criterion
    limits; ``mean_diameter`` holds it, zero where it was not measured. ``beside``: further sizes.
    ``mean_diameter``, ``limit``, ``expanded_uncertainty`` (U = 2 u), ``guard_band``,
    ``guarded_limit`` and ``margin`` (mean over guarded limit) [m]; ``probability_over_limit`` [-].
    ``criterion`` and ``guard_policy`` are keys.
    """

    outcome: Outcome
    interface: int
    mean_diameter: float  # m
    limit: float  # m
    expanded_uncertainty: float  # m
    guard_band: float  # m
    guarded_limit: float  # m
    margin: float  # m
    probability_over_limit: float  # -
    reasons: tuple[str, ...]
    next_action: str
    criterion: str
    guard_policy: str
    cautions: tuple[str, ...] = ()
    quantity: Limits = Limits.DIAMETER
    beside: tuple[JudgedSize, ...] = ()

    @property
    def measured(self) -> float:
        """The size that was judged [m]; zero where it was not measured."""
        return self.mean_diameter


@dataclass(frozen=True, slots=True)
class Required:
    """The diameter asked for [m] and, where it is not the criterion's own, why."""

    diameter: float  # m
    reason: str


def required_diameter(
    criterion: Criterion, stack: StackUp, interface: FayingInterface | int
) -> Required:
    """Return the diameter a weld must reach, stricter where a steel is not known.

    Parameters
    ----------
    criterion : Criterion
        One that limits a diameter.
    stack : StackUp
        The sheets.
    interface : FayingInterface or int
        Which interface, from side A.

    Returns
    -------
    Required
        With an unknown steel or coating in the stack-up: the larger of the criterion's diameter
        and 5 times the root of the thinner sheet.

    Raises
    ------
    BadInput
        As ``minimum_diameter``.

    Sources
    -------
    twi-faq (the strictest); that it is used on unknown sheets: common practice, no source.
    """
    asked = minimum_diameter(criterion, stack, interface)
    if stack.has_unknown:
        strictest = find_criterion(STRICTEST)
        strict = minimum_diameter(strictest, stack, interface)
        if strict > asked:
            why = (
                f"A sheet is not known: the strictest published diameter holds, {strictest.name} "
                f"= {_mm(strict)}, not {_mm(asked)}."
            )
            return Required(strict, why)
    return Required(asked, "")


def judge(
    reading: Reading,
    criterion: Criterion,
    stack: StackUp,
    *,
    policy: GuardPolicy = EXPANDED,
    backing: Sequence[Reading] = (),
) -> Verdict:
    """Judge one reading.

    Parameters
    ----------
    reading : Reading
        What was measured.
    criterion : Criterion
        One that limits a diameter.
    stack : StackUp
        The sheets of the coupon.
    policy : GuardPolicy
        How much room is kept to the limit.
    backing : sequence of Reading
        Sections or force tests of the same interface and set-up; they back a weld that parted
        between the sheets and never make a small diameter large.

    Returns
    -------
    Verdict
        Outcome, figures, reasons in plain words, and what to do next.

    Raises
    ------
    BadInput
        The interface is not there, or the criterion limits a force.

    Sources
    -------
    aws-d8-1m (button size); jcgm-100; iso-14253-1; twi-239-1984 (torsion).
    """
    if reading.interface >= len(stack.interfaces):
        raise BadInput(
            "interface",
            f"is {reading.interface}; this stack-up has 0 to {len(stack.interfaces) - 1}",
        )
    face = stack.interfaces[reading.interface]
    required = required_diameter(criterion, stack, face)
    backed = any(_backs(each, required, face, policy, stack) for each in backing)
    finding = weigh(reading, face, backed=backed)
    return _verdict(reading, face, stack, required, finding, criterion, policy)


def _verdict(
    reading: Reading,
    face: FayingInterface,
    stack: StackUp,
    required: Required,
    finding: Finding,
    criterion: Criterion,
    policy: GuardPolicy,
) -> Verdict:
    u = combined((reading.instrument_uncertainty, reading.reader_uncertainty))
    guard = policy.factor * u
    mean, limit = reading.mean_diameter, required.diameter
    outcome, action = together(by_size(mean, limit, guard), finding)
    notes = _notes(reading, face, stack) if outcome.accepted else []
    said = _said(size_words(mean, limit, guard, policy), required, finding, reading)
    return Verdict(
        outcome=Outcome.ACCEPT_NOTE if notes else outcome,
        interface=face.index,
        mean_diameter=mean,
        limit=limit,
        expanded_uncertainty=COVERAGE * u,
        guard_band=guard,
        guarded_limit=limit + guard,
        margin=mean - (limit + guard),
        probability_over_limit=probability_over_limit(mean, limit, u),
        reasons=tuple(each for each in (*said, *(note for note, _ in notes)) if each),
        next_action=" ".join(dict.fromkeys([action, *(todo for _, todo in notes)])).strip(),
        criterion=criterion.key,
        guard_policy=policy.key,
        cautions=criterion.cautions,
    )


def _said(size: str, required: Required, finding: Finding, reading: Reading) -> list[str]:
    """What decides stands first; a weld without a diameter is not compared with a limit."""
    sizes = [size, required.reason] if reading.d_max > 0.0 else []
    if finding.weight in (Weight.REJECT, Weight.INVALID):
        return [*finding.reasons, *sizes]
    return [*sizes, *finding.reasons]


def _mm(length: float) -> str:
    return f"{length * 1e3:.2f} mm"


def by_size(value: float, limit: float, guard: float) -> Outcome:
    """Return what a size alone is worth.

    Parameters
    ----------
    value, limit : float
        What was measured and the smallest acceptable [m].
    guard : float
        Room that is kept to the limit [m].

    Returns
    -------
    Outcome
        Accepted over limit and guard band, not decided inside it.
    """
    if value >= limit + guard - ROUNDING:
        return Outcome.ACCEPT
    return Outcome.UNDECIDED if value >= limit - ROUNDING else Outcome.REJECT


def size_words(
    value: float, limit: float, guard: float, policy: GuardPolicy, name: str = "Mean diameter"
) -> str:
    """Say in a sentence how a size stands to its limit.

    Parameters
    ----------
    value, limit, guard : float
        As for ``by_size`` [m].
    policy : GuardPolicy
        Where the guard band is from.
    name : str
        What was measured.

    Returns
    -------
    str
        With the figures in mm.
    """
    band = f", with guard band {_mm(guard)} ({policy.factor:g} u)" if guard > 0.0 else ""
    limits = f"limit {_mm(limit)}{band}"
    outcome = by_size(value, limit, guard)
    if outcome is Outcome.ACCEPT:
        over = "is over the limit and its guard band" if band else "reaches the limit"
        return f"{name} {_mm(value)} {over} ({limits})."
    if outcome is Outcome.UNDECIDED:
        return (
            f"{name} {_mm(value)} is over the limit but inside the guard band ({limits}): "
            "the reading is not sure enough."
        )
    return f"{name} {_mm(value)} is under the limit ({limits})."


AGAIN = "Weld and tear another coupon with the same set-up."
CHANGE = "Change the set-up or dress the tips, then weld a new coupon."
GO_ON = "The set-up may go to release for this interface."


def together(size: Outcome, finding: Finding, change: str = CHANGE) -> tuple[Outcome, str]:
    """Put size and manner of fracture together; the worse of the two decides.

    Parameters
    ----------
    size : Outcome
        What the size alone is worth.
    finding : Finding
        What the manner adds.
    change : str
        What to do about a weld that is too small.

    Returns
    -------
    tuple of Outcome and str
        What it is worth and what to do.
    """
    if finding.weight is Weight.INVALID:
        return Outcome.INVALID, finding.action
    if finding.weight is Weight.REJECT:
        return Outcome.REJECT, finding.action
    if finding.weight is Weight.SIZE_NOT_TRUSTED:
        return Outcome.UNDECIDED, finding.action
    if size is Outcome.REJECT:
        return Outcome.REJECT, change
    if finding.weight is Weight.UNDECIDED:
        return Outcome.UNDECIDED, finding.action
    if size is Outcome.UNDECIDED:
        return Outcome.UNDECIDED, AGAIN
    if finding.weight is Weight.NOTE:
        return Outcome.ACCEPT_NOTE, finding.action or GO_ON
    return Outcome.ACCEPT, GO_ON


def _notes(reading: Reading, face: FayingInterface, stack: StackUp) -> list[tuple[str, str]]:
    """Return what is to be said beside an accepted weld, each with what to do."""
    found = []
    if reading.aspect_ratio > LONG:
        found.append(
            (
                f"The weld is {reading.aspect_ratio:.2f} times as long as wide.",
                "Check that the tips are in line and square to the sheet.",
            )
        )
    if outermost_thin(face, stack) and reading.test is not TestKind.MACRO:
        found.append(
            (
                "A button of the thin outside sheet is no proof of fusion: it can pull from a "
                "bond that never melted.",
                "Measure the fused area there and section one coupon.",
            )
        )
    angle = reading.twist_angle
    if reading.test is TestKind.TORSION and angle is not None and angle < BRITTLE_ANGLE:
        found.append(
            (
                f"It broke after only {angle:g} degrees of twist: that is brittle.",
                "Look whether the face is grey and fibrous or bright and crystalline; section one.",
            )
        )
    return found


def _backs(
    other: Reading, required: Required, face: FayingInterface, policy: GuardPolicy, stack: StackUp
) -> bool:
    """Whether a section or a force test of the same interface shows a sound weld."""
    if other.interface != face.index or other.expulsion:
        return False
    u = combined((other.instrument_uncertainty, other.reader_uncertainty))
    if other.test is TestKind.MACRO:
        return other.mean_diameter >= required.diameter + policy.factor * u
    if other.test is TestKind.TENSILE_SHEAR and other.force is not None:
        least = minimum_force(find_criterion("aws-c1.1-shear"), stack, face)
        return other.force - policy.factor * (other.force_uncertainty or 0.0) >= least
    return False


@dataclass(frozen=True, slots=True)
class ForceVerdict:
    """What a measured load means; ``force``, ``limit``, ``margin`` [N]."""

    outcome: Outcome
    force: float  # N
    limit: float  # N
    guard_band: float  # N
    margin: float  # N
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]


def judge_force(
    reading: Reading, criterion: Criterion, stack: StackUp, *, policy: GuardPolicy = EXPANDED
) -> ForceVerdict:
    """Judge the load of a tensile shear or cross-tension test.

    Parameters
    ----------
    reading : Reading
        With ``force`` and ``force_uncertainty``.
    criterion : Criterion
        One that limits that force.
    stack : StackUp
        The sheets of the coupon.
    policy : GuardPolicy
        How much room is kept to the limit.

    Returns
    -------
    ForceVerdict
        Without a stated uncertainty a load over the limit is accepted with a note.

    Raises
    ------
    BadInput
        No force was measured, or the criterion belongs to another test.

    Sources
    -------
    aws-c1-1; aws-d8-1m (from memory).
    """
    wanted = {
        "shear force": TestKind.TENSILE_SHEAR,
        "cross-tension force": TestKind.CROSS_TENSION,
    }.get(criterion.quantity.value)
    if wanted is not reading.test or reading.force is None:
        raise BadInput("force", f"{criterion.name} needs the load of a {wanted or 'force'} test")
    limit = minimum_force(criterion, stack, reading.interface)
    guard = policy.factor * (reading.force_uncertainty or 0.0)
    margin = reading.force - limit - guard
    words = f"Load {reading.force / 1e3:.2f} kN, limit {limit / 1e3:.2f} kN"
    reasons = [f"{words}, guard band {guard / 1e3:.2f} kN."]
    if reading.expulsion or reading.force < limit:
        outcome = Outcome.REJECT
    elif margin < 0.0:
        outcome = Outcome.UNDECIDED
    elif reading.force_uncertainty is None:
        outcome = Outcome.ACCEPT_NOTE
        reasons.append("The uncertainty of the load is not stated: no guard band was kept.")
    else:
        outcome = Outcome.ACCEPT
    if reading.expulsion:
        reasons.append("It splashed: a weld with expulsion is never accepted.")
    return ForceVerdict(
        outcome, reading.force, limit, guard, margin, tuple(reasons), criterion.cautions
    )
