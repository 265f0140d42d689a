"""The metals of a plug weld in the solver's tables: sheets, then what the wire leaves.

A face is taken up by melt, and not merely lain on, from some temperature on. Of its own metal: melt
without superheat in touch with a face remelts it where the mean of both heats is that of the
solidus (two half-spaces of like metal meet at the mean; derived, carslaw-jaeger). Of a brazing
filler: at its liquidus. Aluminium under its oxide: close below its own solidus, judged.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import MaterialCurves
from buttonhole.joint.steel import Steel, find_steel
from buttonhole.weld.arc.metal import ThermalMetal, given_off, steel_metal
from buttonhole.weld.arc.nonferrous import aluminium, braze_filler
from buttonhole.weld.arc.plug.alloy_stack import AlloyStack
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.wire import BRONZE, Wire, WireMetal
from buttonhole.weld.heat.tables import T_FIRST, T_STEP, MaterialTables, material_tables

Array = NDArray[np.float64]

WIRE_STEEL = "DC04"  # curves of the weld metal; the wire's own differ by less than they are known
FILM = 10.0  # W/m2/K, still air, from memory
UNDER_OXIDE = 50.0  # K below its solidus; judged, no source


@dataclass(frozen=True, slots=True)
class PlugMetals:
    """Sheets from the side that is welded, then the weld metal; one row each in the tables."""

    sheets: tuple[ThermalMetal, ...]
    filler: ThermalMetal
    brazed: bool  # the sheets are wetted, not melted
    wets: float  # degC, from which melt takes up a face
    tables: MaterialTables
    losses: Array  # (metals, temperatures), W/m2, spaced 1 K from 20 degC


def pool_curves(metal: MaterialCurves, mixing: float) -> MaterialCurves:
    """Curves of a metal whose melt conducts ``mixing`` [-] times better, for its flow.

    Parameters
    ----------
    metal : MaterialCurves
        Of any metal.
    mixing : float
        Factor on the conductivity above the liquidus [-]; it fades in over the melting range.

    Returns
    -------
    MaterialCurves
        The same otherwise.
    """
    melted = (metal.temperature - metal.solidus) / (metal.liquidus - metal.solidus)
    factor = 1.0 + (mixing - 1.0) * np.clip(melted, 0.0, 1.0)
    return replace(metal, conductivity=metal.conductivity * factor)


def takes_up(metal: ThermalMetal, tables: MaterialTables, row: int) -> float:
    """Temperature [degC] of a face from which melt of its own metal takes it up.

    Parameters
    ----------
    metal : ThermalMetal
        Of face and melt.
    tables : MaterialTables
        With its heat by temperature.
    row : int
        Of the metal in the tables.

    Sources
    -------
    carslaw-jaeger (two bodies in touch, derived)
    """
    solidus, liquidus = metal.curves.solidus, metal.curves.liquidus
    if metal.oxide_skin:
        return solidus - UNDER_OXIDE
    heat = tables.enthalpy[row]
    at = T_FIRST + T_STEP * np.arange(len(heat))
    melts, flows = np.interp([solidus, liquidus], at, heat)
    return float(np.interp(2.0 * melts - flows, heat, at))


def metals_of(joint: PlugJoint, wire: Wire, mixing: float) -> PlugMetals:
    """Tabulate the metals of a plug.

    Parameters
    ----------
    joint : PlugJoint
        Sheets.
    wire : Wire
        Steel welds steel, bronze brazes it, aluminium welds aluminium.
    mixing : float
        Factor on the conductivity of the melt [-].

    Returns
    -------
    PlugMetals
        The same object for the same metals.
    """
    if isinstance(joint.stack, AlloyStack):
        return _tabulated(tuple(sheet.alloy for sheet in joint.stack.sheets), wire, mixing)
    return _tabulated(joint.steels, wire, mixing)


@lru_cache(maxsize=512)
def _tabulated(names: tuple[Steel | str, ...], wire: Wire, mixing: float) -> PlugMetals:
    sheets = tuple(
        aluminium(name) if isinstance(name, str) else steel_metal(name) for name in names
    )
    brazed = wire.metal in BRONZE
    filler = sheets[-1]  # an aluminium weld is as much sheet as wire
    if brazed:
        filler = braze_filler(wire)
    elif wire.metal is WireMetal.STEEL:
        filler = steel_metal(find_steel(WIRE_STEEL))
    metals = (*sheets, filler)
    tables = material_tables([pool_curves(one.curves, mixing) for one in metals])
    at: Array = T_FIRST + T_STEP * np.arange(float(tables.enthalpy.shape[1]))
    lost = [given_off(at, one, FILM, one.emissivity, vapour=True) for one in metals]
    wets = filler.curves.liquidus if brazed else takes_up(filler, tables, len(sheets))
    return PlugMetals(sheets, filler, brazed, wets, tables, np.ascontiguousarray(lost))
