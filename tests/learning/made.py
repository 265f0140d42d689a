"""Joints to learn on, fitted once."""

from functools import cache

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.learning.beliefs import SPOT
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.spot_surrogate import spot_surrogate
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

CAP = ElectrodeCap(face_diameter=6e-3, radius=50e-3)
ZERO = (0.0,) * 5


def stack_of(*sheets: tuple[str, float, Coating]) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(n), t, c) for n, t, c in sheets))


def set_up(current: float, time: float, force: float) -> SpotSetUp:
    return SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, CAP, CAP, 0.3, 0.2)


THIN = stack_of(("DC04", 1.0e-3, Coating.BARE), ("DC04", 1.0e-3, Coating.BARE))
STRONG = stack_of(("HCT600X", 1.2e-3, Coating.GI), ("HCT600X", 1.2e-3, Coating.GI))
THREE = stack_of(
    ("DC04", 0.8e-3, Coating.GI), ("HCT600X", 1.2e-3, Coating.GI), ("HCT600X", 1.5e-3, Coating.GI)
)
THIN_SET = set_up(7.5e3, 0.2, 2.5e3)
STRONG_SET = set_up(9.5e3, 0.3, 3.5e3)
THREE_SET = set_up(9e3, 0.4, 4.0e3)


@cache
def joint(name: str) -> LearnedJoint:
    stack, own, group = {
        "thin": (THIN, THIN_SET, "bare"),
        "strong": (STRONG, STRONG_SET, "coated"),
        "three": (THREE, THREE_SET, "coated"),
    }[name]
    thinner = tuple(min(f.sheet_a.thickness, f.sheet_b.thickness) for f in stack.interfaces)
    least = tuple(4e-3 * (t * 1e3) ** 0.5 for t in thinner)
    fitted = spot_surrogate(stack, own)
    return LearnedJoint(name, fitted, least, thinner, group, own.pulses[0].current)


@cache
def model(*names: str) -> Model:
    return Model(SPOT, [joint(name) for name in names])
