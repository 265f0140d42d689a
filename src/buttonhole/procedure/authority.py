"""By whose word a joint is welded; the order is fixed and the vehicle maker stands first."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import IntEnum

from buttonhole.units import BadInput


class Authority(IntEnum):
    """Whose rule it is, the highest first; a lower one never overrules a higher one."""

    MAKER_PROCEDURE = 1
    MAKER_GENERAL = 2
    MAKER_ANSWER = 3
    STANDARD = 4
    GENERIC = 5
    REFUSE = 6

    @property
    def words(self) -> str:
        """What it is called."""
        return {
            1: "the maker's procedure for this model and joint",
            2: "the maker's general welding section or bulletin",
            3: "a written answer of the maker",
            4: "a standard or published trade guide",
            5: "the program's generic rule: no maker's text found",
            6: "no rule: do not weld, ask the maker",
        }[self.value]

    @property
    def is_makers(self) -> bool:
        """The vehicle maker's own word: only this releases without a deviation."""
        return self <= Authority.MAKER_ANSWER


def highest(*found: Authority) -> Authority:
    """Return the one that counts among those found; none found: refuse."""
    return min(found, default=Authority.REFUSE)


def _said(key: str, text: str, what: str) -> None:
    if not text.strip():
        raise BadInput(key, f"is missing; {what}")


def same_person(one: str, other: str) -> bool:
    """Whether two names are of one person: case, spaces and dots do not count."""

    def plain(name: str) -> str:
        return re.sub(r"[\s.]+", "", name).casefold()

    return plain(one) == plain(other)


@dataclass(frozen=True, slots=True)
class MakerProcedure:
    """What the vehicle maker says about this joint, and who read it where and when.

    ``permits`` is false when the maker's text forbids this way of welding here. ``method`` is the
    way of joining the text names (``procedure.joining.method``); empty: it speaks of the weld at
    hand.

    Raises
    ------
    BadInput
        Something is missing, or the source is not the maker.
    """

    reference: str
    revision: str
    read_on: date
    read_by: str
    says: str
    page_image_hash: str | None = None
    authority: Authority = Authority.MAKER_PROCEDURE
    permits: bool = True
    method: str = ""

    def allows(self, ways: Iterable[str]) -> bool:
        """Whether it allows one of these ways of joining; unnamed it is the one at hand."""
        return self.permits and (not self.method or self.method in ways)

    def __post_init__(self) -> None:
        """Refuse an entry that nobody could find again."""
        _said("reference", self.reference, "give number and page of the maker's document")
        _said("revision", self.revision, 'give the revision or date printed, or "none printed"')
        _said("read_by", self.read_by, "say who read it")
        _said("says", self.says, "write down what it says about this joint")
        if not self.authority.is_makers:
            raise BadInput(
                "authority",
                f"is {self.authority.words}; that is not the maker's word. Ask the maker, or sign "
                "a deviation",
            )
        if self.page_image_hash is not None and not re.fullmatch(
            r"[0-9a-f]{64}", self.page_image_hash
        ):
            raise BadInput("page_image_hash", "is no SHA-256; give 64 digits 0-9 and a-f")


@dataclass(frozen=True, slots=True)
class Deviation:
    """A decision to weld without the maker's procedure or otherwise than it says.

    Two different people answer for it by name, with the reason.

    Raises
    ------
    BadInput
        A reason or name is missing, or both names are of one person.
    """

    reason: str
    signed_by: str
    second_signature: str

    def __post_init__(self) -> None:
        """Refuse a deviation that one person could make alone or without a reason."""
        _said("reason", self.reason, "say why the maker's procedure is not followed")
        _said("signed_by", self.signed_by, "a named person must sign")
        _said("second_signature", self.second_signature, "a second named person must sign")
        if len(self.reason.split()) < 3:
            raise BadInput(
                "reason", f"{self.reason.strip()!r} explains nothing; give the reason in a sentence"
            )
        if same_person(self.signed_by, self.second_signature):
            raise BadInput("second_signature", "is the same person; a second one must sign")
