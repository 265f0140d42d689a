"""A read model is what its events make of it, and nothing else."""

from buttonhole.record.event import GENESIS, Draft, seal
from buttonhole.record.projection import project


def test_it_folds_in_order_and_leaves_unknown_types_alone():
    events, before = [], GENESIS
    for kind, value in [("put", 3), ("later program", 9), ("add", 4), ("put", 1), ("add", 2)]:
        events.append(seal(Draft("i", kind, "", "a", {"value": value}), before))
        before = events[-1].hash
    steps = {
        "put": lambda state, event: event.payload["value"],
        "add": lambda state, event: state + event.payload["value"],
    }
    assert project(events, 0, steps) == 3
    assert project(events[:3], 0, steps) == 7
    assert project([], 0, steps) == 0
