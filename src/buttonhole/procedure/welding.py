"""What is watched while a vehicle is welded: the tips, and fire after the last weld.

The figures are our defaults, editable, common practice without a source; local rules and the
vehicle maker's procedure may ask for more.
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta

from buttonhole.procedure.validity import aware
from buttonhole.units import BadInput

USUAL_WATCH = 3600.0  # s; half an hour to an hour is asked for in the trade, we take the longer
SHORTEST_WATCH, LONGEST_WATCH = 1800.0, 14400.0  # s
WEDGE_EVERY = 5  # of the welds, beside the first and the last
SOON = 5  # welds before the tips are due


@dataclass(frozen=True, slots=True)
class FireWatch:
    """Somebody stays and looks for `duration` [s] after the last weld, made at `last_weld`."""

    last_weld: datetime
    duration: float = USUAL_WATCH  # s

    def __post_init__(self) -> None:
        """Refuse a watch that is too short to find a smouldering seam, or a time without a zone."""
        aware("last_weld", self.last_weld)
        check_watch(self.duration)

    @property
    def until(self) -> datetime:
        """When it is over."""
        return self.last_weld + timedelta(seconds=self.duration)

    def left(self, now: datetime) -> float:
        """
        Say how long it still goes on.

        Parameters
        ----------
        now : datetime
            The moment, with its time zone.

        Returns
        -------
        float
            Time left [s]; 0 when it is over. A clock that was set back does not make it longer
            than the whole watch.
        """
        aware("now", now)
        return min(max((self.until - now).total_seconds(), 0.0), self.duration)


def check_watch(duration: float) -> None:
    """
    Refuse a fire watch nobody should keep.

    Parameters
    ----------
    duration : float
        How long it is to go on [s].

    Raises
    ------
    BadInput
        Shorter than half an hour or longer than four hours.

    Sources
    -------
    - common practice, no source: half an hour to an hour after hot work.
    """
    if not SHORTEST_WATCH <= duration <= LONGEST_WATCH:
        raise BadInput(
            "minutes",
            f"is {duration / 60:g}; a fire watch goes on for 30 to 240 min after the last weld",
        )


@dataclass(frozen=True, slots=True)
class TipCount:
    """Welds since the tips were dressed, and after how many they are due."""

    welds: int
    every: int

    @property
    def left(self) -> int:
        """Welds until the tips are due [-]; 0 when they are."""
        return max(self.every - self.welds, 0)

    @property
    def is_due(self) -> bool:
        """Whether the tips are to be dressed before the next weld."""
        return self.welds >= self.every

    @property
    def is_soon(self) -> bool:
        """Whether they will be due within a few welds."""
        return self.left <= SOON


def wedge_sample(made: Collection[int], also: Collection[int] = ()) -> tuple[int, ...]:
    """
    Say which welds a wedge or chisel is put beside, where the maker names no rate.

    Parameters
    ----------
    made : collection of int
        Numbers of the welds that were made [-].
    also : collection of int
        Welds that are to be among them whatever their number [-].

    Returns
    -------
    tuple of int
        The first, the last, every fifth and those of `also`, in order.

    Sources
    -------
    - common practice, no source: published makers' rates go from every tenth weld to all of them.
    """
    order = sorted(made)
    chosen = {*order[:1], *order[-1:], *order[WEDGE_EVERY - 1 :: WEDGE_EVERY]}
    return tuple(sorted(chosen | (set(also) & set(order))))
