"""From what is set to what burns: current, arc power, heat of the drops, metal laid down."""

import math
from dataclasses import dataclass, replace

from buttonhole.sources import table
from buttonhole.weld.arc.melting import (
    MeltingLaw,
    current_spread,
    length_slope,
    melting_current,
    melting_law,
)
from buttonhole.weld.arc.set_up import ArcSetUp, Polarity
from buttonhole.weld.arc.transfer import ArcState, assess_arc, conventional_load_voltage
from buttonhole.weld.arc.wire import Wire, wire_area
from buttonhole.weld.estimate import Z90, Estimate

ARC_LENGTH = 3e-3  # m, of a short arc, from memory
ARC_LENGTH_SPREAD = 1e-3  # m, judged
SHORTEST_FREE = 1e-3  # m; nearer the tube than this no arc burns
VOLTAGE_SPREAD = 0.5  # V, of what is set against what burns, judged
FEED_SPREAD = 0.02  # -, of a displayed wire feed, judged
LEAST_ARC_SHARE = 0.15  # -, of the heat: with less the drops arrive without an arc, judged
LONG_DISTANCE = 15e-3  # m; beyond it the gas no longer covers the weld well, from memory

# Share of the arc power that reaches the work; standard deviations judged. Controlled dip transfer
# was measured at about 0.85, a little more in a groove (pepe-2011), consumable electrodes at 0.84
# whatever the current (dupont-marder-1995). The two are no farther apart than their doubt.
IN_A_HOLE = Estimate(0.83, 0.83 - Z90 * 0.04, 0.83 + Z90 * 0.04)
ON_A_SEAM = Estimate(0.84, 0.84 - Z90 * 0.04, 0.84 + Z90 * 0.04)


@dataclass(frozen=True, slots=True)
class HeatSplit:
    """Heat that reaches the work: ``net`` [W], of it with the drops and from the arc [W]."""

    net: float
    droplets: float  # W
    arc: float  # W; never below zero


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """What a set-up comes to. Intervals are 90 %."""

    current: Estimate  # A
    arc_power: Estimate  # W, voltage times current at the contact tube
    droplet_power: Estimate  # W, heat that rides with the drops
    deposition_rate: Estimate  # kg/s
    fill_rate: float  # m3/s
    voltage: float  # V, between contact tube and work, lead taken off
    free_length: float  # m, contact tube to arc
    load_voltage: float  # V, conventional, for reference (IEC 60974-1)
    state: ArcState
    warnings: tuple[str, ...]

    def heat_split(self, efficiency: float) -> HeatSplit:
        """Split the heat that reaches the work.

        Parameters
        ----------
        efficiency : float
            Share of the arc power that reaches the work [-].

        Returns
        -------
        HeatSplit
            In [W]; the drops' heat is part of the net heat, not added to it.
        """
        net = efficiency * self.arc_power.value
        drops = min(self.droplet_power.value, net)
        return HeatSplit(net, drops, net - drops)


def droplet_heat(wire: Wire, temperature: float | None = None) -> float:
    """Heat of a drop above 20 degC.

    Parameters
    ----------
    wire : Wire
        Any listed wire.
    temperature : float or None
        Of the drops [degC]; None for the usual one of the metal.

    Returns
    -------
    float
        Heat content [J/kg].

    Sources
    -------
    handbook-memory (from memory; table wire_melting)
    """
    (row,) = table("wire_melting").where("metal", wire.metal.value).rows()
    number = {key: cell for key, cell in row.items() if isinstance(cell, float)}
    t = number["droplet_T [degC]"] if temperature is None else temperature
    over = max(t - wire.liquidus, 0.0)
    return 1e3 * number["h_liquidus [kJ/kg]"] + number["cp_liquid [J/kg/K]"] * over


def droplet_temperature(wire: Wire) -> Estimate:
    """Usual temperature of the drops [degC] with its 90 % interval.

    Sources
    -------
    handbook-memory (from memory; table wire_melting)
    """
    (row,) = table("wire_melting").where("metal", wire.metal.value).rows()
    number = {key: cell for key, cell in row.items() if isinstance(cell, float)}
    value, room = number["droplet_T [degC]"], Z90 * number["droplet_T_spread [K]"]
    return Estimate(value, value - room, value + room)


