"""Resistance spot welding: current, contact, nugget, expulsion, window.

Importing this is cheap; the compiled kernels are loaded with the first weld, or by ``warm``.
"""

import os

from buttonhole.weld.kernel_cache import kernel_cache

if "NUMBA_CACHE_DIR" not in os.environ:
    os.environ["NUMBA_CACHE_DIR"] = str(kernel_cache())

from buttonhole.weld.spot.prediction import MODEL_VERSION, predict
from buttonhole.weld.spot.simulation import COARSE, DEFAULT, Resolution, SolverFailed
from buttonhole.weld.spot.window import WeldWindow, window

__all__ = [
    "COARSE",
    "DEFAULT",
    "MODEL_VERSION",
    "Resolution",
    "SolverFailed",
    "WeldWindow",
    "predict",
    "warm",
    "window",
]


def warm() -> None:
    """Compile the kernels, or load them, by welding once."""
    from buttonhole.joint.sheet import Sheet
    from buttonhole.joint.stack_up import StackUp
    from buttonhole.joint.steel import find_steel
    from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

    sheet = Sheet(find_steel("DC04"), 0.8e-3)
    cap = ElectrodeCap(face_diameter=5e-3)
    set_up = SpotSetUp((Pulse(8e3, 0.01),), CurrentType.MFDC, 2e3, cap, cap, 0.1, 0.01)
    predict(StackUp((sheet, sheet)), set_up, resolution=COARSE)
