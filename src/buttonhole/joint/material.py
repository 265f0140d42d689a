"""What the heat meets: properties of sheet steels and of cap copper against temperature."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.steel import Family, Steel
from buttonhole.sources import Status, table

Array = NDArray[np.float64]

UOHM_CM = 1e-8  # ohm m
KELVIN = 273.15  # K at 0 degC
# Share of the carbon that raises the resistivity. In carbides it counts a tenth (table
# resistivity_alloying). Hardened steel has been tempered a little by its own heat and by the paint
# oven; multiphase steel is part ferrite. The middle values are judged, no source.
CARBON_SHARE = {
    Family.LOW_CARBON: 0.1,
    Family.BAKE_HARDENING: 0.1,
    Family.HSLA: 0.1,
    Family.DP: 0.5,
    Family.CP: 0.5,
    Family.TRIP: 0.5,
    Family.MS: 0.75,
    Family.PHS: 0.75,
    Family.STAINLESS: 1.0,
    Family.UNKNOWN: 0.1,
}
SAME_UP_TO, ALIKE_FROM = 200.0, 1100.0  # degC: grades differ fully below, not at all above
DENSITY = 7850.0  # kg/m3, EN 1993-1-2 clause 3.4.1.1: constant
DENSITY_STAINLESS = 7900.0  # kg/m3, from memory
MELTING_CP = 750.0  # J/kg/K just under the solidus, from memory
COPPER_LATENT_HEAT = 205e3  # J/kg, from memory
COPPER_SOLIDUS, COPPER_LIQUIDUS = 1070.0, 1080.0  # degC, from memory
COPPER_DENSITY = 8900.0  # kg/m3, from memory

# 2 K up to the melt, so that the peak of the specific heat at 735 degC is caught; then 20 K.
GRID: Array = np.concatenate([np.arange(20.0, 1640.0, 2.0), np.arange(1640.0, 4501.0, 20.0)])
GRID.flags.writeable = False


@dataclass(frozen=True, slots=True)
class MaterialCurves:
    """Properties on one temperature grid; every array has shape (temperatures,).

    ``heat_capacity`` holds means over the cells of the grid, so that a sum over the grid gives the
    heat content; the latent heat is not in it. Beyond the grid nothing is said.
    """

    name: str
    temperature: Array  # degC
    conductivity: Array  # W/m/K
    heat_capacity: Array  # J/kg/K
    resistivity: Array  # ohm m
    flow_stress: Array  # Pa, loading over seconds; zero when molten
    density: float  # kg/m3, at 20 degC and taken as constant: the mass in a cell stays
    solidus: float  # degC
    liquidus: float  # degC
    latent_heat: float  # J/kg
    ac1: float  # degC at rest; infinite for a steel that does not transform
    ac3: float  # degC at rest; likewise
    source: str  # keys in the bibliography
    status: str


def heat_content(temperature: float, steel: str = "carbon") -> float:
    """Heat content of solid steel above 20 degC by EN 1993-1-2, integrated exactly.

    Parameters
    ----------
    temperature : float
        20 to 1200 [degC]; outside it NaN.
    steel : str
        "carbon" or "stainless".

    Returns
    -------
    float
        Heat content [J/kg].

    Sources
    -------
    en-1993-1-2, clause 3.4.1.2.
    """
    pieces = table("heat_capacity_en1993").where("steel", steel)
    units = ("K", "K2", "K3", "K4")
    coefficients = np.stack([pieces.column(f"c{i} [J/kg/{unit}]") for i, unit in enumerate(units)])
    lows, highs = pieces.column("T_from [degC]"), pieces.column("T_to [degC]")
    poles, places = pieces.column("pole [J/kg]"), pieces.column("pole_at [degC]")
    total = 0.0
    for i, low in enumerate(lows):
        top = min(temperature, float(highs[i]))
        if top <= low:
            continue
        total += sum(
            c * (top**power - low**power) / power
            for power, c in enumerate(coefficients[:, i], start=1)
        )
        if poles[i]:
            total -= poles[i] * math.log((places[i] - top) / (places[i] - low))
    covered = lows[0] <= temperature <= highs[-1]
    return float(total) if covered else math.nan


def transformation(steel: Steel) -> tuple[float, float]:
    """Ac1 and Ac3 at rest [degC] from the typical composition; infinite for stainless steel.

    Sources
    -------
    andrews-1965 (from memory).
    """
    if steel.family is Family.STAINLESS:
        return math.inf, math.inf
    content = {**steel.composition, "Fe": 1.0}
    content["sqrt(C)"] = math.sqrt(content.get("C", 0.0))
    slopes = table("andrews_1965")
    names = slopes.text("element")
    ac1, ac3 = (
        sum(slope * content.get(name, 0.0) for name, slope in zip(names, column, strict=True))
        for column in (slopes.column("Ac1 [degC/%]"), slopes.column("Ac3 [degC/%]"))
    )
    return float(ac1), float(max(ac1, ac3))


def cold_resistivity(steel: Steel) -> float:
    """Resistivity at 20 degC [ohm m] from the typical composition.

    For ferritic and martensitic steels only; a stainless steel has its own curve.

    Sources
    -------
    handbook-memory (table resistivity_alloying).
    """
    slopes = table("resistivity_alloying")
    slope = dict(zip(slopes.text("element"), slopes.column("slope [uohm cm/%]"), strict=True))
    total = float(slope["Fe"])
    for element, content in steel.composition.items():
        share = CARBON_SHARE[steel.family] if element == "C" else 1.0
        total += float(slope.get(element, 0.0)) * share * content
    return total * UOHM_CM


def _fading(temperature: Array) -> Array:
    """How much of the difference between grades is left at a temperature."""
    left: Array = (ALIKE_FROM - temperature) / (ALIKE_FROM - SAME_UP_TO)
    clipped: Array = np.clip(left, 0.0, 1.0)
    return clipped


def _extended(x: Array, y: Array, end: float) -> tuple[Array, Array]:
    """Continue a column to ``end`` with the slope of its last two rows."""
    if end <= x[-1]:
        return x, y
    slope = (y[-1] - y[-2]) / (x[-1] - x[-2])
    return np.append(x, end), np.append(y, y[-1] + slope * (end - x[-1]))


def _joined(x: Array, y: Array, solidus: float, header: str, liquidus: float) -> Array:
    """Return a solid column, the melt's and a straight line between, on the grid."""
    liquid = table("steel_liquid")
    hot, value = liquid.column("T [degC]"), liquid.column(header)
    solid_x, solid_y = _extended(x, y, solidus)
    first = value[0]
    above = hot > liquidus + 1.0
    knots = np.concatenate([solid_x, [liquidus], hot[above]])
    joined: Array = np.interp(GRID, knots, np.concatenate([solid_y, [first], value[above]]))
    return joined


