"""Plug welds: an arc weld in a hole of one sheet, through to the one below.

Importing this is cheap; the compiled kernels are loaded with the first weld, or by ``warm``.
"""

import os

from buttonhole.weld.kernel_cache import kernel_cache

if "NUMBA_CACHE_DIR" not in os.environ:
    os.environ["NUMBA_CACHE_DIR"] = str(kernel_cache())

from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.plug.prediction import MODEL_VERSION, predict, refuse_pairs
from buttonhole.weld.arc.plug.simulation import COARSE, DEFAULT, PlugFailed, PlugResolution

__all__ = [
    "COARSE",
    "DEFAULT",
    "MODEL_VERSION",
    "PlugFailed",
    "PlugJoint",
    "PlugResolution",
    "TorchPath",
    "predict",
    "refuse_pairs",
    "warm",
]


def warm() -> None:
    """Compile the kernels, or load them, by welding once."""
    from buttonhole.joint.sheet import Sheet
    from buttonhole.joint.stack_up import StackUp
    from buttonhole.joint.steel import find_steel
    from buttonhole.weld.arc.gas import find_gas
    from buttonhole.weld.arc.plug.simulation import simulate
    from buttonhole.weld.arc.set_up import ArcSetUp
    from buttonhole.weld.arc.wire import find_wire

    sheet = Sheet(find_steel("DC04"), 1e-3)
    joint = PlugJoint(StackUp((sheet, sheet)), (8e-3,))
    wire, gas = find_wire("G 3Si1"), find_gas("M21")
    set_up = ArcSetUp(wire, 0.8e-3, gas, 0.1, 17.5, 13e-3, arc_time=0.1)
    simulate(joint, set_up, COARSE)
