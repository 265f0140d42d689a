"""Aluminium sheet and copper fillers for the seam's solver, from their tables."""

import math
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import GRID, MaterialCurves
from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.arc.seam.joint import SeamSheet
from buttonhole.weld.arc.seam.metal import ALUMINIUM, COPPER, SeamMetal
from buttonhole.weld.arc.wire import BRONZE, Wire

Array = NDArray[np.float64]

THINNEST, THICKEST = 1e-3, 3e-3  # m, of aluminium sheet that can be computed
BARE, BRIGHT = 0.2, 0.3  # -, emissivities of hot aluminium and of molten bronze, from memory


def aluminium_alloys() -> tuple[str, ...]:
    """Return the designations of the listed alloys."""
    return table("aluminium_alloys").text("designation")


def aluminium_sheet(designation: str, thickness: float) -> SeamSheet:
    """Return a sheet of a listed aluminium alloy.

    Parameters
    ----------
    designation : str
        By EN 573, with or without "EN AW-".
    thickness : float
        Of the sheet [m].

    Returns
    -------
    SeamSheet
        Without zinc.

    Raises
    ------
    BadInput
        The alloy is not listed, or the sheet is not 1 to 3 mm thick.
    """
    if not THINNEST <= thickness <= THICKEST:  # also catches NaN
        raise BadInput(
            "thickness",
            f"is {thickness * 1e3:g} mm; aluminium can be computed from {THINNEST * 1e3:g} to "
            f"{THICKEST * 1e3:g} mm",
        )
    return SeamSheet(aluminium(designation), thickness)


@cache
def aluminium(designation: str) -> SeamMetal:
    """Return a listed aluminium alloy for the seam's solver.

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
    return SeamMetal(made, BARE, ALUMINIUM, softens_over=softens, glows=False)


@cache
def braze_filler(wire: Wire) -> SeamMetal:
    """Return a copper wire for arc brazing as a filler for the seam's solver.

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
    return SeamMetal(made, BRIGHT, COPPER, glows=False)


def _curves(
    name: str, hot: Array, k: Array, cp: Array, numbers: tuple[float, float, float, float]
) -> MaterialCurves:
    density, solidus, liquidus, latent = numbers
    return MaterialCurves(
        name=name,
        temperature=GRID,
        conductivity=np.interp(GRID, hot, k),
        heat_capacity=np.interp(GRID, hot, cp),
        resistivity=np.full(len(GRID), math.nan),  # no current is computed in a seam
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
