"""When a release ends. Every figure is our default, editable, common practice without a source."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from buttonhole.units import BadInput


class EndCondition(StrEnum):
    """What ends a release; the value is the word in records."""

    SET_UP_CHANGED = "set_up_changed"
    NEW_VEHICLE = "new_vehicle"
    STACK_CHANGED = "stack_changed"
    BETWEEN_SHEETS_CHANGED = "between_sheets_changed"
    MACHINE_CHANGED = "machine_changed"
    PROGRAM_CHANGED = "program_changed"
    ARMS_CHANGED = "arms_changed"
    TIPS_CHANGED = "tips_changed"
    TIPS_DRESSED = "tips_dressed"
    SUPPLY_CHANGED = "supply_changed"
    PERSON_CHANGED = "person_changed"
    WELDS_DONE = "welds_done"
    TIME_OVER = "time_over"
    NEW_SHIFT = "new_shift"
    ANOMALY = "anomaly"
    CALIBRATION_EXPIRED = "calibration_expired"
    PROCEDURE_REVISED = "procedure_revised"
    TORCH_CHANGED = "torch_changed"
    WIRE_CHANGED = "wire_changed"
    GAS_CHANGED = "gas_changed"

    @property
    def words(self) -> str:
        """As it stands on the card."""
        return _WORDS[self]


_WORDS = {
    EndCondition.SET_UP_CHANGED: "any value on this card is changed",
    EndCondition.NEW_VEHICLE: "another vehicle is begun",
    EndCondition.STACK_CHANGED: "sheets, thicknesses, their order or coating are others",
    EndCondition.BETWEEN_SHEETS_CHANGED: "sealer, adhesive, primer or gap is another",
    EndCondition.MACHINE_CHANGED: "another machine is taken",
    EndCondition.PROGRAM_CHANGED: "the machine's program version is changed",
    EndCondition.ARMS_CHANGED: "another arm pair is mounted",
    EndCondition.TIPS_CHANGED: "other electrode caps are mounted",
    EndCondition.TIPS_DRESSED: "the tips are dressed: weld one coupon, then release again",
    EndCondition.SUPPLY_CHANGED: "another outlet or extension lead is used",
    EndCondition.PERSON_CHANGED: "another person welds",
    EndCondition.WELDS_DONE: "the number of welds is reached",
    EndCondition.TIME_OVER: "the time is over",
    EndCondition.NEW_SHIFT: "a new shift begins",
    EndCondition.ANOMALY: "it splashes, shows an error or sounds different",
    EndCondition.CALIBRATION_EXPIRED: "a calibration expires",
    EndCondition.PROCEDURE_REVISED: "the maker revises the procedure",
    EndCondition.TORCH_CHANGED: "another torch, liner or earth is used",
    EndCondition.WIRE_CHANGED: "another wire or spool is put in: weld one coupon, release again",
    EndCondition.GAS_CHANGED: "another gas or cylinder is used: weld one coupon, release again",
}

# What only a squeeze gun has, and what only an arc has.
_OF_A_GUN = frozenset(
    {
        EndCondition.ARMS_CHANGED,
        EndCondition.TIPS_CHANGED,
        EndCondition.TIPS_DRESSED,
        EndCondition.WELDS_DONE,
    }
)
_OF_AN_ARC = frozenset(
    {EndCondition.TORCH_CHANGED, EndCondition.WIRE_CHANGED, EndCondition.GAS_CHANGED}
)
SPOT_ENDS = tuple(one for one in EndCondition if one not in _OF_AN_ARC)
ARC_ENDS = tuple(one for one in EndCondition if one not in _OF_A_GUN)


SHIFT = timedelta(hours=12)  # a set-up is checked anew each shift; common practice, no source
CLOCK_SLACK = timedelta(minutes=1)  # a clock that is kept right by the network steps back less


@dataclass(frozen=True, slots=True)
class ValidityPolicy:
    """How long a release holds: ``hours`` [h], numbers of welds, and coupons it rests on.

    An arc has no tips that wear: ``welds_arc`` is none unless somebody sets a number.
    ``strict_coupons``: of an arc weld of the strict class (ultra-high strength, three sheets).
    """

    hours: float = 4.0  # h
    welds_coated: int = 50
    welds_bare: int = 100
    coupons: int = 1
    welds_arc: int | None = None
    strict_coupons: int = 2

    def __post_init__(self) -> None:
        """Refuse a release without an end or without a coupon."""
        if not 0.0 < self.hours <= 24.0:
            raise BadInput("hours", f"is {self.hours:g}; a release holds up to 24 h")
        counted = (self.welds_coated, self.welds_bare, self.coupons, self.strict_coupons)
        if min(*counted, 1 if self.welds_arc is None else self.welds_arc) < 1:
            raise BadInput("policy", "welds and coupons must be at least one")

    def end(self, now: datetime) -> datetime:
        """Return when a release made now ends by time."""
        return now + timedelta(hours=self.hours)


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that happened at the machine or the vehicle after a release."""

    condition: EndCondition
    at: datetime
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Ending:
    """What ended a release, when, and in plain words."""

    condition: EndCondition
    at: datetime
    words: str


def aware(key: str, moment: datetime) -> None:
    """Refuse a time without a time zone.

    Raises
    ------
    BadInput
        The time has none.
    """
    if moment.tzinfo is None or moment.utcoffset() is None:
        raise BadInput(key, "has no time zone; give the time with its zone")


def endings(
    released_at: datetime,
    valid_until: datetime,
    max_welds: int | None,
    now: datetime,
    happenings: Sequence[Happening],
    welds_made: int,
) -> tuple[Ending, ...]:
    """Return what has ended a release by now, in the order it happened; empty: it holds."""
    aware("now", now)
    found = []
    for each in happenings:
        aware("happening", each.at)
        if released_at <= each.at <= now:
            more = f" ({each.detail})" if each.detail else ""
            found.append(Ending(each.condition, each.at, f"Ended: {each.condition.words}{more}."))
    if now < released_at - CLOCK_SLACK:
        words = (
            "Ended: the clock stands before the moment of release, so nobody can say how long it "
            f"has held (now {now.isoformat(timespec='minutes')})."
        )
        found.append(Ending(EndCondition.TIME_OVER, now, words))
    if now >= valid_until:
        words = f"Ended: the time is over since {valid_until.isoformat(timespec='minutes')}."
        found.append(Ending(EndCondition.TIME_OVER, valid_until, words))
    if max_welds is not None and welds_made >= max_welds:
        words = f"Ended: {welds_made} welds made, {max_welds} were released."
        found.append(Ending(EndCondition.WELDS_DONE, now, words))
    return tuple(sorted(found, key=lambda ending: ending.at))