def _contents(kind: str) -> tuple[Callable[[float], float], float]:
    """Heat content [J/kg] of solid steel against temperature [degC], and how far it is known."""
    if kind == "carbon":
        return heat_content, 1200.0
    row = table("stainless_304_kim")
    c0, c1 = (float(row.column(h)[0]) for h in ("cp0 [J/kg/K]", "cp1 [J/kg/K2]"))
    cold = 20.0 + KELVIN

    def content(t: float) -> float:
        hot = t + KELVIN
        return c0 * (hot - cold) + c1 * (hot * hot - cold * cold) / 2

    return content, float(row.column("T_to [K]")[0]) - KELVIN


def _heat_capacity(kind: str, solidus: float, liquidus: float) -> Array:
    """Cell means of the specific heat on the grid: as far as known, then a line to the melt's."""
    solid, known = _contents(kind)
    end = min(known, solidus)
    content_end = solid(end)
    molten = float(table("steel_liquid").column("cp [J/kg/K]")[0])
    start = solid(end) - solid(end - 1.0)
    below = MELTING_CP if kind == "carbon" else start
    knots = np.array([end, max(solidus, end + 1e-9), liquidus, 6000.0])
    values = np.array([start, below, molten, molten])
    rises = np.concatenate([[0.0], np.cumsum(np.diff(knots) * (values[1:] + values[:-1]) / 2)])

    def content(t: float) -> float:
        if t <= end:
            return solid(max(t, 20.0))
        i = int(np.searchsorted(knots, t)) - 1
        local = float(np.interp(t, knots, values))
        return content_end + float(rises[i] + (t - knots[i]) * (values[i] + local) / 2)

    middles = (GRID[1:] + GRID[:-1]) / 2
    edges = np.concatenate([[GRID[0]], middles, [GRID[-1]]])
    contents = np.array([content(float(t)) for t in edges])
    means: Array = np.diff(contents) / np.diff(edges)
    return means


def _conductivity(stainless: bool, hot: Array, of_set: Array) -> Array:
    """Conductivity [W/m/K] of the solid at temperatures [degC]."""
    if not stainless:
        return of_set
    row = table("stainless_304_kim")
    found: Array = row.column("k0 [W/m/K]")[0] + row.column("k1 [W/m/K2]")[0] * (hot + KELVIN)
    return found


@cache
def curves(steel: Steel) -> MaterialCurves:
    """Return the properties of a steel from 20 to 4500 degC.

    Conductivity and flow stress come from the steel's property set, the flow stress scaled to its
    own yield strength; resistivity from the curve of a 0.06 % C steel raised by composition; both
    differences fade from 200 to 1100 degC, above which grades are alike. The specific heat is the
    standard's. Above 2800 degC the values of 2800 degC are held. An unknown steel gets the curves
    of low-carbon steel: it warms least at a given current, so the weld is not made out too large.

    Parameters
    ----------
    steel : Steel
        Any listed steel, or the unknown one.

    Returns
    -------
    MaterialCurves
        Properties on ``GRID``.

    Sources
    -------
    en-1993-1-2 (specific heat, density); andrews-1965, bisra-1953 and handbook-memory
    (from memory).
    """
    solid = table("steel_curves").where("set", steel.property_set)
    melting = table("steel_melting").where("set", steel.property_set)
    solidus, liquidus = (float(melting.column(f"{h} [degC]")[0]) for h in ("solidus", "liquidus"))
    hot = solid.column("T [degC]")
    stainless = steel.family is Family.STAINLESS
    conductivity = _conductivity(stainless, hot, solid.column("k [W/m/K]"))
    ac1, ac3 = transformation(steel)
    return MaterialCurves(
        name=steel.designation,
        temperature=GRID,
        conductivity=_joined(hot, conductivity, solidus, "k [W/m/K]", liquidus),
        heat_capacity=_heat_capacity("stainless" if stainless else "carbon", solidus, liquidus),
        resistivity=_resistivity(steel, solidus, liquidus),
        flow_stress=_flow_stress(steel, hot, solid.column("flow_stress [MPa]"), liquidus),
        density=DENSITY_STAINLESS if stainless else DENSITY,
        solidus=solidus,
        liquidus=liquidus,
        latent_heat=1e3 * float(melting.column("latent_heat [kJ/kg]")[0]),
        ac1=ac1,
        ac3=ac3,
        source="en-1993-1-2; bisra-1953; andrews-1965; handbook-memory",
        status="specific heat read, the rest memory",
    )


