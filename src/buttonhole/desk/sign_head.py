"""Sign the record as it is now: size and Merkle root, by the key of this device."""

from dataclasses import dataclass

from buttonhole.desk.desk import Desk
from buttonhole.record.device import Device
from buttonhole.record.event import stamp
from buttonhole.record.merkle import MerkleTree
from buttonhole.record.signed import HEAD_SIGNED, HEADS, KEY_INTRODUCED
from buttonhole.record.signing import TreeHead
from buttonhole.record.store import EventStore
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class SignedHead:
    """A head with its signature; `public` names the key. Texts are hexadecimal."""

    head: TreeHead
    public: str
    signature: str


def sign_head(desk: Desk, store: EventStore, device: Device) -> SignedHead:
    """
    Sign the head, and write it into the record.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record.
    device : Device
        Whose key signs; it is introduced the first time.

    Returns
    -------
    SignedHead
        Keep it elsewhere too, and it is a witness.

    Raises
    ------
    BadInput
        When there is nothing to sign.
    """
    introduce_key(desk, "device", device.name, device.key.public)
    tree = MerkleTree(store.hashes())
    if not tree.size:
        raise BadInput("record", "holds nothing yet; there is nothing to sign")
    head = TreeHead(tree.size, tree.root().hex(), stamp(desk.now()))
    signed = SignedHead(head, device.key.public, device.key.sign(head.message()))
    payload = {
        "size": head.size,
        "root": head.root,
        "moment": head.at,
        "public": signed.public,
        "signature": signed.signature,
    }
    store.append([desk.draft(HEAD_SIGNED, [HEADS], payload)])
    return signed


def introduce_key(desk: Desk, whose: str, name: str, public: str) -> None:
    """
    Write down whose a public key is, unless that stands there already.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    whose : str
        "device" or "person".
    name : str
        Of the device or person.
    public : str
        The key, hexadecimal.
    """
    subject = f"key/{public}"
    if desk.store.last(subject) is None:
        key = "person" if whose == "person" else "device"
        payload = {"whose": whose, key: name, "public": public}
        desk.store.append([desk.draft(KEY_INTRODUCED, [subject, HEADS], payload)])
