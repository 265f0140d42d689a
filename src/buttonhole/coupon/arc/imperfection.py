"""What can be seen on an arc weld before and after it is torn, and what it counts.

They stand in the table ``arc_imperfections``: words of our own, the number of ISO 6520-1 where one
is known, the limit of ISO 5817 level C for thin sheet where it was read. The rest is common
practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from buttonhole.coupon.arc.fracture import family
from buttonhole.coupon.arc.piece import ArcInterface, ArcPiece
from buttonhole.coupon.judgement import Finding, Weight
from buttonhole.sources import Status, table
from buttonhole.units import BadInput

LARGEST = 0.3  # m


class Rule(StrEnum):
    """What an imperfection counts; the value is the word in the table."""

    REFUSE = "refuse"
    LIMIT = "limit"
    UNDECIDED = "undecided"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Imperfection:
    """One thing that can be seen. ``number``: of ISO 6520-1, None where none is known.

    ``share`` [-] of the thinner sheet is its limit, where ``rule`` is a limit.
    """

    key: str
    name: str
    number: int | None
    on: frozenset[str]
    sign: str
    measure: str
    rule: Rule
    share: float | None  # -
    do: str
    source: str  # key in the bibliography
    status: Status
    note: str = ""

    def is_on(self, piece: ArcPiece) -> bool:
        """Whether a weld of this kind can have it."""
        return "all" in self.on or family(piece) in self.on


@dataclass(frozen=True, slots=True)
class Seen:
    """One imperfection seen, with its ``size`` [m] where it was measured.

    Raises
    ------
    BadInput
        No such imperfection, or a size no weld has.
    """

    key: str
    size: float | None = None  # m

    def __post_init__(self) -> None:
        imperfection(self.key)
        if self.size is not None and not 0.0 <= self.size <= LARGEST:  # also catches NaN
            raise BadInput(
                self.key, f"is {self.size * 1e3:g} mm; give 0 to {LARGEST * 1e3:g} mm, or no size"
            )


@cache
def imperfections() -> tuple[Imperfection, ...]:
    """Return every imperfection of the table, in its order."""
    return tuple(
        Imperfection(
            key=str(row["key"]),
            name=str(row["name"]),
            number=None if row["number [1]"] is None else int(row["number [1]"]),
            on=frozenset(str(row["on"]).split("|")),
            sign=str(row["sign"]),
            measure=str(row["measure"]),
            rule=Rule(str(row["rule"])),
            share=None if row["share [-]"] is None else float(row["share [-]"]),
            do=str(row["do"]),
            source=str(row["source"]),
            status=Status(str(row["status"])),
            note=str(row["note"] or ""),
        )
        for row in table("arc_imperfections").rows()
    )


def imperfection(key: str) -> Imperfection:
    """Return an imperfection by its key.

    Raises
    ------
    BadInput
        No such key; the message lists them.
    """
    for one in imperfections():
        if one.key == key:
            return one
    keys = ", ".join(one.key for one in imperfections())
    raise BadInput("imperfection", f"{key[:40]!r} is none of: {keys}")


def offered_imperfections(piece: ArcPiece) -> tuple[Imperfection, ...]:
    """Return what a weld of this kind can show."""
    return tuple(one for one in imperfections() if one.is_on(piece))


def weigh_seen(
    seen: Sequence[Seen], piece: ArcPiece, interface: ArcInterface
) -> tuple[Finding, ...]:
    """Weigh what was seen on a weld.

    Parameters
    ----------
    seen : sequence of Seen
        What was seen.
    piece : ArcPiece
        What was joined.
    interface : ArcInterface
        Whose sheets the limits go by.

    Returns
    -------
    tuple of Finding
        One for each, in the order seen.

    Raises
    ------
    BadInput
        A weld of this kind does not show that.

    Sources
    -------
    iso-5817 (level C, as listed); the rest common practice, no source.
    """
    return tuple(_weigh(one, piece, interface) for one in seen)


def _weigh(seen: Seen, piece: ArcPiece, interface: ArcInterface) -> Finding:
    one = imperfection(seen.key)
    if not one.is_on(piece):
        listed = ", ".join(each.key for each in offered_imperfections(piece))
        raise BadInput(
            "imperfection", f"{one.key!r} is not seen on a {piece.form.words}; give one of {listed}"
        )
    name = one.name[0].upper() + one.name[1:]
    whose = f" ({_source(one)})"
    if one.rule is Rule.REFUSE:
        return Finding(Weight.REJECT, (f"{name}: not permitted{whose}.",), one.do)
    if one.rule is Rule.UNDECIDED:
        return Finding(Weight.UNDECIDED, (f"{name}: it may be good or not{whose}.",), one.do)
    if one.rule is Rule.NOTE:
        return Finding(Weight.NOTE, (f"{name}.",), one.do)
    limit = (one.share or 0.0) * interface.thinner_thickness
    if seen.size is None:
        return Finding(
            Weight.UNDECIDED,
            (f"{name}, not measured; up to {limit * 1e3:.2f} mm is permitted{whose}.",),
            f"Measure {one.measure}.",
        )
    size = f"{name} {seen.size * 1e3:.2f} mm, permitted {limit * 1e3:.2f} mm{whose}"
    if seen.size > limit * (1.0 + 1e-9):
        return Finding(Weight.REJECT, (f"{size}: too much.",), one.do)
    return Finding(Weight.NOTE, (f"{size}.",))


def _source(one: Imperfection) -> str:
    if one.source == "iso-5817":
        number = f", number {one.number} of ISO 6520-1" if one.number else ""
        return f"ISO 5817 level C{number}"
    return "common practice, no source"
