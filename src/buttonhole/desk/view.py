"""Read models: what the screens, papers and commands show of jobs and joints."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any, TypeVar

from buttonhole.coupon.arc.piece import ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.comparison import Joined, SetUp
from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.difference import Difference, Level, ReadBack, Surroundings
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.statistics import counting_alone
from buttonhole.coupon.verdict import Verdict
from buttonhole.desk.arc_piece import arc_piece, arc_settings
from buttonhole.desk.arc_view import ArcSetUpView, ArcView, Keys
from buttonhole.desk.welding_view import EndCheck, WeldingView
from buttonhole.joint.stack_up import StackUp
from buttonhole.procedure.authority import Deviation, MakerProcedure
from buttonhole.procedure.joining.circumstances import Circumstances
from buttonhole.procedure.joining.method import SQUEEZE, JoiningMethod
from buttonhole.procedure.release import Release
from buttonhole.units import BadInput
from buttonhole.vehicle.safety import Powertrain
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.window import WeldWindow


class State(StrEnum):
    """How far a joint is."""

    IDENTIFIED = "identified"
    METHOD_DECIDED = "method decided"
    SET_UP_PROPOSED = "set-up proposed"
    SET_UP_ACCEPTED = "set-up accepted"
    COUPON_WELDED = "coupon welded"
    COUPON_TORN = "coupon torn"
    JUDGED = "judged"
    RELEASED = "released"
    WELDED = "welded"
    VERIFIED = "verified"
    CLOSED = "closed"
    EXPIRED = "expired"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of what happened. `event_id` names it, for corrections; `kind` is its type."""

    event_id: str
    at: datetime
    actor: str
    what: str
    withdrawn: str = ""  # why, when it was taken back
    kind: str = ""


@dataclass(frozen=True, slots=True)
class GateView:
    """A gate and who ticked it, when; nobody yet when `at` is None."""

    key: str
    words: str
    actor: str = ""
    at: datetime | None = None
    remark: str = ""
    answer: str = ""  # done, not_needed, cleared, not_cleared
    who: str = ""  # who made it safe, where that is another one
    when: str = ""  # time of day it was made safe, hours and minutes
    wait_minutes: float | None = None  # min


@dataclass(frozen=True, slots=True)
class Rules:
    """What the maker's procedure sets in figures: factor on the old spots [-], least size [m]."""

    spots_factor: float | None = None
    minimum_diameter: float | None = None


@dataclass(frozen=True, slots=True)
class ProcedureView:
    """By which authority the joint is welded: the maker's procedure or a signed deviation."""

    event_id: str
    authority: MakerProcedure | Deviation
    rules: Rules
    cited_by: str
    at: datetime
    rule: str = ""  # key@version of the filed rule it came with

    @property
    def is_deviation(self) -> bool:
        """Whether the joint deviates from the maker's procedure."""
        return isinstance(self.authority, Deviation)


@dataclass(frozen=True, slots=True)
class DecisionView:
    """A way of joining that was chosen, with the decision as the rules then in force made it.

    ``found`` is the whole answer of that day, rules with their versions and words; it stays as it
    was whatever is filed later. ``mark`` is empty when the maker's own word decided.
    """

    event_id: str
    at: datetime
    decided_by: str
    method: JoiningMethod
    mark: str
    reason: str
    rules: tuple[str, ...]  # key@version
    found: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class PredictedInterface:
    """Figures of one interface [m], value with the 90 % interval."""

    index: int
    nugget_diameter: tuple[float, float, float]
    button_diameter: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class PredictionView:
    """A prediction as it was written down: what went in, what came out, by which model."""

    event_id: str
    at: datetime
    set_up: SpotSetUp
    interfaces: tuple[PredictedInterface, ...]
    expulsion_probability: tuple[float, float, float]
    figures: Mapping[str, Any]
    warnings: tuple[str, ...]
    model_version: str
    data_digest: str


@dataclass(frozen=True, slots=True)
class ProposalView:
    """A proposed set-up with the machine it is for, its reasons and its window as written down."""

    event_id: str
    at: datetime
    set_up: SpotSetUp
    machine: str
    criterion: Criterion
    reasons: tuple[str, ...]
    window: WeldWindow
    details: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class SetUpView:
    """The set-up in use, with what it is used on; `own` when it was not the proposed one."""

    event_id: str
    at: datetime
    accepted_by: str
    set_up: SpotSetUp
    surroundings: Surroundings
    own: bool
    mark: str = ""  # "Not the maker's ..." when no word of the maker allows a spot here