def _resistivity(steel: Steel, solidus: float, liquidus: float) -> Array:
    found = table("resistivity_temperature")
    hot = found.column("T [degC]")
    stainless = steel.family is Family.STAINLESS
    base = found.column("rho_304 [uohm cm]" if stainless else "rho_0.06C [uohm cm]") * UOHM_CM
    if not stainless and steel.family not in (Family.LOW_CARBON, Family.UNKNOWN):
        rise = max(cold_resistivity(steel) - base[0], 0.0)  # none is purer than the leanest
        base = base + rise * _fading(hot)
    return _joined(hot, base / UOHM_CM, solidus, "rho [uohm cm]", liquidus) * UOHM_CM


def _flow_stress(steel: Steel, hot: Array, table_stress: Array, liquidus: float) -> Array:
    ratio = steel.yield_strength / (1e6 * table_stress[0])
    scaled = 1e6 * table_stress * (1.0 + (ratio - 1.0) * _fading(hot))
    stress: Array = np.interp(GRID, np.append(hot, liquidus), np.append(scaled, 0.0))
    return stress


@cache
def copper_curves() -> MaterialCurves:
    """Return the properties of chromium-zirconium copper (caps) from 20 to 4500 degC.

    Above 1070 degC the last values are held: a cap that gets there has stuck to the sheet.

    Returns
    -------
    MaterialCurves
        Properties on ``GRID``.

    Sources
    -------
    handbook-memory (from memory).
    """
    found = table("electrode_cucrzr")
    hot = found.column("T [degC]")

    def on_grid(header: str, factor: float = 1.0) -> Array:
        column: Array = np.interp(GRID, hot, factor * found.column(header))
        return column

    stress = np.append(1e6 * found.column("yield [MPa]"), 0.0)
    return MaterialCurves(
        name="CuCrZr",
        temperature=GRID,
        conductivity=on_grid("k [W/m/K]"),
        heat_capacity=on_grid("cp [J/kg/K]"),
        resistivity=on_grid("rho [uohm cm]", UOHM_CM),
        flow_stress=np.interp(GRID, np.append(hot, COPPER_LIQUIDUS), stress),
        density=COPPER_DENSITY,
        solidus=COPPER_SOLIDUS,
        liquidus=COPPER_LIQUIDUS,
        latent_heat=COPPER_LATENT_HEAT,
        ac1=math.inf,
        ac3=math.inf,
        source="handbook-memory",
        status="memory",
    )


@dataclass(frozen=True, slots=True)
class Origin:
    """Where one property of a steel comes from: table, how it was come by, and what was done."""

    quantity: str
    table: str
    status: Status
    rule: str


def origins(steel: Steel) -> tuple[Origin, ...]:
    """Return for each property of a steel where its values come from.

    Parameters
    ----------
    steel : Steel
        Any listed steel, or the unknown one.

    Returns
    -------
    tuple of Origin
        One for each column of its curves and for the single values.
    """
    plain = steel.family in (Family.LOW_CARBON, Family.STAINLESS, Family.UNKNOWN)
    own = f"property set {steel.property_set}"
    listed = (
        ("conductivity", "steel_curves", own),
        ("flow stress", "steel_curves", f"{own}, scaled to {steel.yield_strength / 1e6:.0f} MPa"),
        (
            "resistivity",
            "resistivity_temperature",
            "as tabled" if plain else "0.06 % C row raised by composition, fading to 1100 degC",
        ),
        ("specific heat", "heat_capacity_en1993", "to 1200 degC; a line to the melt's above"),
        ("melt", "steel_liquid", "held above 2800 degC"),
        ("solidus, liquidus, latent heat", "steel_melting", own),
        ("Ac1, Ac3", "andrews_1965", "from typical composition, at rest"),
        ("composition", "steel_composition_typical", "typical, not of this cast"),
    )
    derived = {"flow stress", "Ac1, Ac3"} | (set() if plain else {"resistivity"})
    return tuple(
        Origin(name, where, Status.DERIVED if name in derived else table(where).status, rule)
        for name, where, rule in listed
    )
