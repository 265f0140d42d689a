"""The vehicle identification number: what is wrong with it, and its check digit if it has one."""

from dataclasses import dataclass

from buttonhole.units import BadInput

LENGTH = 17
FORBIDDEN = {"I": "1", "O": "0", "Q": "0 or 9"}  # letter: what it is mostly misread from
CHECK_PLACE = 9  # counted from 1
# First signs of the regions whose rules ask for a check digit: North America and China.
_WITH_CHECK = frozenset("12345L")
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_VALUES = dict(
    zip("ABCDEFGHJKLMNPRSTUVWXYZ", (*range(1, 9), *range(1, 6), 7, 9, *range(2, 10)), strict=True)
)


@dataclass(frozen=True, slots=True)
class Vin:
    """A number as it is kept, and what is remarkable about it; remarks refuse nothing."""

    text: str
    remarks: tuple[str, ...] = ()
    check_applies: bool = False
    check_fits: bool = False


def read_vin(text: str) -> Vin:
    """
    Read a vehicle identification number.

    Parameters
    ----------
    text : str
        As typed; blanks, dashes and small letters do not matter.

    Returns
    -------
    Vin
        With a remark where its check digit does not fit, in the regions that ask for one.

    Raises
    ------
    BadInput
        When it has not 17 signs, or one that no such number has; says which and where.

    Sources
    -------
    - handbook-memory: ISO 3779 (17 signs, no I, O, Q; the last four are figures) and the check
      digit of North America (letters to figures, weights, remainder by 11).
    """
    cleaned = "".join(one for one in text.upper() if one not in " -\t")
    wrong = [
        f"sign {place} is {one}"
        + (f", look whether it is {FORBIDDEN[one]}" if one in FORBIDDEN else "")
        for place, one in enumerate(cleaned, start=1)
        if one in FORBIDDEN or not (one.isascii() and (one.isdigit() or one.isalpha()))
    ]
    if wrong:
        raise BadInput(
            "vin",
            f"is {cleaned[:20]!r}; a VIN has letters and figures without I, O and Q: "
            + "; ".join(wrong[:4]),
        )
    if len(cleaned) != LENGTH:
        raise BadInput(
            "vin",
            f"is {cleaned[:20]!r}, {len(cleaned)} signs; a VIN has 17 letters and figures, without "
            "I, O and Q. Leave it empty if there is none",
        )
    applies = cleaned[0] in _WITH_CHECK
    fits = check_digit(cleaned) == cleaned[CHECK_PLACE - 1]
    remarks = []
    if applies and not fits:
        remarks.append(
            f"Sign 9 is {cleaned[CHECK_PLACE - 1]}; worked out from the others it would be "
            f"{check_digit(cleaned)}. Read the plate again: one sign may be wrong."
        )
    if not cleaned[-4:].isdigit():
        remarks.append("The last four signs are figures in most numbers. Read the plate again.")
    return Vin(cleaned, tuple(remarks), applies, fits)


def check_digit(vin: str) -> str:
    """
    Work out the ninth sign from the others.

    Parameters
    ----------
    vin : str
        Seventeen signs; the ninth has no weight.

    Returns
    -------
    str
        A figure, or X for ten.

    Sources
    -------
    - handbook-memory: weights and values of letters, as North American rules have them.
    """
    total = sum(
        weight * (int(one) if one.isdigit() else _VALUES[one])
        for weight, one in zip(_WEIGHTS, vin, strict=True)
    )
    return "X" if total % 11 == 10 else str(total % 11)