T = TypeVar("T")


def _of_spots(value: T | None) -> T:
    if value is None:
        raise BadInput("joint", "is welded by an arc; this step is for spot welds")
    return value


@dataclass(frozen=True, slots=True)
class JudgedView:
    """One interface of a coupon: the reading, the verdict and the criterion then in force."""

    interface: int
    reading: Reading | ArcReading
    criterion: Criterion
    verdict: Verdict

    @property
    def how(self) -> str:
        """How the weld let go, in words; empty for a section."""
        reading = self.reading
        mode = reading.fracture if isinstance(reading, ArcReading) else reading.mode
        return "" if mode is None else mode.words.name


@dataclass(frozen=True, slots=True)
class CouponView:
    """A coupon: how it was welded, how it tore, what was judged.

    A spot has `spot_stack` and `spot_set_up`, an arc weld the keys of its `weld`; the others are
    None. `joined` and `made_with` say the same for both.
    """

    id: str
    number: int
    welded_at: datetime
    welded_by: str
    spot_stack: StackUp | None
    spot_set_up: SpotSetUp | None
    surroundings: Surroundings
    read_back: ReadBack
    welds_since_dress: int | None  # an arc has no tips to dress
    tip_state: str
    note: str
    differences: tuple[Difference, ...]
    readings: tuple[Reading, ...] | tuple[ArcReading, ...] = ()
    read_by: str = ""
    read_at: datetime | None = None
    judged: tuple[JudgedView, ...] = ()
    judged_by: str = ""
    judged_at: datetime | None = None
    event_ids: tuple[str, ...] = ()
    weld: Keys | None = None
    measured_with: str = ""  # gauge, and the study its uncertainty comes from

    @property
    def stack(self) -> StackUp:
        """
        The sheets of a spot welded coupon.

        Raises
        ------
        BadInput
            When it is welded by an arc: then they stand in `piece`.
        """
        return _of_spots(self.spot_stack)

    @property
    def set_up(self) -> SpotSetUp:
        """
        The set-up of a spot welded coupon.

        Raises
        ------
        BadInput
            When it is welded by an arc: then it stands in `weld`.
        """
        return _of_spots(self.spot_set_up)

    @property
    def piece(self) -> ArcPiece:
        """
        What an arc joined.

        Raises
        ------
        BadInput
            When it is spot welded.
        """
        if self.weld is None:
            raise BadInput("coupon", "is spot welded; this step is for arc welds")
        return arc_piece(self.weld)

    @property
    def joined(self) -> Joined:
        """The sheets, whatever joined them."""
        return self.stack if self.weld is None else arc_piece(self.weld)

    @property
    def made_with(self) -> SetUp:
        """What was set, on whatever machine."""
        return self.set_up if self.weld is None else arc_settings(self.weld)

    @property
    def is_judged(self) -> bool:
        """Whether every interface has a verdict."""
        found = {one.interface for one in self.judged}
        return found == set(range(len(self.joined.interfaces)))

    @property
    def accepted(self) -> bool:
        """Every interface accepted, and nothing on the coupon that makes it another joint."""
        return (
            self.is_judged
            and all(one.verdict.outcome.accepted for one in self.judged)
            and not any(one.level is Level.RED for one in self.differences)
        )


@dataclass(frozen=True, slots=True)
class ReleaseView:
    """A release: what, by whom, until when, what ended it (empty: it is valid)."""

    id: str
    event_id: str
    at: datetime
    released_by: str
    release: Release
    surroundings: Surroundings
    coupon_ids: tuple[str, ...]
    rests_on: tuple[str, ...]
    ended: tuple[str, ...] = ()
    decision: Mapping[str, Any] = field(default_factory=dict)  # empty in older records

    @property
    def valid(self) -> bool:
        """Whether it still holds."""
        return not self.ended


@dataclass(frozen=True, slots=True)
class PaperView:
    """A printed paper: its kind, and the SHA-256 of its bytes."""

    kind: str
    serves: str
    at: datetime
    printed_by: str
    sha256: str


