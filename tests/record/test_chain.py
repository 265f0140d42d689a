"""Whatever is done to a chain is found, and found at the right place."""

from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from buttonhole.record.canonical import canonical
from buttonhole.record.chain import ChainLink, FaultKind, first_fault
from buttonhole.record.event import GENESIS, Draft, Event, hash_of, seal
from buttonhole.units import BadInput


def link_of(event: Event) -> ChainLink:
    return ChainLink(
        event.id,
        event.type,
        event.at,
        event.actor,
        canonical(event.payload),
        event.prev_hash,
        event.hash,
    )


def chain(count: int) -> list[ChainLink]:
    links, before = [], GENESIS
    for number in range(1, count + 1):
        at = f"2026-01-01T00:00:{number % 60:02}.000000Z"
        payload = {"about": ["joint/1"], "diameter": 0.004 + number * 1e-5}
        event = seal(Draft(f"id-{number}", "coupon_read", at, "Tomas Veld", payload), before)
        links.append(link_of(event))
        before = event.hash
    return links


def test_a_whole_chain_has_no_fault():
    assert first_fault([]) is None
    assert first_fault(chain(1)) is None
    assert first_fault(chain(40)) is None


def flip(text: str, position: int, bit: int) -> str:
    raw = bytearray(text, "utf-8")
    raw[position % len(raw)] ^= 1 << bit
    return raw.decode("latin-1")


@example(11, "id", 24, 0)  # becomes the id of the event before it
@given(
    st.integers(1, 12),
    st.sampled_from(["id", "type", "at", "actor", "payload", "prev_hash", "hash"]),
    st.integers(0, 200),
    st.integers(0, 6),
)
def test_one_flipped_bit_is_found_where_it_is(place, field, position, bit):
    links = chain(12)
    before = links[place - 1]
    after = before._replace(**{field: flip(getattr(before, field), position, bit)})
    links[place - 1] = after
    fault = first_fault(links)
    assert fault is not None
    assert (fault.place, fault.kind) == (place, FaultKind.ALTERED)


@given(st.integers(1, 12), st.integers(1, 12))
def test_two_swapped_events_are_found_at_the_first_of_them(one, other):
    one, other = sorted((one, other))
    links = chain(12)
    links[one - 1], links[other - 1] = links[other - 1], links[one - 1]
    fault = first_fault(links)
    if one == other:
        assert fault is None
    else:
        assert fault is not None
        assert (fault.place, fault.kind) == (one, FaultKind.OUT_OF_ORDER)


@given(st.integers(1, 11))
def test_a_cut_out_event_is_missed_where_it_stood(place):
    links = chain(12)
    del links[place - 1]
    fault = first_fault(links)
    assert fault is not None
    assert (fault.place, fault.kind) == (place, FaultKind.MISSING)


@given(st.integers(1, 12), st.integers(1, 12))
def test_a_doubled_event_is_found_at_its_second_place(place, again):
    links = chain(12)
    place, again = sorted((place, again))
    links.insert(again, links[place - 1])
    fault = first_fault(links)
    assert fault is not None
    assert fault.place == again + 1
    assert fault.kind is FaultKind.DOUBLED


def test_reversed_events_are_out_of_order():
    fault = first_fault(chain(12)[::-1])
    assert fault is not None
    assert (fault.place, fault.kind) == (1, FaultKind.OUT_OF_ORDER)


@given(st.integers(1, 10))
def test_an_event_slipped_in_with_a_right_hash_is_found(place):
    links = chain(12)
    forged = seal(
        Draft("forged", "coupon_read", links[place - 1].at, "x", {}), links[place - 1].hash
    )
    links.insert(place, link_of(forged))
    fault = first_fault(links)
    assert fault is not None
    # Of two events that follow the same one, the first in place is the stranger here; the chain
    # goes on from the second.
    assert (fault.place, fault.event_id, fault.kind) == (place + 1, "forged", FaultKind.SLIPPED_IN)


def test_of_two_rival_last_events_neither_is_trusted():
    links = chain(12)
    forged = seal(Draft("forged", "coupon_read", links[10].at, "x", {}), links[10].hash)
    links.insert(11, link_of(forged))
    fault = first_fault(links)
    assert fault is not None
    assert (fault.place, fault.kind) == (13, FaultKind.SLIPPED_IN)
    assert "event 12" in fault.message


@given(st.integers(1, 11))
def test_an_event_rewritten_with_its_own_new_hash_breaks_the_next_one(place):
    links = chain(12)
    old = links[place - 1]._replace(payload="{}")
    new = hash_of(old.id, old.type, old.at, old.actor, old.payload, old.prev_hash)
    links[place - 1] = old._replace(hash=new)
    fault = first_fault(links)
    assert fault is not None
    assert (fault.place, fault.kind) == (place + 1, FaultKind.MISSING)


def test_a_cut_end_is_seen_only_by_a_witness():
    whole = chain(12)
    cut = whole[:9]
    assert first_fault(cut) is None
    fault = first_fault(cut, head_count=12, head_hash=whole[-1].hash)
    assert fault is not None
    assert (fault.place, fault.kind) == (10, FaultKind.CUT_SHORT)
    assert first_fault(whole, head_count=9, head_hash=whole[8].hash) is None


def test_a_hash_on_a_printed_card_must_be_found_in_the_record():
    whole = chain(12)
    assert first_fault(whole, head_hash=whole[6].hash) is None
    fault = first_fault(whole[:6], head_hash=whole[6].hash)
    assert fault is not None
    assert (fault.place, fault.kind) == (7, FaultKind.CUT_SHORT)


def test_a_record_written_anew_is_seen_by_a_witness():
    whole = chain(12)
    fault = first_fault(whole, head_count=12, head_hash="f" * 64)
    assert fault is not None
    assert fault.kind is FaultKind.ALTERED


def test_every_field_goes_into_the_hash():
    draft = Draft("id", "type", "2026-01-01T00:00:00.000000Z", "actor", {"a": 1})
    others = [
        seal(replace(draft, id="x"), GENESIS),
        seal(replace(draft, type="x"), GENESIS),
        seal(replace(draft, at="x"), GENESIS),
        seal(replace(draft, actor="x"), GENESIS),
        seal(replace(draft, payload={"a": 2}), GENESIS),
        seal(draft, "1" * 64),
        seal(draft, GENESIS),
    ]
    assert len({event.hash for event in others}) == len(others)


def test_what_an_event_concerns_must_be_a_list_of_texts():
    with pytest.raises(BadInput, match="about"):
        _ = Event("i", "t", "at", "a", {"about": "joint/1"}, GENESIS, "h").about
