"""Keep a photo of a torn weld, and what was measured in it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.reading import Reading
from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import find_coupon, read_joint
from buttonhole.desk.read_photo import SeenPhoto, parts_answer
from buttonhole.photo.gauge import FaceSetting, Handles, Measured, measure
from buttonhole.photo.intake import Taken, take
from buttonhole.record.files import FileShelf

R = TypeVar("R", Reading, ArcReading)
SAME = 0.006e-3  # m; what was typed is what was measured, but for the last figure shown


@dataclass(frozen=True, slots=True)
class PhotoPlace:
    """Which weld a photo is of: joint, coupon, interface from side A, from 0."""

    joint_id: str
    coupon_id: str
    interface: int


def keep_photo(desk: Desk, shelf: FileShelf, place: PhotoPlace, content: bytes) -> Taken:
    """Keep a photo: the picture beside the record, its hash in it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    shelf : FileShelf
        Where files are kept.
    place : PhotoPlace
        Which weld it is of.
    content : bytes
        The file as it came.

    Returns
    -------
    Taken
        What was kept.

    Raises
    ------
    BadInput
        No picture, or no such coupon.
    """
    joint = read_joint(desk, place.joint_id)
    find_coupon(joint, place.coupon_id)
    taken = take(content)
    shelf.put(taken.content)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "coupon": place.coupon_id,
        "interface": place.interface,
        "sha256": taken.sha256,
        "received_sha256": taken.received_sha256,
        "bytes": len(taken.content),
        "width": taken.width,
        "height": taken.height,
        "left_out": taken.left_out,
    }
    # About the job only: a photo of one person holds up nobody else at the joint.
    about = [f"job/{joint.job_id}", f"photo/{taken.sha256}"]
    desk.store.append([desk.draft("photo_kept", about, payload)])
    return taken


def measure_photo(
    desk: Desk, place: PhotoPlace, seen: SeenPhoto, setting: FaceSetting, handles: Handles
) -> tuple[str, Measured]:
    """Write down two diameters that a person has set or taken in a photo.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    place : PhotoPlace
        Which weld the photo is of.
    seen : SeenPhoto
        The photo.
    setting : FaceSetting
        How the weld's face lies.
    handles : Handles
        Ends of the diameters.

    Returns
    -------
    tuple
        Name of the entry, and what was measured.

    Raises
    ------
    BadInput
        Handles that nobody has taken, or that are no diameters.
    PhotoRefused
        A glare over the edge.
    """
    joint = read_joint(desk, place.joint_id)
    find_coupon(joint, place.coupon_id)
    found = measure(seen.sight, setting, seen.scale, handles)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "coupon": place.coupon_id,
        "interface": place.interface,
        "sha256": seen.taken.sha256,
        "card": seen.card,
        "scale": seen.scale,
        "setting": setting,
        "handles": handles,
        "d_max": found.d_max,
        "d_min": found.d_min,
        "uncertainty": found.uncertainty,
        "parts": parts_answer(found.parts),
    }
    about = [f"job/{joint.job_id}", f"photo/{seen.taken.sha256}"]
    (event,) = desk.store.append([desk.draft("photo_measured", about, payload)])
    return event.id, found


def with_photos(
    desk: Desk, coupon_id: str, readings: Iterable[R], given: Mapping[str, str]
) -> tuple[R, ...]:
    """Readings, those measured in a photo with its uncertainty.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    coupon_id : str
        The coupon.
    readings : iterable of Reading or ArcReading
        As typed or taken over.
    given : mapping
        Answers of the questions; ``photo-0`` names the entry that measured interface 0.

    Returns
    -------
    tuple of Reading or ArcReading
        In the same order.
    """
    return tuple(
        with_photo(desk, coupon_id, one, given.get(f"photo-{one.interface}", ""))
        for one in readings
    )


def with_photo(desk: Desk, coupon_id: str, reading: R, entry: str) -> R:
    """A reading with the uncertainty of the photo it was measured in.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    coupon_id : str
        The coupon.
    reading : Reading or ArcReading
        As typed or taken over.
    entry : str
        Name of the entry that measured it; may be empty.

    Returns
    -------
    Reading or ArcReading
        The same when it is not what that entry measured.
    """
    event = desk.store.event(entry) if entry else None
    if event is None or event.type != "photo_measured":
        return reading
    said = event.payload
    if said["coupon"] != coupon_id or said["interface"] != reading.interface:
        return reading
    for key in ("d_max", "d_min"):
        given: float | None = getattr(reading, key)
        if given is None or abs(said[key] - given) > SAME:
            return reading
    return replace(reading, instrument_uncertainty=float(said["uncertainty"]))
