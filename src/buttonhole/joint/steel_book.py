"""What the steel book says of a sheet steel besides its strength: kind, habits, near relatives."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from buttonhole.joint.steel import UNKNOWN_STEEL, Steel, aliases, every_steel
from buttonhole.sources import Status, table
from buttonhole.units import BadInput


class Kinship(StrEnum):
    """How near two steels of different standards are; never a leave to swap them."""

    SAME = "same"  # one steel under an older name, its figures perhaps measured otherwise
    NEAREST = "nearest, not identical"


@dataclass(frozen=True, slots=True)
class Relative:
    """A steel of another standard beside one, how near it is, and who says so."""

    steel: Steel
    kinship: Kinship
    source: str  # key in the bibliography
    status: Status


@dataclass(frozen=True, slots=True)
class Habit:
    """In which thickness a kind of steel is ``made`` [m] and ``usual`` [m], and where in a body.

    Habits are common practice: a body may hold any of them anywhere.
    """

    kind: str
    made: tuple[float, float]
    usual: tuple[float, float]
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """One steel of the book; ``elongation`` [-] is the smallest allowed, NaN where none is known.

    ``like`` names the steel that lends its property curves, "" for one that has its own. ``notes``
    are for people.
    """

    steel: Steel
    system: str  # the standard
    number: str  # material number, "" when it has none or none is known
    kind: str
    elongation: float
    gauge: str  # gauge length or test piece of the elongation
    elongation_status: Status
    composition_status: Status | None  # of the limits; None where none are known
    like: str
    habit: Habit
    names: tuple[str, ...]
    conflicts: tuple[str, ...]  # on what two sources differ
    notes: tuple[str, ...]

    @property
    def verified(self) -> bool:
        """The strengths were read in a published text, not remembered."""
        return self.steel.status is Status.READ


def book() -> tuple[Entry, ...]:
    """Return every steel of the book, those with property curves of their own first."""
    return tuple(_book().values())


def entry(steel: Steel) -> Entry:
    """Return what the book says of a listed steel.

    Parameters
    ----------
    steel : Steel
        A listed steel.

    Returns
    -------
    Entry
        What is known of it, each with how it was come by.

    Raises
    ------
    BadInput
        The steel is the unknown one, of which no book can say anything.
    """
    if steel.is_unknown or steel.designation not in _book():
        raise BadInput(
            "steel",
            f"{steel.designation!r} is not in the steel book; measure thickness, magnet and "
            "hardness to bound what it may be",
        )
    return _book()[steel.designation]


@cache
def _book() -> Mapping[str, Entry]:
    like = dict(_pairs("steel_book", "designation", "like"))
    habits = {one.kind: one for one in habits_listed()}
    limits = table("steel_composition_limits")
    known = dict(zip(limits.text("designation"), limits.row_status(), strict=True))
    facts = table("steel_facts")
    rows = zip(facts.rows(), facts.row_status(), strict=True)
    return MappingProxyType(
        {
            designation: _entry(
                steel, row, status, like.get(designation, ""), habits, known.get(designation)
            )
            for designation, (row, status) in {
                str(r["designation"]): (r, s) for r, s in rows
            }.items()
            for steel in (every_steel()[designation],)
        }
    )


def _entry(
    steel: Steel,
    row: Mapping[str, float | str | None],
    status: Status,
    like: str,
    habits: Mapping[str, Habit],
    composition_status: Status | None,
) -> Entry:
    stretch = row["A_min [%]"]
    kind = str(row["kind"])
    return Entry(
        steel=steel,
        system=str(row["system"]),
        number=str(row["number"]),
        kind=kind,
        elongation=stretch / 100.0 if isinstance(stretch, float) else math.nan,
        gauge=str(row["gauge"]),
        elongation_status=status,
        composition_status=composition_status,
        like=like,
        habit=habits[kind],
        names=aliases(steel),
        conflicts=_conflicts(steel.designation),
        notes=tuple(_notes(steel, kind, like)),
    )


def _notes(steel: Steel, kind: str, like: str) -> list[str]:
    said = []
    if steel.status is Status.DERIVED:
        said.append(
            "Unverified: only the strengths that its name states are known, no other limit. Never "
            "a pass or fail line by itself."
        )
    elif steel.status is not Status.READ:
        said.append(
            "Unverified: strengths from memory, no copy of the standard was at hand. Never a pass "
            "or fail line by itself."
        )
    said += [f"Sources differ on {one}." for one in _conflicts(steel.designation)]
    if like:
        said.append(
            f"Property curves are those of {like} scaled to this yield strength; typical "
            "composition is judged, not measured."
        )
    if kind.startswith("hot-stamped"):
        said.append("Strengths after hot stamping. As delivered the sheet is soft.")
    if steel.cold_worked:
        said.append("Strong by cold rolling: heat takes the strength away for good.")
    return said


def _conflicts(designation: str) -> tuple[str, ...]:
    rows = table("steel_conflicts").where("designation", designation).rows()
    return tuple(f"{row['quantity']}: {row['values']}" for row in rows)


def habits_listed() -> tuple[Habit, ...]:
    """Return the thickness and place habits of every kind of steel.

    Sources
    -------
    common practice, no source.
    """
    return tuple(
        Habit(
            kind=str(row["kind"]),
            made=_span(row, "t"),
            usual=_span(row, "usual"),
            places=tuple(str(row["places"]).split("; ")),
        )
        for row in table("steel_habits").rows()
    )


def _span(row: Mapping[str, float | str | None], name: str) -> tuple[float, float]:
    low, high = (float(row[f"{name}_{end} [mm]"] or 0.0) * 1e-3 for end in ("from", "to"))
    return low, high


def _pairs(name: str, left: str, right: str) -> tuple[tuple[str, str], ...]:
    listed = table(name)
    return tuple(zip(listed.text(left), listed.text(right), strict=True))


def relatives(steel: Steel) -> tuple[Relative, ...]:
    """Return the steels of other standards that come near a steel, the nearest first.

    Two steels that both stand beside a third one are named as nearest to each other; that they are
    the same is only said of a pair that is listed so.

    Parameters
    ----------
    steel : Steel
        A listed steel; the unknown one has no relatives.

    Returns
    -------
    tuple of Relative
        Without the steel itself. If one stands beside another, the other stands beside it, in the
        same way.

    Sources
    -------
    trade-designation (from memory, but for the rows that name a source).
    """
    found = _related().get(steel.designation, {})
    every = [
        Relative(every_steel()[other], kinship, source, status)
        for other, (kinship, source, status) in found.items()
    ]
    return tuple(sorted(every, key=lambda one: one.kinship is not Kinship.SAME))


Link = tuple[Kinship, str, Status]
_DIRECT = {"same": Kinship.SAME, "nearest": Kinship.NEAREST}


@cache
def _related() -> Mapping[str, Mapping[str, Link]]:
    listed = table("steel_equivalents")
    groups: dict[str, dict[str, Link]] = {}
    rows = zip(listed.rows(), listed.row_status(), strict=True)
    for row, status in rows:
        members = groups.setdefault(str(row["designation"]), {})
        members[str(row["other"])] = (_DIRECT[str(row["kind"])], str(row["source"]), status)
    related: dict[str, dict[str, Link]] = {}
    for hub, members in groups.items():
        for member, link in members.items():
            related.setdefault(hub, {})[member] = link
            related.setdefault(member, {})[hub] = link
        for one in members:
            for other in members:
                if one != other:
                    through = (Kinship.NEAREST, "trade-designation", Status.DERIVED)
                    related[one].setdefault(other, through)
    return MappingProxyType(related)


def is_listed(steel: Steel) -> bool:
    """Say whether the book holds the steel; the unknown one it does not."""
    return steel is not UNKNOWN_STEEL and steel.designation in _book()
