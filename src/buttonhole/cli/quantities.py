"""Options that are quantities: a text with its unit in, an SI float out."""

from datetime import date
from typing import overload

from buttonhole.units import BadInput, parse


@overload
def quantity(option: str, text: str, kind: str) -> float: ...
@overload
def quantity(option: str, text: None, kind: str) -> None: ...
@overload
def quantity(option: str, text: str | None, kind: str) -> float | None: ...
def quantity(option: str, text: str | None, kind: str) -> float | None:
    """Read the value of an option.

    Parameters
    ----------
    option : str
        The option as typed, for the message.
    text : str or None
        Number and unit; None when the option was left out.
    kind : str
        Kind of quantity.

    Returns
    -------
    float or None
        The value [SI unit of the kind].

    Raises
    ------
    BadInput
        No number, no unit, or the wrong one.
    """
    return None if text is None else parse(text, kind, option)


def day(option: str, text: str) -> date:
    """Read a date as year-month-day.

    Parameters
    ----------
    option : str
        The option as typed, for the message.
    text : str
        For example ``2026-11-25``.

    Returns
    -------
    date
        The day.

    Raises
    ------
    BadInput
        No such day.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadInput(option, f"is {text!r}; give year-month-day, e.g. 2026-11-25") from None
