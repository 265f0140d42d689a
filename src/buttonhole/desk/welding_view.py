"""Read models of the welds that were made on the vehicle."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class MadeWeld:
    """A weld on the vehicle: ticked by whom, when, under which release.

    ``late`` says why no release held when it was ticked; then it deviates. ``release`` is empty
    when none was ever given.
    """

    number: int
    event_id: str
    at: datetime
    by: str
    release: str
    machine: str
    late: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class UndoneWeld:
    """A tick that was taken back; it keeps its trace."""

    number: int
    made_at: datetime
    made_by: str
    undone_at: datetime
    undone_by: str
    reason: str


@dataclass(frozen=True, slots=True)
class WeldCheck:
    """The welds looked at from both sides, a wedge put beside some; ``bad`` are not good."""

    event_id: str
    at: datetime
    by: str
    wedged: tuple[int, ...]
    bad: tuple[int, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Closing:
    """The joint is done: who says so, what protects its back, why welds deviate."""

    event_id: str
    at: datetime
    by: str
    protection: str
    deviations: str = ""


@dataclass(frozen=True, slots=True)
class EndCheck:
    """An end coupon beside the start coupon of a release, at the interface that fell most.

    `start`, `end`, `limit`, `fall` [m]; `welds` between them; `interval`: welds between dresses
    from then on; `look_at`: first and last weld for the wedge, counted from the start coupon.
    """

    event_id: str
    at: datetime
    by: str
    release: str
    coupon: str
    number: int
    start_number: int
    interface: int
    start: float  # m
    end: float  # m
    limit: float  # m
    fall: float  # m
    welds: int
    interval: int
    look_at: tuple[int, int] | None
    accepted: bool
    drifts: bool
    words: str


@dataclass(frozen=True, slots=True)
class WeldingView:
    """What was welded of a joint on the vehicle."""

    planned: int | None = None
    made: tuple[MadeWeld, ...] = ()
    undone: tuple[UndoneWeld, ...] = ()
    check: WeldCheck | None = None
    closing: Closing | None = None

    def weld(self, number: int) -> MadeWeld | None:
        """Find a weld by its number."""
        return next((one for one in self.made if one.number == number), None)

    @property
    def late(self) -> tuple[MadeWeld, ...]:
        """The welds that were made while no release held."""
        return tuple(one for one in self.made if one.late)

    @property
    def last(self) -> MadeWeld | None:
        """The weld that was made last."""
        return max(self.made, key=lambda one: (one.at, one.event_id), default=None)

    def goal(self, required: int | None) -> int | None:
        """Number of welds to make [-]: as planned, else what the maker's factor asks for."""
        return self.planned if self.planned is not None else required

    def is_complete(self, required: int | None) -> bool:
        """Whether every weld up to the goal is made; never without a goal."""
        goal = self.goal(required)
        numbers = {one.number for one in self.made}
        return goal is not None and all(one in numbers for one in range(1, goal + 1))

    @property
    def is_verified(self) -> bool:
        """Whether the welds were checked and none was bad."""
        return self.check is not None and not self.check.bad

    def open(self, required: int | None) -> tuple[int, ...]:
        """Numbers that are still to be made [-], in order; with no goal the next one."""
        goal = self.goal(required) or 0
        numbers = {one.number for one in self.made}
        found = tuple(one for one in range(1, goal + 1) if one not in numbers)
        return found or (max(numbers, default=0) + 1,)
