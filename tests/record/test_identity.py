"""Names sort by time and do not meet."""

import os
import uuid
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.record.event import moment, stamp
from buttonhole.record.identity import new_id
from buttonhole.units import BadInput

START = datetime(2026, 1, 1, tzinfo=UTC)


def test_the_example_of_the_standard():
    # RFC 9562 appendix A.6: 2022-02-22 19:22:22 UTC, rand_a CC3, rand_b 18C4DC0C0C07398F.
    chance = (0xCC3 << 68) | 0x18C4DC0C0C07398F
    found = new_id(
        datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC), lambda size: chance.to_bytes(size, "big")
    )
    assert found == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


@given(st.datetimes(datetime(1971, 1, 1), datetime(2100, 1, 1)))  # noqa: DTZ001 - zone set below
def test_it_is_a_version_7_uuid(when):
    found = uuid.UUID(new_id(when.replace(tzinfo=UTC), os.urandom))
    assert found.version == 7
    assert found.variant == uuid.RFC_4122


def test_later_names_sort_later():
    names = [new_id(START + timedelta(milliseconds=i), os.urandom) for i in range(200)]
    assert names == sorted(names)
    assert len({new_id(START, os.urandom) for _ in range(1000)}) == 1000


@given(st.datetimes(datetime(1971, 1, 1), datetime(2100, 1, 1)))  # noqa: DTZ001 - zone set below
def test_a_moment_reads_back(when):
    aware = when.replace(tzinfo=UTC)
    assert moment(stamp(aware)) == aware


def test_a_moment_without_a_zone_is_refused():
    with pytest.raises(BadInput, match="time zone"):
        stamp(datetime(2026, 1, 1))  # noqa: DTZ001 - the fault under test
    with pytest.raises(BadInput, match="UTC moment"):
        moment("yesterday")
