"""Which words of an event are names of people: those are held beside it, not in it."""

from collections.abc import Iterator, Mapping
from typing import Any

PEOPLE = "record/people"
"""What events are about that take names out."""

NAME_KEYS = frozenset(
    {
        "accepted_by",
        "carried_by",
        "checked_by",
        "decided_by",
        "filed_by",
        "judged_by",
        "made_by",
        "measurer",
        "person",
        "read_by",
        "reader",
        "released_by",
        "second_signature",
        "signed_by",
        "welded_by",
        "welder",
        "who",
        "witnessed_by",
    }
)
"""Under these keys stands somebody's name. What is typed as free text is not looked through."""


def names_of_people(payload: Mapping[str, Any], actor: str) -> tuple[str, ...]:
    """
    List the people an event names.

    Parameters
    ----------
    payload : mapping
        What the event holds.
    actor : str
        Who says so.

    Returns
    -------
    tuple of str
        Without doubles.
    """
    return tuple(dict.fromkeys((actor, *_names(payload))))


def _names(value: Any) -> Iterator[str]:
    if isinstance(value, Mapping):
        for key, one in value.items():
            if key in NAME_KEYS and isinstance(one, str):
                if one:
                    yield one
            else:
                yield from _names(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _names(one)
