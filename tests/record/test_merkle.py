"""Proofs hold for every leaf of every small tree, and for nothing else."""

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.record.merkle import (
    EMPTY,
    MerkleTree,
    leaf_hash,
    node_hash,
    shows_consistency,
    shows_inclusion,
)
from buttonhole.units import BadInput

LEAVES = [hashlib.sha256(bytes([n])).digest() for n in range(40)]
TREE = MerkleTree(LEAVES)


def by_definition(leaves: list[bytes]) -> bytes:
    """RFC 6962, section 2.1, as it is written."""
    if not leaves:
        return EMPTY
    if len(leaves) == 1:
        return leaf_hash(leaves[0])
    split = 1
    while split * 2 < len(leaves):
        split *= 2
    return node_hash(by_definition(leaves[:split]), by_definition(leaves[split:]))


def test_every_root_is_that_of_the_definition() -> None:
    for size in range(len(LEAVES) + 1):
        assert TREE.root(size) == by_definition(LEAVES[:size])


def test_every_leaf_is_shown_and_no_other() -> None:
    for size in range(1, 34):
        root = TREE.root(size)
        for place in range(size):
            path = TREE.inclusion(place, size)
            assert shows_inclusion(LEAVES[place], place, size, path, root)
            assert not shows_inclusion(LEAVES[place + 1], place, size, path, root)
            assert not shows_inclusion(LEAVES[place], place, size, path, TREE.root(size + 1))
            assert not shows_inclusion(LEAVES[place], place, size, (*path, root), root)
            if size > 1:
                assert not shows_inclusion(LEAVES[place], place, size, path[:-1], root)
                assert not shows_inclusion(LEAVES[place], (place + 1) % size, size, path, root)


def test_every_earlier_tree_is_shown_and_no_other() -> None:
    for size in range(1, 34):
        for old in range(1, size + 1):
            path = TREE.consistency(old, size)
            roots = TREE.root(old), TREE.root(size)
            assert shows_consistency(old, size, path, *roots)
            assert not shows_consistency(old, size, (*path, EMPTY), *roots)
            assert not shows_consistency(old, size, path, EMPTY, roots[1])
            assert not shows_consistency(old, size, path, roots[0], EMPTY)
            if path:
                assert not shows_consistency(old, size, path[:-1], *roots)


@given(st.integers(1, 40), st.integers(0, 255), st.data())
def test_one_flipped_bit_in_a_leaf_changes_the_root(
    size: int, bit: int, data: st.DataObject
) -> None:
    place = data.draw(st.integers(0, size - 1))
    altered = bytearray(LEAVES[place])
    altered[bit // 8] ^= 1 << bit % 8
    leaves = [*LEAVES[:place], bytes(altered), *LEAVES[place + 1 : size]]
    assert MerkleTree(leaves).root() != TREE.root(size)


def test_what_is_not_there_is_bad_input() -> None:
    for ask in (
        lambda: TREE.root(41),
        lambda: TREE.root(-1),
        lambda: TREE.inclusion(40),
        lambda: TREE.inclusion(-1),
        lambda: TREE.consistency(0),
        lambda: TREE.consistency(41),
        lambda: MerkleTree([]).inclusion(0),
    ):
        with pytest.raises(BadInput, match="tree"):
            ask()
