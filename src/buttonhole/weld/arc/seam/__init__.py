"""Seams: lap fillet and butt with backing, welded or brazed.

Importing this is cheap; the compiled kernels are loaded with the first weld, or by ``warm``.
"""

import os

from buttonhole.weld.kernel_cache import kernel_cache

if "NUMBA_CACHE_DIR" not in os.environ:
    os.environ["NUMBA_CACHE_DIR"] = str(kernel_cache())

from buttonhole.weld.arc.seam.joint import BackingBar, JointKind, SeamJoint, SeamSheet
from buttonhole.weld.arc.seam.layout import DEFAULT, FINE, PREVIEW, Resolution
from buttonhole.weld.arc.seam.machine import predict_set_up, preview_set_up, seam_set_up
from buttonhole.weld.arc.seam.prediction import MODEL_VERSION, predict
from buttonhole.weld.arc.seam.set_up import (
    ArcHeat,
    Hand,
    Run,
    SeamSetUp,
    Torch,
    continuous,
    skip,
    stitches,
)
from buttonhole.weld.arc.seam.simulation import SeamFailed, simulate

__all__ = [
    "DEFAULT",
    "FINE",
    "MODEL_VERSION",
    "PREVIEW",
    "ArcHeat",
    "BackingBar",
    "Hand",
    "JointKind",
    "Resolution",
    "Run",
    "SeamFailed",
    "SeamJoint",
    "SeamSetUp",
    "SeamSheet",
    "Torch",
    "continuous",
    "predict",
    "predict_set_up",
    "preview_set_up",
    "seam_set_up",
    "simulate",
    "skip",
    "stitches",
    "warm",
]


def warm() -> None:
    """Compile the kernels, or load them, by welding once."""
    from buttonhole.joint.sheet import Sheet
    from buttonhole.joint.steel import find_steel

    sheet = SeamSheet.of_steel(Sheet(find_steel("DC04"), 1e-3))
    joint = SeamJoint(JointKind.LAP, sheet, sheet, 10e-3)
    heat = ArcHeat(700.0, 600.0, 45e-9)
    simulate(joint, SeamSetUp(heat, Torch(), continuous(10e-3, 20e-3)), PREVIEW, cooling=0.0)
