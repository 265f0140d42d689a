"""The tree and the signatures of the record against the vectors of their standards.

Role: verification. Tolerance: none, the bytes must be the same.
"""

import pytest

from buttonhole.record.merkle import EMPTY, MerkleTree, shows_consistency, shows_inclusion
from buttonhole.record.signing import SigningKey, is_signed
from buttonhole.sources import table

ROWS = table("merkle_rfc6962").cells
LEAVES = [
    bytes.fromhex("" if word == "(empty)" else word)
    for word in next(row[3] for row in ROWS if row[0] == "leaves_hex").split()
]
TREE = MerkleTree(LEAVES)


def rows(kind: str) -> list[tuple[str, ...]]:
    return [row for row in ROWS if row[0] == kind]


def test_the_empty_tree() -> None:
    ((_, _, _, computed, published),) = rows("empty_root")
    assert EMPTY.hex() == computed == published
    assert MerkleTree([]).root() == EMPTY


@pytest.mark.parametrize("row", rows("root"), ids=lambda row: row[1])
def test_roots(row: tuple[str, ...]) -> None:
    size = int(row[1])
    assert MerkleTree(LEAVES[:size]).root().hex() == row[3] == row[4]
    assert TREE.root(size).hex() == row[4]


@pytest.mark.parametrize("row", rows("inclusion"), ids=lambda row: f"{row[2]}of{row[1]}")
def test_inclusion(row: tuple[str, ...]) -> None:
    size, place = int(row[1]), int(row[2])
    path = TREE.inclusion(place, size)
    assert [one.hex() for one in path] == row[3].split()
    assert f"first={path[0].hex()}" == row[4]
    assert shows_inclusion(LEAVES[place], place, size, path, TREE.root(size))


@pytest.mark.parametrize("row", rows("consistency"), ids=lambda row: f"{row[2]}in{row[1]}")
def test_consistency(row: tuple[str, ...]) -> None:
    size, old = int(row[1]), int(row[2])
    path = TREE.consistency(old, size)
    assert [one.hex() for one in path] == row[3].split()
    assert f"first={path[0].hex()}" == row[4]
    assert shows_consistency(old, size, path, TREE.root(old), TREE.root(size))


@pytest.mark.parametrize("row", table("ed25519_rfc8032").cells, ids=lambda row: row[1] or "empty")
def test_signatures(row: tuple[str, ...]) -> None:
    secret, message, public, signature = row
    key = SigningKey(bytes.fromhex(secret))
    assert key.public == public
    assert key.sign(bytes.fromhex(message)) == signature
    assert is_signed(public, bytes.fromhex(message), signature)
    for place in (0, 200, 511):  # one bit of the signature
        altered = bytearray.fromhex(signature)
        altered[place // 8] ^= 1 << place % 8
        assert not is_signed(public, bytes.fromhex(message), altered.hex())
    assert not is_signed(public, bytes.fromhex(message) + b"x", signature)