@dataclass(frozen=True, slots=True)
class JointView:
    """Everything about one joint. `seen` goes with the next command about it.

    A joint is welded by spots (`spot_stack`) or by an arc (`arc`); the other one is None.
    """

    id: str
    job_id: str
    name: str
    location: str
    spot_stack: StackUp | None
    old_spots: int
    note: str
    state: State
    seen: str
    description_id: str  # the event that describes it as it is now
    demo: bool
    circumstances: Circumstances = field(default_factory=Circumstances)
    decision: DecisionView | None = None
    procedure: ProcedureView | None = None
    required_spots: int | None = None
    predictions: tuple[PredictionView, ...] = ()
    proposal: ProposalView | None = None
    set_up: SetUpView | None = None
    coupons: tuple[CouponView, ...] = ()
    tips_dressed: tuple[Entry, ...] = ()
    releases: tuple[ReleaseView, ...] = ()
    papers: tuple[PaperView, ...] = ()
    history: tuple[Entry, ...] = ()
    arc: ArcView | None = None
    welding: WeldingView = field(default_factory=WeldingView)
    end_checks: tuple[EndCheck, ...] = ()

    @property
    def stack(self) -> StackUp:
        """
        The sheets of a joint that is spot welded.

        Raises
        ------
        BadInput
            When it is welded by an arc: then its sheets stand in `arc`.
        """
        return _of_spots(self.spot_stack)

    @property
    def joined(self) -> Joined:
        """The sheets, whatever is to join them."""
        return self.stack if self.arc is None else arc_piece(self.arc.chosen)

    @property
    def accepted(self) -> SetUpView | ArcSetUpView | None:
        """The accepted set-up, of a spot or of an arc."""
        return self.set_up if self.arc is None else self.arc.set_up

    @property
    def made_with(self) -> SetUp | None:
        """What is set by the accepted set-up; None while there is none."""
        accepted = self.accepted
        if accepted is None:
            return None
        if isinstance(accepted, ArcSetUpView):
            return arc_settings(accepted.keys)
        return accepted.set_up

    @property
    def ways(self) -> tuple[JoiningMethod, ...]:
        """The ways of joining it is described for: a spot, in adhesive or not, or its arc's."""
        return SQUEEZE if self.arc is None else (self.arc.way,)

    @property
    def is_forbidden(self) -> bool:
        """Whether the maker's cited text forbids the weld it is described for, or names another."""
        cited = self.procedure.authority if self.procedure else None
        return isinstance(cited, MakerProcedure) and not cited.allows(self.ways)

    @property
    def deviates(self) -> bool:
        """Whether two people signed a deviation."""
        return self.procedure is not None and self.procedure.is_deviation

    @property
    def release(self) -> ReleaseView | None:
        """The release that holds now."""
        valid = [one for one in self.releases if one.valid]
        return valid[-1] if valid else None

    @property
    def next_coupon(self) -> int:
        """Number of the next coupon [-]; a withdrawn one keeps its own, it is on the metal."""
        return 1 + sum(one.kind == "coupon_welded" for one in self.history)

    def counting(self, coupon: CouponView) -> str:
        """
        Say what pass and fail alone shows, over the judged coupons of one set-up.

        Parameters
        ----------
        coupon : CouponView
            The latest that counts: what was welded later changes no sheet printed before.

        Returns
        -------
        str
            One or two sentences.
        """
        same = [
            one
            for one in self.coupons
            if one.is_judged and one.made_with == coupon.made_with and one.number <= coupon.number
        ]
        return counting_alone(sum(one.accepted for one in same), len(same)).text


@dataclass(frozen=True, slots=True)
class JobLine:
    """A job in a list."""

    id: str
    title: str
    vehicle: str
    vin: str
    demo: bool
    opened_at: datetime
    opened_by: str


@dataclass(frozen=True, slots=True)
class JobView:
    """Everything about one job."""

    id: str
    title: str
    vehicle: str
    vin: str
    area: str
    demo: bool
    opened_at: datetime
    opened_by: str
    gates: tuple[GateView, ...]
    joints: tuple[JointView, ...]
    papers: tuple[PaperView, ...]
    history: tuple[Entry, ...]
    powertrain: Powertrain = Powertrain.UNKNOWN
    earlier_repair: str = ""  # yes, no; empty: nobody looked
    vin_remarks: tuple[str, ...] = ()

    def joint(self, joint_id: str) -> JointView | None:
        """Find a joint by its id."""
        return next((one for one in self.joints if one.id == joint_id), None)
