"""The nets and what is known of them, as they come with the package. Measured here, see the files.

``about.toml`` says which solver taught the nets, over which space, how wrong they were on welds
they had not been taught, and how to teach them again.
"""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from buttonhole.weld.spot.emulator.figures import turned_numbers
from buttonhole.weld.spot.emulator.inputs import turned
from buttonhole.weld.spot.emulator.nets import Nets

HERE = Path(__file__).resolve().parent
ABOUT, NETS = HERE / "about.toml", HERE / "nets.npz"
SCALES = ("input_middle", "input_width", "output_middle", "output_width")


@cache
def about() -> dict[str, Any]:
    """What is known of the nets, read once."""
    return tomllib.loads(ABOUT.read_text("utf-8"))


@cache
def nets() -> Nets:
    """The nets as they were taught, read once."""
    with np.load(NETS, allow_pickle=False) as kept:
        layers = sum(name.startswith("weight") for name in kept.files)
        return Nets(
            weights=tuple(kept[f"weight_{i}"] for i in range(layers)),
            offsets=tuple(kept[f"offset_{i}"] for i in range(layers)),
            turned_inputs=turned(),
            turned_outputs=turned_numbers(),
            **{name: kept[name] for name in SCALES},
        )


def keep(found: Nets, path: Path = NETS) -> Path:
    """Write nets; the same nets give the same bytes.

    Parameters
    ----------
    found : Nets
        As taught.
    path : Path
        Where to.

    Returns
    -------
    Path
        The file.
    """
    arrays: dict[str, Any] = {f"weight_{i}": one for i, one in enumerate(found.weights)}
    arrays |= {f"offset_{i}": one for i, one in enumerate(found.offsets)}
    arrays |= {name: getattr(found, name) for name in SCALES}
    np.savez_compressed(path, **arrays)
    return path
