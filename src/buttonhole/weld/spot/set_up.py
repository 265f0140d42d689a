"""What is set on a resistance spot welding machine (ISO 669, ISO 17677-1 terms)."""

from dataclasses import dataclass
from enum import StrEnum


class CurrentType(StrEnum):
    """Kind of welding current."""

    MFDC = "MFDC"
    AC50 = "AC50"
    AC60 = "AC60"


@dataclass(frozen=True, slots=True)
class ElectrodeCap:
    """Working end of an electrode.

    Flat: only ``face_diameter`` [m]. Domed: only ``radius`` [m]. Radiused: both, the radius of the
    face and the diameter at which the shoulder starts. ``body_diameter`` [m]: the shank.
    """

    face_diameter: float | None = None
    radius: float | None = None
    body_diameter: float = 16e-3


@dataclass(frozen=True, slots=True)
class Pulse:
    """One current pulse: rms ``current`` [A] for ``time`` [s], then ``cool_time`` [s] without.

    ``up_slope`` and ``down_slope`` [s] lie inside ``time``.
    """

    current: float
    time: float
    cool_time: float = 0.0
    up_slope: float = 0.0
    down_slope: float = 0.0


@dataclass(frozen=True, slots=True)
class SpotSetUp:
    """A spot-weld set-up; ``cap_a`` presses on the first sheet, ``cap_b`` on the last one."""

    pulses: tuple[Pulse, ...]
    current_type: CurrentType
    electrode_force: float  # N
    cap_a: ElectrodeCap
    cap_b: ElectrodeCap
    squeeze_time: float  # s
    hold_time: float  # s

    @property
    def weld_time(self) -> float:
        """From first current on to last current off [s]."""
        total = sum(pulse.time + pulse.cool_time for pulse in self.pulses)
        return total - self.pulses[-1].cool_time
