"""Makes an answer plain enough for JSON, the same for the command line and the API."""

import math
from collections.abc import Iterable
from typing import Any

DIGITS = 6  # more than any figure of ours is worth


def plain_answer(value: Any) -> Any:
    """Turn an answer into what JSON can hold.

    Parameters
    ----------
    value : object
        Dictionaries, lists, arrays, texts and numbers.

    Returns
    -------
    object
        Floats with six digits; what is no number (nan, infinity) as null.
    """
    if isinstance(value, bool | int | str) or value is None:
        return value
    if isinstance(value, float):
        return float(f"{value:.{DIGITS}g}") if math.isfinite(value) else None
    if isinstance(value, dict):
        return {str(key): plain_answer(one) for key, one in value.items()}
    if hasattr(value, "tolist"):  # arrays
        return plain_answer(value.tolist())
    if isinstance(value, Iterable):
        return [plain_answer(one) for one in value]
    return str(value)
