"""From the bytes of a photo to brightness, and from brightness to a picture for a screen.

The only module that asks the picture library to read or write a file.
"""

import io
import warnings
from typing import Any

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.intake import BROKEN, MOST_PIXELS, Taken
from buttonhole.units import BadInput

Grey = NDArray[np.uint8]

_UPRIGHT = {
    1: (0, False),
    2: (0, True),
    3: (2, False),
    4: (2, True),
    5: (1, True),
    6: (3, False),
    7: (3, True),
    8: (1, False),
}


def brightness(photo: Taken) -> Grey:
    """Read a photo.

    Parameters
    ----------
    photo : Taken
        A photo that was taken in.

    Returns
    -------
    ndarray
        Shape (height, width), upright, brightness as written by the camera, 0 to 255 [-].

    Raises
    ------
    BadInput
        A picture that can't be read to its end.
    """
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(photo.content), formats=[photo.kind.value.upper()]) as image:
                if image.size != (photo.width, photo.height) or (
                    image.width * image.height > MOST_PIXELS
                ):
                    raise BadInput("photo", BROKEN)
                levels = np.asarray(image.convert("L"))
    except (OSError, SyntaxError, ValueError, MemoryError, Warning, Image.DecompressionBombError):
        raise BadInput("photo", BROKEN) from None
    turns, mirrored = _UPRIGHT[photo.orientation]
    if mirrored:
        levels = levels[:, ::-1]
    return np.ascontiguousarray(np.rot90(levels, turns))


def encoded(levels: Grey, quality: int = 85) -> bytes:
    """A picture for a screen, made anew from brightness (height, width) [-], as JPEG.

    The same levels give the same bytes.
    """
    from PIL import Image

    packed = io.BytesIO()
    options: dict[str, Any] = {"quality": quality, "optimize": True}
    Image.fromarray(levels).save(packed, "JPEG", **options)
    return packed.getvalue()
