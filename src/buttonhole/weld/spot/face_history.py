"""What the faying faces went through, ring by ring, named; the kernel keeps it as numbers."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.spot import fields as f

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class FaceHistory:
    """One row for each faying interface from side A, one column for each ring of cells.

    Times are NaN where it never came to pass.
    """

    hottest: Array  # (interfaces, nr), degC, mean of both faces
    melted_at: Array  # (interfaces, nr), s, first time over the fusion temperature
    frozen_at: Array  # (interfaces, nr), s, last time below it again
    heating_rate: Array  # (interfaces, nr), K/s, mean from 500 to 700 degC
    closed: Array  # (interfaces, nr), share of the face in true contact [-]
    reach: Array  # (interfaces, nr), m, how far atoms moved across it while it was pressed
    contact_radius: Array  # (interfaces,), m, the widest


def empty_faces(interfaces: int, rings: int, room: float) -> Array:
    """Begin the kernel's array: everything cold, nothing has happened.

    Parameters
    ----------
    interfaces, rings : int
        How many there are.
    room : float
        Temperature at the start [degC].

    Returns
    -------
    Array
        (interfaces, fields, rings), SI and [degC].
    """
    faces = np.zeros((interfaces, f.FACE_FIELDS, rings))
    faces[:, [f.F_LAST, f.F_HOTTEST]] = room
    faces[:, [f.F_MELTED_AT, f.F_FROZEN_AT, f.F_AT_500, f.F_AT_700]] = np.nan
    return faces


def face_history(faces: Array, contact_radius: Array) -> FaceHistory:
    """Name what the kernel kept.

    Parameters
    ----------
    faces : Array
        (interfaces, fields, rings), SI and [degC].
    contact_radius : Array
        (interfaces,) [m].

    Returns
    -------
    FaceHistory
        SI and [degC].
    """
    rate = 200.0 / (faces[:, f.F_AT_700] - faces[:, f.F_AT_500])
    return FaceHistory(
        hottest=faces[:, f.F_HOTTEST],
        melted_at=faces[:, f.F_MELTED_AT],
        frozen_at=faces[:, f.F_FROZEN_AT],
        heating_rate=rate,
        closed=np.minimum(faces[:, f.F_CLOSED] ** (1.0 / f.CREEP), 1.0),
        reach=2.0 * np.sqrt(faces[:, f.F_REACH]),
        contact_radius=contact_radius,
    )
