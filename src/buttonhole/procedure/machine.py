"""What a spot welding machine can do."""

import math
from dataclasses import dataclass

from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap

# Relative standard deviations from weld to weld; assumption, no source.
CURRENT_SPREAD = 0.03  # -
FORCE_SPREAD = 0.05  # -


def _range(key: str, low: float, high: float, unit: str, factor: float) -> None:
    if not (0.0 < low <= high and math.isfinite(high)):  # also catches NaN
        raise BadInput(
            key,
            f"is {low * factor:g} to {high * factor:g} {unit}; give the smallest and the largest "
            "value the machine can be set to",
        )


@dataclass(frozen=True, slots=True)
class ArmPair:
    """A pair of arms: ``throat_depth`` [m] and the most they bear and carry [N], [A]."""

    name: str
    throat_depth: float  # m
    force_max: float  # N
    current_max: float | None = None  # A


@dataclass(frozen=True, slots=True)
class SpotMachine:
    """A spot welding machine.

    ``current_min``, ``current_max`` [A] rms and ``force_min``, ``force_max`` [N] as it can be set;
    ``current_spread``, ``force_spread`` [-]: relative standard deviation from weld to weld.

    Raises
    ------
    BadInput
        A range the wrong way round, no current type or no cap.
    """

    name: str
    current_min: float  # A
    current_max: float  # A
    force_min: float  # N
    force_max: float  # N
    current_types: tuple[CurrentType, ...]
    caps: tuple[ElectrodeCap, ...]
    arm_pairs: tuple[ArmPair, ...] = ()
    mains: str = ""
    program_version: str = ""
    current_spread: float = CURRENT_SPREAD  # -
    force_spread: float = FORCE_SPREAD  # -

    def __post_init__(self) -> None:
        """Refuse a machine that can't be."""
        if not self.name.strip():
            raise BadInput("name", "is missing; say which machine")
        _range("current", self.current_min, self.current_max, "kA", 1e-3)
        _range("force", self.force_min, self.force_max, "kN", 1e-3)
        if not self.current_types:
            raise BadInput("current_types", f"give at least one of: {', '.join(CurrentType)}")
        if not self.caps:
            raise BadInput("caps", "give at least one electrode cap the shop has for it")
        for key in ("current_spread", "force_spread"):
            if not 0.0 <= getattr(self, key) <= 0.5:
                raise BadInput(key, f"is {getattr(self, key):g}; give a share, 0 to 0.5")

    def arms(self, name: str) -> ArmPair:
        """Return an arm pair by its name.

        Raises
        ------
        BadInput
            The machine has no such pair.
        """
        for pair in self.arm_pairs:
            if pair.name == name:
                return pair
        listed = ", ".join(pair.name for pair in self.arm_pairs) or "none"
        raise BadInput("arm_pair", f"{name[:40]!r} is not of {self.name}; it has: {listed}")

    def force_limit(self, arm_pair: str | None = None) -> float:
        """Return the largest force [N], with an arm pair what both bear."""
        if arm_pair is None:
            return self.force_max
        return min(self.force_max, self.arms(arm_pair).force_max)

    def current_limit(self, arm_pair: str | None = None) -> float:
        """Return the largest current [A], with an arm pair what both carry."""
        carried = None if arm_pair is None else self.arms(arm_pair).current_max
        return self.current_max if carried is None else min(self.current_max, carried)
