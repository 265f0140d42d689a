"""What was found on an unknown sheet, as it was said, turned into hints."""

from collections.abc import Mapping
from enum import StrEnum
from typing import TypeVar

from buttonhole.joint.hints import (
    THICKNESS_OFF,
    HardnessTester,
    Hints,
    Look,
    Magnet,
    Spark,
)
from buttonhole.units import BadInput

Word = TypeVar("Word", bound=StrEnum)
WORDS: dict[str, type[StrEnum]] = {
    "magnet": Magnet,
    "tester": HardnessTester,
    "look": Look,
    "spark": Spark,
}


def hints_from(
    *,
    thickness: float | None = None,
    thickness_off: float | None = None,
    hardness: float | None = None,
    hardness_off: float | None = None,
    words: Mapping[str, str] | None = None,
) -> Hints:
    """Turn what was said into hints.

    Parameters
    ----------
    thickness, thickness_off : float or None
        Measured, and how far it may be off [m].
    hardness, hardness_off : float or None
        Reading, and how far it may be off [HV].
    words : mapping, optional
        ``magnet``, ``tester``, ``look``, ``spark`` and ``place`` in the words of their lists; "" or
        nothing where nobody looked.

    Returns
    -------
    Hints
        Checked.

    Raises
    ------
    BadInput
        A word that is none of its list, or a figure that no body sheet has.
    """
    said = words or {}
    return Hints(
        thickness=thickness,
        thickness_off=THICKNESS_OFF if thickness_off is None else thickness_off,
        magnet=_word(said, "magnet", Magnet),
        hardness=hardness,
        hardness_off=hardness_off,
        tester=_word(said, "tester", HardnessTester) or HardnessTester.UCI,
        look=_word(said, "look", Look),
        place=said.get("place", ""),
        spark=_word(said, "spark", Spark),
    )


def _word(said: Mapping[str, str], key: str, kind: type[Word]) -> Word | None:
    text = " ".join(said.get(key, "").lower().split())
    if not text:
        return None
    try:
        return kind(text)
    except ValueError as error:
        words = ", ".join(repr(one.value) for one in kind)
        raise BadInput(key, f"{text[:40]!r} is none of: {words}") from error
