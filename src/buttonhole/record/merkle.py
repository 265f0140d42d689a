"""The Merkle tree over the events: one root for all, short proofs for one, after RFC 6962.

With the root of a signed head in hand, one event is shown to be in the record by about seventeen
hashes in a record of 100,000, and a later head is shown to keep all that an earlier one had.
"""

import hashlib
from collections.abc import Sequence

from buttonhole.units import BadInput

EMPTY = hashlib.sha256(b"").digest()
"""Root of the tree without leaves."""


def leaf_hash(leaf: bytes) -> bytes:
    """Hash a leaf; the byte before it keeps leaves and nodes apart."""
    return hashlib.sha256(b"\x00" + leaf).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """Hash two subtrees together."""
    return hashlib.sha256(b"\x01" + left + right).digest()


class MerkleTree:
    """
    The tree over a list of leaves, with all its full subtrees kept for proofs.

    Parameters
    ----------
    leaves : sequence of bytes
        In the order of the record. For events these are the 32 bytes of their hashes.

    Sources
    -------
    - rfc-6962: section 2.1.
    """

    def __init__(self, leaves: Sequence[bytes]) -> None:
        sha256 = hashlib.sha256
        row = [sha256(b"\x00" + leaf).digest() for leaf in leaves]
        # rows[k][i] is the root of the full subtree of 2^k leaves that begins with leaf i * 2^k.
        self._rows = [row]
        while len(row) > 1:
            pairs = zip(row[::2], row[1::2], strict=False)
            row = [sha256(b"\x01" + left + right).digest() for left, right in pairs]
            self._rows.append(row)

    @property
    def size(self) -> int:
        """Number of leaves [-]."""
        return len(self._rows[0])

    def root(self, size: int | None = None) -> bytes:
        """
        Give the root over the first leaves.

        Parameters
        ----------
        size : int, optional
            How many of them [-]; all when left out.

        Returns
        -------
        bytes
            32 bytes.

        Raises
        ------
        BadInput
            When there are not so many.
        """
        size = self.size if size is None else size
        self._check(0, size, self.size)
        return self._root(0, size) if size else EMPTY

    def inclusion(self, place: int, size: int | None = None) -> tuple[bytes, ...]:
        """
        Give the path that shows one leaf to be in the tree.

        Parameters
        ----------
        place : int
            Its number, counted from 0 [-].
        size : int, optional
            In the tree over so many first leaves [-]; all when left out.

        Returns
        -------
        tuple of bytes
            From the leaf upwards.

        Raises
        ------
        BadInput
            When there is no such leaf.
        """
        size = self.size if size is None else size
        self._check(1, size, self.size)
        self._check(0, place, size - 1)
        path: list[bytes] = []
        first, last = 0, size
        while last - first > 1:
            middle = first + _split(last - first)
            if place < middle:
                path.append(self._root(middle, last))
                last = middle
            else:
                path.append(self._root(first, middle))
                first = middle
        return tuple(reversed(path))

    def consistency(self, old: int, size: int | None = None) -> tuple[bytes, ...]:
        """
        Give the path that shows an earlier tree to be the beginning of this one.

        Parameters
        ----------
        old : int
            Leaves of the earlier tree, at least one [-].
        size : int, optional
            Leaves of the later one [-]; all when left out.

        Returns
        -------
        tuple of bytes
            As RFC 6962 orders them; empty for equal trees.

        Raises
        ------
        BadInput
            When there are not so many leaves.
        """
        size = self.size if size is None else size
        self._check(1, size, self.size)
        self._check(1, old, size)
        path: list[bytes] = []
        first, last, whole = 0, size, True
        while old != last - first:
            middle = first + _split(last - first)
            if first + old <= middle:
                path.append(self._root(middle, last))
                last = middle
            else:
                path.append(self._root(first, middle))
                old -= middle - first
                first, whole = middle, False
        if not whole:
            path.append(self._root(first, last))
        return tuple(reversed(path))

    def _root(self, first: int, last: int) -> bytes:
        count = last - first
        power = (count - 1).bit_length()
        if count == 1 << power:
            return self._rows[power][first >> power]
        middle = first + _split(count)
        return node_hash(self._root(first, middle), self._root(middle, last))

    @staticmethod
    def _check(least: int, value: int, most: int) -> None:
        if not least <= value <= most:
            raise BadInput("tree", f"asked for {value}; there are {least} to {most}")


def shows_inclusion(leaf: bytes, place: int, size: int, path: Sequence[bytes], root: bytes) -> bool:
    """
    Check the path of a leaf against a root.

    Parameters
    ----------
    leaf : bytes
        The leaf itself.
    place : int
        Its number, counted from 0 [-].
    size : int
        Leaves of the tree [-].
    path : sequence of bytes
        From the leaf upwards.
    root : bytes
        Of the tree.

    Returns
    -------
    bool
        Whether the leaf is there.

    Sources
    -------
    - rfc-9162: section 2.1.3.2, the check that goes with the tree of RFC 6962.
    """
    if not 0 <= place < size:
        return False
    here, last, found = place, size - 1, leaf_hash(leaf)
    for step in path:
        if last == 0:
            return False
        if here & 1 or here == last:
            found = node_hash(step, found)
            while not here & 1 and here:
                here, last = here >> 1, last >> 1
        else:
            found = node_hash(found, step)
        here, last = here >> 1, last >> 1
    return last == 0 and found == root


def shows_consistency(
    old: int, size: int, path: Sequence[bytes], old_root: bytes, root: bytes
) -> bool:
    """
    Check that an earlier tree is the beginning of a later one.

    Parameters
    ----------
    old, size : int
        Leaves of the earlier and of the later tree [-].
    path : sequence of bytes
        As `MerkleTree.consistency` gives it.
    old_root, root : bytes
        Of the two trees.

    Returns
    -------
    bool
        Whether the later tree keeps all of the earlier one, in place.

    Sources
    -------
    - rfc-9162: section 2.1.4.2.
    """
    if old == size:
        return not path and old_root == root
    if not 0 < old < size or not path:
        return False
    # A whole power of two is its own first step, and is left out of the path.
    steps = [old_root, *path] if old & (old - 1) == 0 else list(path)
    here, last = old - 1, size - 1
    while here & 1:
        here, last = here >> 1, last >> 1
    before = after = steps[0]
    for step in steps[1:]:
        if last == 0:
            return False
        if here & 1 or here == last:
            before, after = node_hash(step, before), node_hash(step, after)
            while not here & 1 and here:
                here, last = here >> 1, last >> 1
        else:
            after = node_hash(after, step)
        here, last = here >> 1, last >> 1
    return last == 0 and before == old_root and after == root


def _split(count: int) -> int:
    """Give the largest power of two below a count of at least two."""
    return 1 << ((count - 1).bit_length() - 1)
