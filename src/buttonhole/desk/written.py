"""How domain values are written into events, and read back."""

import dataclasses
import math
import types
import typing
from collections.abc import Mapping
from datetime import UTC, date, datetime
from enum import Enum
from functools import cache
from typing import Any, TypeVar

import numpy as np

from buttonhole.joint.steel import Steel, find_steel
from buttonhole.record.event import moment, stamp
from buttonhole.units import BadInput

T = TypeVar("T")


def written(value: object) -> Any:
    """
    Turn a domain value into what an event can hold.

    Dataclasses become objects with their fields' names, quantities stay SI numbers, a steel is
    named by its designation, a number that is none (nan, infinity) is left out as null.

    Parameters
    ----------
    value : object
        A domain value.

    Returns
    -------
    object
        None, bool, int, float, str, list and dict only.

    Raises
    ------
    BadInput
        For a type nobody thought of.
    """
    if isinstance(value, np.generic | np.ndarray):
        value = value.tolist()
    plain = _plain(value)
    if plain is not _NOT_PLAIN:
        return plain
    if isinstance(value, Steel):
        return value.designation
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {one.name: written(getattr(value, one.name)) for one in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(written(key)): written(one) for key, one in value.items()}
    if isinstance(value, frozenset | set):
        return sorted(written(one) for one in value)
    if isinstance(value, tuple | list):
        return [written(one) for one in value]
    raise BadInput("record", f"a {type(value).__name__} can't be written down")


_NOT_PLAIN = object()


def _plain(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, datetime):
        return stamp(value.astimezone(UTC))
    if isinstance(value, date):
        return value.isoformat()
    return _NOT_PLAIN


def read(kind: type[T], value: object) -> T:
    """
    Turn what an event holds back into a domain value.

    Parameters
    ----------
    kind : type
        The dataclass, enum or plain type that was written. Fields the event does not know keep
        their default, so an older event can still be read.
    value : object
        What the event holds.

    Returns
    -------
    object
        A value of this kind.

    Raises
    ------
    BadInput
        When the event holds something else.
    """
    return typing.cast("T", _read(kind, value))


def _read(kind: Any, value: Any) -> Any:
    origin = typing.get_origin(kind)
    if origin in (typing.Union, types.UnionType):
        return _read_union(typing.get_args(kind), value)
    if origin is not None:
        return _read_many(origin, typing.get_args(kind), value)
    if kind is Any or kind is object:
        return value
    if kind is Steel:
        return find_steel(value)
    if kind in (datetime, date):
        return moment(value) if kind is datetime else date.fromisoformat(value)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(value)
    if dataclasses.is_dataclass(kind):
        return _read_fields(kind, value)
    if kind is float:
        # Left out as null: it was no number when it was written.
        return math.nan if value is None else float(value)
    if isinstance(value, kind):
        return value
    raise BadInput("record", f"holds {value!r} where {kind.__name__} is due")


def _read_union(kinds: tuple[Any, ...], value: Any) -> Any:
    if value is None and type(None) in kinds:
        return None
    for kind in kinds:
        if kind is type(None):
            continue
        try:
            return _read(kind, value)
        except (BadInput, ValueError, TypeError):
            continue
    raise BadInput("record", f"holds {value!r}, which is none of {kinds}")


def _read_many(origin: Any, inner: tuple[Any, ...], value: Any) -> Any:
    if origin is np.ndarray:
        return np.array(value, dtype=np.float64)
    if origin is tuple and len(inner) == 2 and inner[1] is Ellipsis:
        return tuple(_read(inner[0], one) for one in value)
    if origin is tuple:
        return tuple(_read(kind, one) for kind, one in zip(inner, value, strict=True))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return {_read(inner[0], key): _read(inner[1], one) for key, one in value.items()}
    if origin in (list, frozenset, set):
        return origin(_read(inner[0], one) for one in value)
    return tuple(_read(inner[0], one) for one in value)  # Sequence and the like


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _read_fields(kind: Any, value: Any) -> Any:
    if not isinstance(value, Mapping):
        raise BadInput("record", f"holds {value!r} where {kind.__name__} is due")
    hints = _hints(kind)
    known = {one.name: one for one in dataclasses.fields(kind) if one.init}
    return kind(**{name: _read(hints[name], value[name]) for name in known if name in value})
