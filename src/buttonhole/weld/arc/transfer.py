"""Whether an arc burns steadily: usable currents, the voltage that goes with them."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from buttonhole.sources import Table, table
from buttonhole.weld.arc.gas import Gas
from buttonhole.weld.arc.wire import BRONZE, Wire, WireMetal

# Voltage of a steady short arc against current, from memory; under argon, with bronze, it burns
# at less. Published settings lie on both sides of it (docs/validation/plug.md).
SHORT_ARC_VOLTAGE, SHORT_ARC_SLOPE = 14.5, 0.035  # V, V/A
BRONZE_LESS, ALUMINIUM_MORE = 2.0, 1.5  # V; the latter meets two printed rows on 3 mm sheet
VOLTAGE_ROOM = 2.0  # V either side, from memory
USABLE = {
    WireMetal.STEEL: "usable",
    WireMetal.CUSI: "usable bronze",
    WireMetal.CUAL: "usable bronze",
    WireMetal.ALUMINIUM: "usable aluminium",
}
LOAD_BEND, LOAD_TOP = 600.0, 44.0  # A, V


class ArcState(StrEnum):
    """How the arc burns."""

    STEADY = "steady"
    STUBS = "wire stubs"  # voltage too low: the wire runs into the pool
    LONG = "arc too long"  # voltage too high: large drops, spatter
    STARVED = "current too small"  # for this wire
    OVERLOADED = "current too large"  # for this wire
    SPRAY = "spray"  # no longer a short arc: too hot for thin sheet
    NOT_KNOWN = "not known"  # no range is at hand for this wire


@dataclass(frozen=True, slots=True)
class ArcAssessment:
    """State of the arc and, where it is not steady, what to do."""

    state: ArcState
    text: str = ""


def conventional_load_voltage(current: float) -> float:
    """Voltage at which a MIG/MAG source is rated at a current: a line of the test bench.

    It is no setting: short arcs on thin sheet burn 1 to 4 V below it.

    Parameters
    ----------
    current : float
        Welding current [A].

    Returns
    -------
    float
        Conventional load voltage [V].

    Sources
    -------
    iec-60974-1 (from memory)
    """
    return 14.0 + 0.05 * current if current <= LOAD_BEND else LOAD_TOP


def short_arc_voltage(current: float, metal: WireMetal = WireMetal.STEEL) -> float:
    """Voltage at which a short arc usually burns steadily.

    Parameters
    ----------
    current : float
        Welding current [A].
    metal : WireMetal
        Of the wire.

    Returns
    -------
    float
        Voltage between contact tube and work [V].

    Sources
    -------
    handbook-memory (from memory)
    """
    off = -BRONZE_LESS if metal in BRONZE else 0.0
    if metal is WireMetal.ALUMINIUM:
        off = ALUMINIUM_MORE
    return SHORT_ARC_VOLTAGE + SHORT_ARC_SLOPE * current + off


def usable_current(diameter: float, metal: WireMetal = WireMetal.STEEL) -> tuple[float, float]:
    """Least and most current [A] of a wire; between listed diameters on a straight line.

    Parameters
    ----------
    diameter : float
        Of the wire [m]; beyond the listed ones the nearest listed holds.
    metal : WireMetal
        Of the wire.

    Sources
    -------
    arc-manual-g
    handbook-memory (bronze and aluminium, from memory)
    """
    rows = table("arc_ranges").where("what", USABLE[metal])
    d = rows.column("d [mm]")
    low, high = (
        float(np.interp(diameter * 1e3, d, rows.column(f"I_{end} [A]"))) for end in ("min", "max")
    )
    return low, high


def spray_onset(diameter: float, gas: Gas) -> float | None:
    """Current [A] from which drops no longer short-circuit; None where no figure is at hand.

    Parameters
    ----------
    diameter : float
        Of the wire [m].
    gas : Gas
        Argon mixtures go over to spray, carbon dioxide to large drops.

    Sources
    -------
    handbook-memory (argon mixtures)
    arc-manual-h (carbon dioxide)
    """
    found = table("arc_ranges")
    rows: Table = (
        found.where("what", "globular").where("gas", "C1")
        if gas.group.startswith("C")
        else found.where("what", "spray")
    )
    d = rows.column("d [mm]")
    if not d[0] - 0.05 <= diameter * 1e3 <= d[-1] + 0.05:
        return None
    return float(np.interp(diameter * 1e3, d, rows.column("I_min [A]")))


def assess_arc(
    current: float, voltage: float, wire: Wire, diameter: float, gas: Gas
) -> ArcAssessment:
    """Say whether an arc burns steadily at a current and a voltage.

    Parameters
    ----------
    current : float
        Welding current [A].
    voltage : float
        Between contact tube and work [V].
    wire : Wire
        Its metal decides which ranges hold.
    diameter : float
        Of the wire [m].
    gas : Gas
        Shielding gas.

    Returns
    -------
    ArcAssessment
        State, and what to do where it is not steady.

    Sources
    -------
    arc-manual-g, arc-manual-h, handbook-memory
    """
    if wire.metal is WireMetal.ALUMINIUM:
        return ArcAssessment(
            ArcState.NOT_KNOWN,
            "No range of current and voltage is at hand for aluminium wire: whether the arc is "
            "steady only the trial weld tells.",
        )
    at = f"{current:.0f} A and {voltage:.1f} V"
    usual = short_arc_voltage(current, wire.metal)
    low, high = usable_current(diameter)
    thick = f"{diameter * 1e3:g} mm wire"
    if wire.metal is WireMetal.STEEL and current < low:
        text = f"{current:.0f} A is little for {thick} ({low:.0f} to {high:.0f} A): the arc goes "
        return ArcAssessment(ArcState.STARVED, text + "out. More wire feed or a thinner wire.")
    if wire.metal is WireMetal.STEEL and current > high:
        text = f"{current:.0f} A is much for {thick} ({low:.0f} to {high:.0f} A). Less wire feed "
        return ArcAssessment(ArcState.OVERLOADED, text + "or a thicker wire.")
    if voltage < usual - VOLTAGE_ROOM:
        text = f"At {at} the wire runs into the pool and stubs; about {usual:.1f} V is usual."
        return ArcAssessment(ArcState.STUBS, text)
    onset = spray_onset(diameter, gas)
    if onset is not None and current >= onset and voltage > usual:
        text = f"At {at} the drops no longer short-circuit: too hot for thin sheet."
        return ArcAssessment(ArcState.SPRAY, text)
    if voltage > usual + VOLTAGE_ROOM:
        text = (
            f"At {at} the arc is long: large drops, spatter, undercut; about {usual:.1f} V is "
            "usual."
        )
        return ArcAssessment(ArcState.LONG, text)
    return ArcAssessment(ArcState.STEADY)
