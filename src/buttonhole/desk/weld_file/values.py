"""Reads single values of a weld file and says what would be right when one is not."""

from collections.abc import Mapping

from pydantic_core import PydanticCustomError

from buttonhole.units import BadInput, parse


def _fault(message: str) -> PydanticCustomError:
    # the message goes through a parameter, so braces somebody typed are not taken for fields
    return PydanticCustomError("buttonhole", "{message}", {"message": message})


def quoted(value: object) -> str:
    """What somebody wrote, on one line and not longer than a glance."""
    text = "".join(letter if letter.isprintable() else "?" for letter in str(value))
    return f'"{text}"' if len(text) <= 40 else f'"{text[:37]}..."'


def kind_of(value: object) -> str:
    """What somebody gave in place of a text with a unit, in words."""
    if isinstance(value, bool):
        return f"is {str(value).lower()}"
    if isinstance(value, int | float):
        return f"is the bare number {quoted(value)[1:-1]}"
    if isinstance(value, Mapping):
        return "is a table"
    if isinstance(value, list | tuple):
        return "is a list"
    if value is None:
        return "is empty"
    return f"is {quoted(value)}"


def short_text(value: object, *, example: str) -> str:
    """A text that is neither empty nor longer than a name."""
    if not isinstance(value, str):
        raise _fault(f'{kind_of(value)}; give text in quotes, e.g. "{example}"')
    if not value.strip() or len(value) > 80 or not value.isprintable():
        raise _fault(f'is {quoted(value)}; give a short text, e.g. "{example}"')
    return value


def quantity(
    value: object, *, kind: str, example: str, low: float, high: float, span: str
) -> float:
    """SI value of a text with a unit; ``span`` tells the range in the unit people use."""
    if not isinstance(value, str):
        reason = "" if isinstance(value, Mapping | list | tuple) else "with its unit "
        raise _fault(f'{kind_of(value)}; give the value {reason}in quotes, e.g. "{example}"')
    try:
        found = parse(value, kind)
    except BadInput as bad:
        raise _fault(bad.message) from None
    if not low <= found <= high:  # also catches NaN
        raise _fault(f"is {quoted(value)}; give {span}")
    return found


def choice(value: object, *, allowed: tuple[str, ...]) -> str:
    """The allowed word somebody wrote, small and capital letters alike."""
    typed = short_text(value, example=allowed[0]).strip().casefold()
    for one in allowed:
        if typed == one.casefold():
            return one
    raise _fault(f"is {quoted(value)}; give one of {', '.join(allowed)}")
