"""The electric supply of a spot gun: mains, lead, transformer and loop, as one source of current.

What the gun can give is a voltage behind a resistance::

    I = (U - Ud) / abs(R_loop + R_lead + R_weld + j X)

with the voltage ``U`` of the secondary at the mains there are, the drop ``Ud`` of the diodes, and
the lead carried over to the secondary. Carrying it over: at an output of ``U I`` the line current
is ``U I / (sqrt(3) U_mains cos phi)``. The resistive drop in the lead is
``sqrt(3) R I_line cos phi``; taken as the same share of either voltage it is that of a resistance
``R (U / U_mains)^2`` in the loop (twice that on one phase, where the current goes there and back).
The power factor cancels. Stray currents, magnetising and the lead's reactance are left out.

A gun that regulates its current gives what is set as long as it can. One that doesn't was dialled
once: its setting gives the set current through a weld of ``reference_resistance`` at the mains it
was made for, and everything else moves it.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.spot import fields as f

# Copper at work: 1.25 times its resistivity at 20 degC, the rule for leads; handbook-memory.
LEAD_RESISTIVITY = 2.25e-8  # ohm m
POWER_FACTOR = 0.9  # -, of a gun with an inverter; handbook-memory
MOST_LEAD_DROP = 0.05  # -, of the mains; more is a lead to change; common-practice


@dataclass(frozen=True, slots=True)
class ElectricSupply:
    """What stands behind the electrodes.

    ``mains_voltage`` and ``nominal_voltage`` [V]: at the outlet without load, and what the gun is
    made for. ``lead_length`` [m] and ``lead_area`` [m2], each conductor; 0 m without a lead.
    ``no_load_voltage`` [V] of the secondary at the nominal mains, ``diode_drop`` [V] (0 for
    alternating current), ``loop_resistance`` [ohm] of the secondary without the weld,
    ``loop_reactance`` [ohm] (0 for direct current), ``reference_resistance`` [ohm] of the weld an
    unregulated gun is dialled for. The defaults are a gun with its transformer at the arms.

    Raises
    ------
    BadInput
        A value no such machine has.

    Sources
    -------
    rw-practice-notes (secondary voltages), handbook-memory (diode drop, loop).
    """

    mains_voltage: float = 400.0  # V
    nominal_voltage: float = 400.0  # V
    three_phase: bool = True
    lead_length: float = 0.0  # m
    lead_area: float = 6e-6  # m2
    no_load_voltage: float = 9.0  # V
    diode_drop: float = 1.1  # V
    loop_resistance: float = 300e-6  # ohm
    loop_reactance: float = 0.0  # ohm
    reference_resistance: float = 120e-6  # ohm
    regulated: bool = True

    def __post_init__(self) -> None:
        for name, low, high, unit, factor in _SPANS:
            value = getattr(self, name)
            if not low <= value * factor <= high:  # also catches NaN
                raise BadInput(
                    name, f"is {value * factor:g} {unit}; give {low:g} to {high:g} {unit}"
                )
        if self.diode_drop >= self.no_load_voltage:
            raise BadInput(
                "diode_drop",
                f"is {self.diode_drop:g} V of {self.no_load_voltage:g} V; no current is left, give "
                "about 1 V",
            )

    @property
    def open_voltage(self) -> float:
        """Voltage of the secondary without load at the mains there are [V]."""
        return self.no_load_voltage * self.mains_voltage / self.nominal_voltage

    @property
    def lead_resistance(self) -> float:
        """The lead, carried over to the secondary [ohm]."""
        ways = 1.0 if self.three_phase else 2.0
        one = conductor_resistance(self.lead_length, self.lead_area)
        return ways * one * (self.no_load_voltage / self.nominal_voltage) ** 2

    def most_current(self, weld_resistance: float) -> float:
        """Most the gun can give.

        Parameters
        ----------
        weld_resistance : float
            Between the electrodes [ohm].

        Returns
        -------
        float
            Rms current [A].
        """
        resisting = self.loop_resistance + self.lead_resistance + weld_resistance
        volts = max(self.open_voltage - self.diode_drop, 0.0)
        return volts / math.hypot(resisting, self.loop_reactance)

    def line_current(self, current: float) -> float:
        """Return the current drawn from each line of the mains at full voltage.

        Parameters
        ----------
        current : float
            Of the secondary, rms [A].

        Returns
        -------
        float
            Rms current [A].
        """
        phases = math.sqrt(3.0) if self.three_phase else 1.0
        return self.no_load_voltage * current / (phases * self.nominal_voltage * POWER_FACTOR)


_SPANS = (
    ("mains_voltage", 50.0, 1000.0, "V", 1.0),
    ("nominal_voltage", 100.0, 1000.0, "V", 1.0),
    ("lead_length", 0.0, 200.0, "m", 1.0),
    ("lead_area", 0.5, 240.0, "mm2", 1e6),
    ("no_load_voltage", 1.0, 60.0, "V", 1.0),
    ("diode_drop", 0.0, 5.0, "V", 1.0),
    ("loop_resistance", 1.0, 10e3, "uohm", 1e6),
    ("loop_reactance", 0.0, 10e3, "uohm", 1e6),
    ("reference_resistance", 10.0, 1000.0, "uohm", 1e6),
)


def conductor_resistance(length: float, area: float) -> float:
    """Resistance of one conductor of a copper lead at work.

    Parameters
    ----------
    length : float
        Of the lead [m].
    area : float
        Cross-section [m2].

    Returns
    -------
    float
        Resistance [ohm].

    Sources
    -------
    handbook-memory (1.25 times the resistivity at 20 degC).
    """
    return LEAD_RESISTIVITY * length / area


def lead_drop(
    current: float, length: float, area: float, *, three_phase: bool = True, cos_phi: float = 0.9
) -> float:
    """Voltage lost between the lines in a lead to the gun, resistance only.

    Parameters
    ----------
    current : float
        In each line, rms [A].
    length : float
        Of the lead [m].
    area : float
        Cross-section of each conductor [m2].
    three_phase : bool
        Else the current goes there and back in two conductors.
    cos_phi : float
        Power factor [-].

    Returns
    -------
    float
        Drop [V].

    Sources
    -------
    handbook-memory.
    """
    ways = math.sqrt(3.0) if three_phase else 2.0
    return ways * current * conductor_resistance(length, area) * cos_phi


def supply_row(supply: ElectricSupply | None) -> NDArray[np.float64]:
    """What feeds the weld, for the compiled kernels.

    Parameters
    ----------
    supply : ElectricSupply or None
        None: the machine gives what is set, whatever it takes.

    Returns
    -------
    Array
        (FEED,), columns as in ``fields.py`` [SI].
    """
    row = np.zeros(f.FEED)
    if supply is None:
        return row
    row[f.SUPPLIED], row[f.REGULATED] = 1.0, 1.0 if supply.regulated else 0.0
    row[f.OPEN], row[f.NOMINAL] = supply.open_voltage, supply.no_load_voltage
    row[f.DIODE], row[f.LOOP] = supply.diode_drop, supply.loop_resistance
    row[f.REACTANCE], row[f.LEAD] = supply.loop_reactance, supply.lead_resistance
    row[f.REFERENCE] = supply.reference_resistance
    return row
