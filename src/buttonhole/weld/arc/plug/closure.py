"""The few numbers of the plug model that no handbook gives, with how far they are doubted.

They were chosen so that an ordinary set-up (8 mm hole, 0.8 mm wire, 110 A) welds well: a choice,
not a validation. Sectioned coupons are to replace them.
"""

from dataclasses import dataclass

from buttonhole.weld.arc.machine_map import IN_A_HOLE


@dataclass(frozen=True, slots=True)
class PlugClosure:
    """What closes the plug model; the middle of each belief."""

    efficiency: float = IN_A_HOLE.value  # -, of the arc, calorimeters (machine_map)
    spread: float = 1.7e-3  # m, standard deviation of the arc's flux at 100 A; judged
    spread_rise: float = 0.25  # -, gained per depth of the surface below the rim; judged
    pool_mixing: float = 4.0  # -, factor on the conductivity of the melt, flow; judged
    wetting_shift: float = 0.0  # K, off the temperature from which melt takes a face up
    droplet_shift: float = 0.0  # K, off the usual temperature of the drops
    contact: float = 4e3  # W/m2/K between clamped sheets; from memory
    rim_share: float = 0.5  # -, of the arc that may burn on a bare rim; assumption
    rim_length: float = 2.5e-3  # m, rim height at which half of that does; assumption
    splat: float = 1.2e-3  # m, radius a drop wets by landing; judged
    pile: float = 1.0e-3  # m a pile may stand over a cold neighbour; judged
    current_factor: float = 1.0  # -, on the current of the machine map
    voltage_shift: float = 0.0  # V, on the arc voltage


@dataclass(frozen=True, slots=True)
class Doubt:
    """How far one number of the closure is doubted; ``spread`` [SI] is one standard deviation.

    Of the value itself where ``kind`` is "normal", of its logarithm where "lognormal"; where "even"
    it is half the width of what is believed.
    """

    name: str
    spread: float
    kind: str


CLOSURE = PlugClosure()

# Judged, but the efficiency (two calorimeter studies) and the current (machine_map gives its own).
DOUBTS = (
    Doubt("efficiency", 0.04, "normal"),
    Doubt("spread", 0.25e-3, "normal"),
    Doubt("pool_mixing", 0.4, "lognormal"),
    Doubt("wetting_shift", 100.0, "normal"),
    Doubt("droplet_shift", 150.0, "normal"),
    Doubt("contact", 0.8, "lognormal"),
    Doubt("rim_share", 0.5, "even"),
)
