"""The few numbers of the contact model that no handbook gives.

One set for all steels, thicknesses and times. They were fitted to published schedules by
``benchmarks/calibrate_contact.py``, which names the rows; those rows serve calibration and never
validation.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ContactConstants:
    """Contact law and contact mechanics, bare lightly oiled steel and CuCrZr caps."""

    faying_film: float = 3.35e-9  # ohm m2, cold at 100 MPa
    cap_film: float = 3.28e-9  # ohm m2, cold at 100 MPa
    film_exponent: float = 0.7  # -, of pressure; between metallic spots (0.5) and film (1)
    faying_conductance: float = 5.0e4  # W/m2/K at 100 MPa
    cap_conductance: float = 2.47e5  # W/m2/K at 100 MPa
    conductance_exponent: float = 0.95  # -, Cooper, Mikic and Yovanovich 1969
    pressure_shape: float = 0.21  # -, of the pressure over a faying contact; 0 even, 0.5 Hertz
    spread: float = 0.99  # -, contact radius gained per depth below the cap
    sinking_rate: float = 2.45e-4  # m/s where pressure equals the resisting pressure
    sinking_exponent: float = 5.0  # -, steepness of creep near melting
    sinking_friction: float = 0.5  # -, of the pressed disc


CONTACT = ContactConstants()
