"""Read models of a joint that is welded by an arc, as the record has it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any

from buttonhole.coupon.difference import Surroundings
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile, arc_weld_file_from
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.weld.arc.seam.joint import JointKind
from buttonhole.weld.arc.wire import BRONZE, WireMetal

Keys = Mapping[str, Any]  # the tables and values of a weld file: texts with their units


class ArcKind(StrEnum):
    """How a joint is welded by an arc, as the trade asks for it."""

    PLUG = "plug"
    SEAM = "seam"
    BRAZE = "braze"
    ALUMINIUM = "aluminium"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "plug": "Plug weld",
            "seam": "Seam, MAG",
            "braze": "Seam, arc brazed",
            "aluminium": "Seam, aluminium MIG",
        }[self.value]


def way_of(weld: PlugWeldFile | SeamWeldFile) -> JoiningMethod:
    """Say which way of joining a weld file describes, as the rules name it."""
    metal = weld.set_up.wire.metal
    if metal in BRONZE:  # in a hole too: the rules for melted steel are none for it
        return JoiningMethod.BRAZE
    if metal is WireMetal.ALUMINIUM:
        return JoiningMethod.ALUMINIUM_MIG
    if isinstance(weld, PlugWeldFile):
        return JoiningMethod.PLUG
    lap = weld.joint.kind is JointKind.LAP
    return JoiningMethod.LAP_SEAM if lap else JoiningMethod.BUTT_BACKED


def arc_kind(weld: PlugWeldFile | SeamWeldFile) -> ArcKind:
    """Say which of the arc processes a weld file describes."""
    metal = weld.set_up.wire.metal
    if isinstance(weld, PlugWeldFile):
        return ArcKind.PLUG
    if metal is WireMetal.ALUMINIUM:
        return ArcKind.ALUMINIUM
    return ArcKind.BRAZE if metal in BRONZE else ArcKind.SEAM


@dataclass(frozen=True, slots=True)
class ArcProposalView:
    """Proposed feed, voltage and time or speed, as written down; ``keys`` of the whole weld."""

    event_id: str
    at: datetime
    keys: Keys
    answer: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class ArcSetUpView:
    """The set-up in use, with what it is used on; ``own`` when it was not the proposed one."""

    event_id: str
    at: datetime
    accepted_by: str
    keys: Keys
    surroundings: Surroundings
    own: bool
    mark: str = ""  # "Not the maker's ..." when no word of the maker allows this way here


@dataclass(frozen=True, slots=True)
class ArcPredictionView:
    """A prediction as it was written down: what went in, what came out, by which model."""

    event_id: str
    at: datetime
    keys: Keys
    answer: Mapping[str, Any]
    data_digest: str


@dataclass(frozen=True, slots=True)
class LookView:
    """What somebody saw on a welded plug, and what was said of its inside."""

    event_id: str
    at: datetime
    seen_by: str
    looked: Mapping[str, Any]
    answer: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class ArcView:
    """A joint welded by an arc: described, proposed, accepted; looks at what was welded."""

    keys: Keys
    proposal: ArcProposalView | None = None
    set_up: ArcSetUpView | None = None
    predictions: tuple[ArcPredictionView, ...] = ()
    looks: tuple[LookView, ...] = ()

    @property
    def chosen(self) -> Keys:
        """The weld as it is to be made: accepted, else proposed, else as described."""
        source = self.set_up or self.proposal
        return source.keys if source is not None else self.keys

    @property
    def weld(self) -> PlugWeldFile | SeamWeldFile:
        """The weld that is chosen, in SI units."""
        return arc_weld_file_from(self.chosen)

    @property
    def way(self) -> JoiningMethod:
        """Which way of joining it is, as the rules name it."""
        return way_of(self.weld)

    @property
    def kind(self) -> ArcKind:
        """How it is welded."""
        return arc_kind(self.weld)
