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
ABOUT = HERE / "about.toml"
SCALES = ("input_middle", "input_width", "output_middle", "output_width")


def nets_file(sheets: int) -> Path:
    """Where the nets for so many sheets are kept."""
    return HERE / f"nets-{sheets}.npz"


@cache
def about() -> dict[str, Any]:
    """What is known of the nets, read once."""
    return tomllib.loads(ABOUT.read_text("utf-8"))


@cache
def nets(sheets: int) -> Nets:
    """The nets for so many sheets, read once.

    Parameters
    ----------
    sheets : int
        In the stack-up.

    Returns
    -------
    Nets
        As they were taught.
    """
    with np.load(nets_file(sheets), allow_pickle=False) as kept:
        layers = sum(name.startswith("weight") for name in kept.files)
        return Nets(
            weights=tuple(kept[f"weight_{i}"] for i in range(layers)),
            offsets=tuple(kept[f"offset_{i}"] for i in range(layers)),
            turned_inputs=turned(sheets),
            turned_outputs=turned_numbers(sheets),
            **{name: kept[name] for name in SCALES},
        )


def keep(found: Nets, sheets: int, folder: Path = HERE) -> Path:
    """Write nets; the same nets give the same bytes.

    Parameters
    ----------
    found : Nets
        As taught.
    sheets : int
        In the stack-ups they are for.
    folder : Path
        Where to.

    Returns
    -------
    Path
        The file.
    """
    arrays = {f"weight_{i}": one for i, one in enumerate(found.weights)}
    arrays |= {f"offset_{i}": one for i, one in enumerate(found.offsets)}
    arrays |= {name: getattr(found, name) for name in SCALES}
    path = folder / nets_file(sheets).name
    np.savez_compressed(path, **arrays)
    return path
