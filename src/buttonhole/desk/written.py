"""How domain values are written into events, and read back."""

import dataclasses
import math
import types
import typing
from collections.abc import Callable, Hashable, Mapping
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
    reader = _reader(typing.cast("Hashable", kind))
    return typing.cast("T", reader(value))


Reader = Callable[[Any], Any]


@cache
def _reader(kind: Any) -> Reader:
    """Work out once how a kind is read: records hold thousands of values of few kinds."""
    origin = typing.get_origin(kind)
    if origin in (typing.Union, types.UnionType):
        return _union_reader(typing.get_args(kind))
    if origin is not None:
        return _many_reader(origin, typing.get_args(kind))
    if kind is Any or kind is object:
        return _as_it_is
    if kind is Steel:
        return find_steel
    if kind in (datetime, date):
        return moment if kind is datetime else date.fromisoformat
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind
    if dataclasses.is_dataclass(kind):
        return _fields_reader(kind)
    if kind is float:
        return _read_float
    return _plain_reader(kind)


def _as_it_is(value: Any) -> Any:
    return value


def _read_float(value: Any) -> float:
    # Left out as null: it was no number when it was written.
    return math.nan if value is None else float(value)


def _plain_reader(kind: Any) -> Reader:
    def reader(value: Any) -> Any:
        if isinstance(value, kind):
            return value
        raise BadInput("record", f"holds {value!r} where {kind.__name__} is due")

    return reader


def _union_reader(kinds: tuple[Any, ...]) -> Reader:
    readers = [_reader(kind) for kind in kinds if kind is not type(None)]
    maybe_none = type(None) in kinds

    def reader(value: Any) -> Any:
        if value is None and maybe_none:
            return None
        for one in readers:
            try:
                return one(value)
            except (BadInput, ValueError, TypeError):
                continue
        raise BadInput("record", f"holds {value!r}, which is none of {kinds}")

    return reader


def _many_reader(origin: Any, inner: tuple[Any, ...]) -> Reader:
    if origin is np.ndarray:
        return lambda value: np.array(value, dtype=np.float64)
    readers = [_reader(kind) for kind in inner if kind is not Ellipsis]
    first = readers[0]
    if origin is tuple and not (len(inner) == 2 and inner[1] is Ellipsis):
        return lambda value: tuple(one(each) for one, each in zip(readers, value, strict=True))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return lambda value: {first(key): readers[1](one) for key, one in value.items()}
    if origin in (list, frozenset, set):
        return lambda value: origin(first(one) for one in value)
    return lambda value: tuple(first(one) for one in value)  # Sequence and the like


def _fields_reader(kind: Any) -> Reader:
    hints = typing.get_type_hints(kind)
    # a kind may hold itself, so its fields are looked up when it is first read
    readers: dict[str, Reader] = {}

    def reader(value: Any) -> Any:
        if not isinstance(value, Mapping):
            raise BadInput("record", f"holds {value!r} where {kind.__name__} is due")
        if not readers:
            found = {each.name: _reader(hints[each.name]) for each in known}
            readers.update(found)
        return kind(**{name: one(value[name]) for name, one in readers.items() if name in value})

    known = [each for each in dataclasses.fields(kind) if each.init]
    return reader
