"""The thermal cycles of a prediction: figures read from each course, with intervals."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.condition import ROOM
from buttonhole.weld.spot.cycle import Point, cooling_time, heating_rate
from buttonhole.weld.spot.result import ThermalCycle
from buttonhole.weld.spot.simulation import Simulation
from buttonhole.weld.spot.timing import COOLING_SPREAD, Pairs, interval

Array = NDArray[np.float64]

PEAK_SPREAD = 0.05  # - of the rise over room, standard deviation of the model; judged, no source
RATE_SPREAD = 0.2  # - of a heating rate, the same; judged, no source


def thermal_cycles(
    weld: Simulation, doubted: Pairs, points: tuple[Point, ...], interfaces: int
) -> tuple[ThermalCycle, ...]:
    """Read the thermal cycle at each point.

    Parameters
    ----------
    weld : Simulation
        Marched with these points.
    doubted : list of pairs of Simulation
        As believed, and with one doubted number moved by a standard deviation; the same points.
    points : tuple of Point
        The centres of the faying interfaces first.
    interfaces : int
        How many these are.

    Returns
    -------
    tuple of ThermalCycle
        Times [s], temperatures [degC], with 90 % intervals.
    """
    return tuple(
        _cycle(weld, doubted, n, point, n if n < interfaces else None)
        for n, point in enumerate(points)
    )


def _cycle(
    weld: Simulation, doubted: Pairs, n: int, point: Point, interface: int | None
) -> ThermalCycle:
    def of(march: Simulation, read: Callable[[Array, Array], float]) -> float:
        return read(march.trace[:, 0], march.trace[:, 1 + n])

    def figure(read: Callable[[Array, Array], float], own: float) -> Estimate | None:
        return interval(of(weld, read), [(of(a, read), of(b, read)) for a, b in doubted], own)

    def hottest(_: Array, temperature: Array) -> float:
        return float(temperature.max()) - ROOM

    rise = figure(hottest, PEAK_SPREAD)
    peak = Estimate(ROOM, ROOM, ROOM)
    if rise is not None:
        peak = Estimate(rise.value + ROOM, rise.low + ROOM, rise.high + ROOM)
    return ThermalCycle(
        point=point,
        interface=interface,
        time=weld.trace[:, 0].copy(),
        temperature=weld.trace[:, 1 + n].copy(),
        peak=peak,
        cooling_t85=figure(cooling_time, COOLING_SPREAD),
        heating_rate=figure(heating_rate, RATE_SPREAD),
    )
