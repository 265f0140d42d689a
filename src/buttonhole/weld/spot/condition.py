"""The state of gun, caps, mains and neighbours that a weld is made in; the default changes none."""

import dataclasses
import math
from dataclasses import dataclass

from buttonhole.units import BadInput
from buttonhole.weld.spot.pressing import rolled, tilted_cap
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp
from buttonhole.weld.spot.shunt import Shunt
from buttonhole.weld.spot.supply import ElectricSupply
from buttonhole.weld.spot.wear import worn

ROOM = 20.0  # degC, of sheets and fresh caps
WATER = 20.0  # degC, of the cooling water
MOST_TILT = math.radians(10.0)
MOST_MISALIGNMENT = 4e-3  # m
MOST_WEAR = 6e-3  # m
HOTTEST_CAP, HOTTEST_WATER = 400.0, 60.0  # degC; hotter copper softens; handbook-memory


@dataclass(frozen=True, slots=True)
class SpotCondition:
    """What a weld meets besides its sheets and its set-up; caps A and B in pairs.

    ``tilt`` [rad]: left between the faces and the sheets while the force is on. ``misalignment``
    [m]: between the axes of the caps. ``wear`` [m]: how much wider each cap's face is than as
    dressed. ``shunt``: the last weld, when one is near. ``cap_temperature`` [degC]: of each cap
    when the current starts. ``water_temperature`` [degC]: None without water in the caps.
    ``supply``: None for a machine that gives what is set, whatever it takes. The gap is the
    stack-up's.

    Raises
    ------
    BadInput
        A value out of its range.

    Sources
    -------
    common-practice (the ranges).
    """

    tilt: float = 0.0
    misalignment: float = 0.0
    wear: tuple[float, float] = (0.0, 0.0)  # m
    shunt: Shunt | None = None
    cap_temperature: tuple[float, float] = (ROOM, ROOM)  # degC
    water_temperature: float | None = WATER  # degC
    supply: ElectricSupply | None = None

    def __post_init__(self) -> None:
        _check("tilt", math.degrees(self.tilt), 0.0, math.degrees(MOST_TILT), "deg")
        _check("misalignment", 1e3 * self.misalignment, 0.0, 1e3 * MOST_MISALIGNMENT, "mm")
        for grown in self.wear:
            _check("wear", 1e3 * grown, 0.0, 1e3 * MOST_WEAR, "mm")
        for warm in self.cap_temperature:
            _check("cap_temperature", warm, ROOM, HOTTEST_CAP, "degC")
        if self.water_temperature is not None:
            _check("water_temperature", self.water_temperature, 0.0, HOTTEST_WATER, "degC")

    @property
    def is_normal(self) -> bool:
        """Nothing here differs from what the set-up says."""
        return self == NORMAL

    def worn_caps(self, set_up: SpotSetUp) -> tuple[ElectrodeCap, ElectrodeCap]:
        """The caps as they are now, not as dressed."""
        return worn(set_up.cap_a, self.wear[0]), worn(set_up.cap_b, self.wear[1])

    def pressing(self, set_up: SpotSetUp) -> SpotSetUp:
        """The set-up with caps that press square as these do, worn and tilted."""
        cap_a, cap_b = (tilted_cap(cap, self.tilt) for cap in self.worn_caps(set_up))
        return dataclasses.replace(set_up, cap_a=cap_a, cap_b=cap_b)

    def apart(self, set_up: SpotSetUp, thickness: float) -> float:
        """How far apart the middles of the two contacts lie.

        Parameters
        ----------
        set_up : SpotSetUp
            With the caps as dressed.
        thickness : float
            Of the stack-up [m].

        Returns
        -------
        float
            Distance [m].
        """
        rolls = math.fsum(rolled(cap, self.tilt) for cap in self.worn_caps(set_up))
        return self.misalignment + rolls + thickness * math.tan(self.tilt)


def _check(key: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high + 1e-9:  # also catches NaN
        raise BadInput(key, f"is {value:g} {unit}; give {low:g} to {high:g} {unit}")


NORMAL = SpotCondition()
