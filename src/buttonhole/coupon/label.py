"""The code on a coupon's label: short, without look-alikes, and with a letter that finds slips."""

from buttonhole.units import BadInput

# Twenty-three signs that nobody takes for one another, a prime: every wrong sign and every two
# neighbours swapped are found. No 0 O Q, 1 I, 2 Z, 5 S, 6 G, 8 B.
SIGNS = "ACDEFHJKLMNPRTUVWXY3479"
LENGTH = 5  # signs before the check sign: 6.4 million codes
_LOOKS_LIKE = {"1": "L", "I": "L", "B": "3", "8": "3", "G": "9", "Q": "9", "O": "D", "0": "D"}


def label_code(number: int) -> str:
    """
    Make a code of a number drawn by chance.

    Parameters
    ----------
    number : int
        Any number from 0; what is over the last code begins again [-].

    Returns
    -------
    str
        Six signs, the last one checks the others.

    Raises
    ------
    BadInput
        Below 0.
    """
    if number < 0:
        raise BadInput("label", f"is made of {number}; draw a number from 0")
    rest, digits = number, []
    for _ in range(LENGTH):
        rest, digit = divmod(rest, len(SIGNS))
        digits.append(digit)
    return "".join(SIGNS[one] for one in digits) + SIGNS[_check(digits)]


def read_label(text: str) -> str:
    """
    Read a code as typed or scanned.

    Parameters
    ----------
    text : str
        With blanks, dashes, small letters or a look-alike, as people type.

    Returns
    -------
    str
        The code.

    Raises
    ------
    BadInput
        When it is no code, or one sign is wrong.
    """
    wanted = [one for one in text.upper() if one.isalnum()]
    cleaned = "".join(one if one in SIGNS else _LOOKS_LIKE.get(one, one) for one in wanted)
    if len(cleaned) != LENGTH + 1 or any(one not in SIGNS for one in cleaned):
        raise BadInput("label", f"is {text[:20]!r}; a label has {LENGTH + 1} signs of {SIGNS}")
    digits = [SIGNS.index(one) for one in cleaned]
    if _check(digits[:-1]) != digits[-1]:
        raise BadInput("label", f"is {text[:20]!r}; one sign is wrong, look at it again")
    return cleaned


def _check(digits: list[int]) -> int:
    """Weigh each sign by its place, from 2: swapped neighbours weigh differently."""
    return sum(place * one for place, one in enumerate(digits, start=2)) % len(SIGNS)
