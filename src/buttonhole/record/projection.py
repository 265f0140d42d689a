"""Read models are folded from events: thrown away and made again at any time, never the truth."""

from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from buttonhole.record.event import Event

State = TypeVar("State")
Step = Callable[[State, Event], State]


def project(events: Iterable[Event], start: State, steps: Mapping[str, Step[State]]) -> State:
    """
    Fold events into a read model.

    Parameters
    ----------
    events : iterable of Event
        In the order of the record.
    start : object
        The read model before the first event.
    steps : mapping of str to callable
        What each type of event does to the read model. Types it does not name change nothing, so
        an older program can read a newer record.

    Returns
    -------
    object
        The read model after the last event.
    """
    state = start
    for event in events:
        step = steps.get(event.type)
        if step is not None:
            state = step(state, event)
    return state
