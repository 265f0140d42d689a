"""Stack-ups and set-ups that several tests of the solver weld."""

import dataclasses

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp


def joint(*sheets: tuple[str, float], coating: Coating = Coating.BARE) -> StackUp:
    """Sheets of a steel and a thickness in mm, all with one coating."""
    return StackUp(tuple(Sheet(find_steel(s), t * 1e-3, coating) for s, t in sheets))


def set_up(current: float, time: float = 0.16, force: float = 2e3, **changes: object) -> SpotSetUp:
    """One pulse between flat caps of 5 mm."""
    cap = ElectrodeCap(face_diameter=5e-3)
    plain = SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, cap, cap, 0.3, 0.3)
    return dataclasses.replace(plain, **changes)


MILD = joint(("DC04", 0.8), ("DC04", 0.8))
UNLIKE = joint(("DP1180", 1.2), ("DC06", 0.8))
