"""What the weld holds, and how it lets go.

All of it are guide values for making a procedure. The vehicle maker's figure goes before them.
"""

from buttonhole.weld.strength.least import (
    Edition,
    LeastLoad,
    LoadFormula,
    chart_minimum,
    is_brittle,
    least_loads,
    load_factor,
    load_formula,
    minimum_cross_tension,
    minimum_tensile_shear,
    nominal_shear,
    nominal_shear_equation,
    strongest_factor,
)
from buttonhole.weld.strength.torsion import shear_strength_from_torque, torsion_torque

__all__ = [
    "Edition",
    "LeastLoad",
    "LoadFormula",
    "chart_minimum",
    "is_brittle",
    "least_loads",
    "load_factor",
    "load_formula",
    "minimum_cross_tension",
    "minimum_tensile_shear",
    "nominal_shear",
    "nominal_shear_equation",
    "shear_strength_from_torque",
    "strongest_factor",
    "torsion_torque",
]
