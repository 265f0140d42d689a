"""Aluminium alloys and copper fillers for the arc's solvers, from their tables."""

import math
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import GRID, MaterialCurves
from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.arc.metal import ALUMINIUM, COPPER, ThermalMetal
from buttonhole.weld.arc.wire import BRONZE, Wire

Array = NDArray[np.float64]

THINNEST, THICKEST = 1e-3, 3e-3  # m, of aluminium sheet that can be computed
BARE, BRIGHT = 0.2, 0.3  # -, emissivities of hot aluminium and of molten bronze, from memory
TENSION, MELT_DENSITY = 0.87, 2380.0  # N/m, kg/m3, molten aluminium, from memory


def aluminium_alloys() -> tuple[str, ...]:
    """Return the designations of the listed alloys."""
    return table("aluminium_alloys").text("designation")


def check_thickness(thickness: float) -> None:
    """Refuse aluminium sheet that can't be computed.

    Parameters
    ----------
    thickness : float
        Of the sheet [m].

    Raises
    ------
    BadInput
        It is not 1 to 3 mm thick.
    """
    if not THINNEST <= thickness <= THICKEST:  # also catches NaN
        raise BadInput(
            "thickness",
            f"is {thickness * 1e3:g} mm; aluminium can be computed from {THINNEST * 1e3:g} to "
            f"{THICKEST * 1e3:g} mm",
        )


@cache
def aluminium(designation: str) -> ThermalMetal:
    """Return a listed aluminium alloy for an arc's solver.

    Raises
    ------
    BadInput
        The alloy is not listed.

    Sources
    -------
    en-1999-1-2, handbook-memory (from memory)
    """
    wanted = "EN AW-" + designation.upper().replace("EN AW", "").strip(" -")
    rows = table("aluminium_alloys").where("designation", wanted).rows()
    if not rows:
        listed = ", ".join(aluminium_alloys())
        shown = designation.strip()[:40]
        raise BadInput("alloy", f"{shown!r} is not listed; give one of {listed}")
    alloy = {key: cell for key, cell in rows[0].items() if isinstance(cell, float)}
    (law,) = table("aluminium_curves_en1999").where("family", str(rows[0]["family"])).rows()
    c = {key: cell for key, cell in law.items() if isinstance(cell, float)}
    solidus, liquidus = alloy["solidus [degC]"], alloy["liquidus [degC]"]
    hot = np.array([20.0, solidus, liquidus])
    made = _curves(
        wanted,
        hot,
        np.array(
            [
                c["k0 [W/m/K]"] + c["k1 [W/m/K2]"] * 20.0,
                c["k0 [W/m/K]"] + c["k1 [W/m/K2]"] * solidus,
                c["k_liquid [W/m/K]"],
            ]
        ),
        np.array(
            [
                c["c0 [J/kg/K]"] + c["c1 [J/kg/K2]"] * 20.0,
                c["c0 [J/kg/K]"] + c["c1 [J/kg/K2]"] * solidus,
                c["c_liquid [J/kg/K]"],
            ]
        ),
        (alloy["density [kg/m3]"], solidus, liquidus, alloy["latent_heat [kJ/kg]"]),
    )
    softens = alloy.get("softens_over [degC]")
    return ThermalMetal(
        made,
        BARE,
        ALUMINIUM,
        softens_over=softens,
        glows=False,
        surface_tension=TENSION,
        melt_density=MELT_DENSITY,
        oxide_skin=True,
    )


@cache
def braze_filler(wire: Wire) -> ThermalMetal:
    """Return a copper wire for arc brazing as a filler for an arc's solver.

    Raises
    ------
    BadInput
        The wire is no copper wire.

    Sources
    -------
    handbook-memory (from memory)
    """
    if wire.metal not in BRONZE:
        raise BadInput(
            "wire",
            f"{wire.designation} does not braze; take S Cu 6560 (CuSi3) or S Cu 6100 (CuAl8)",
        )
    found = table("braze_filler_curves").where("wire", wire.designation)
    made = _curves(
        wire.designation,
        found.column("T [degC]"),
        found.column("k [W/m/K]"),
        found.column("cp [J/kg/K]"),
        (wire.density, wire.solidus, wire.liquidus, float(found.column("latent_heat [kJ/kg]")[0])),
    )
    return ThermalMetal(made, BRIGHT, COPPER, glows=False)


def _curves(
    name: str, hot: Array, k: Array, cp: Array, numbers: tuple[float, float, float, float]
) -> MaterialCurves:
    density, solidus, liquidus, latent = numbers
    return MaterialCurves(
        name=name,
        temperature=GRID,
        conductivity=np.interp(GRID, hot, k),
        heat_capacity=np.interp(GRID, hot, cp),
        resistivity=np.full(len(GRID), math.nan),  # no current is computed in an arc weld
        flow_stress=np.full(len(GRID), math.nan),
        density=density,
        solidus=solidus,
        liquidus=liquidus,
        latent_heat=1e3 * latent,
        ac1=math.inf,
        ac3=math.inf,
        source="handbook-memory",
        status="memory",
    )