def free_length(distance: float) -> float:
    """Length of wire between contact tube and arc.

    Parameters
    ----------
    distance : float
        Contact tube to work [m].

    Returns
    -------
    float
        Free length [m]; never below 1 mm.

    Sources
    -------
    handbook-memory (arc length of 3 mm, from memory)
    """
    return max(distance - ARC_LENGTH, SHORTEST_FREE)


def operating_point(
    set_up: ArcSetUp, law: MeltingLaw | None = None, lead_resistance: float = 0.0
) -> OperatingPoint:
    """Work out current, powers and deposition of a set-up.

    Parameters
    ----------
    set_up : ArcSetUp
        What is set.
    law : MeltingLaw or None
        This machine's own, as learned; None for what is known of the wire alone.
    lead_resistance : float
        Of leads and torch where the voltage set is that of the source [ohm].

    Returns
    -------
    OperatingPoint
        Figures in SI units with 90 % intervals, the state of the arc and what to look out for.

    Sources
    -------
    lancaster-physics, iec-60974-1 (from memory)
    """
    used = law if law is not None else melting_law(set_up.wire, set_up.wire_diameter)
    feed, length = set_up.wire_feed_speed, free_length(set_up.contact_tube_distance)
    current = melting_current(feed, length, used)
    spread = math.hypot(
        current_spread(feed, length, used),
        length_slope(feed, length, used) * ARC_LENGTH_SPREAD,
        FEED_SPREAD,
    )
    voltage = set_up.arc_voltage - lead_resistance * current
    fill_rate = wire_area(set_up.wire_diameter) * feed
    rate = fill_rate * set_up.wire.density
    heat, hot = droplet_heat(set_up.wire), droplet_temperature(set_up.wire)
    doubt = (droplet_heat(set_up.wire, hot.high) - heat) / (Z90 * heat)
    found = assess_arc(current, voltage, set_up.wire, set_up.wire_diameter, set_up.gas)
    point = OperatingPoint(
        current=_around(current, spread),
        arc_power=_around(voltage * current, math.hypot(spread, VOLTAGE_SPREAD / voltage)),
        droplet_power=_around(rate * heat, math.hypot(doubt, FEED_SPREAD)),
        deposition_rate=_around(rate, FEED_SPREAD),
        fill_rate=fill_rate,
        voltage=voltage,
        free_length=length,
        load_voltage=conventional_load_voltage(current),
        state=found.state,
        warnings=(*((found.text,) if found.text else ()), *_torch(set_up)),
    )
    return _with_arc_check(point)


def _torch(set_up: ArcSetUp) -> tuple[str, ...]:
    said = []
    distance = set_up.contact_tube_distance
    if distance > LONG_DISTANCE:
        said.append(
            f"The contact tube is {distance * 1e3:.0f} mm from the work: current is lost and the "
            "gas covers the weld badly. 8 to 12 mm is usual."
        )
    elif distance < 6e-3:
        said.append(
            f"The contact tube is {distance * 1e3:.0f} mm from the work: the nozzle hides the weld "
            "and clogs with spatter. 8 to 12 mm is usual."
        )
    if set_up.polarity is Polarity.NEGATIVE:
        said.append(
            "The wire is negative: a solid wire needs the positive pole. The figures are those of "
            "a positive wire."
        )
    return tuple(said)


def _with_arc_check(point: OperatingPoint) -> OperatingPoint:
    split = point.heat_split(IN_A_HOLE.value)
    if split.arc >= LEAST_ARC_SHARE * split.net:
        return point
    text = "Nearly all of the heat goes into melting wire: the arc does not melt the sheet. Raise "
    warnings = (*point.warnings, text + "the voltage or feed less wire.")
    return replace(point, state=ArcState.STUBS, warnings=warnings)


def _around(value: float, spread: float) -> Estimate:
    return Estimate(value, value * math.exp(-Z90 * spread), value * math.exp(Z90 * spread))
