"""The few numbers of the contact model that no handbook gives.

One set for all steels, thicknesses and times. They were fitted to published schedules by
``benchmarks/calibrate_contact.py``, which names the rows; those rows serve calibration and never
validation. What is marked held was not fitted
in the last round; what is judged was set by what sound welds show and is no evidence of it.
"""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class ContactConstants:
    """Contact law and contact mechanics, bare lightly oiled steel and CuCrZr caps.

    The order of the fields is that of ``fields.py``.
    """

    faying_film: float = 5.02e-9  # ohm m2, cold at 100 MPa, SAE 1010
    cap_film: float = 4.03e-9  # ohm m2, cold at 100 MPa
    film_exponent: float = 1.0  # -, of pressure; held: that of a film, metallic spots have 0.5
    faying_conductance: float = 5.0e4  # W/m2/K at 100 MPa; held
    cap_conductance: float = 1.64e4  # W/m2/K at 100 MPa; held, from an earlier fit
    conductance_exponent: float = 0.95  # -, of pressure; held
    pressure_shape: float = (
        1.44  # -, of the pressure over a faying contact; 0 even, 0.5 Hertz's; held
    )
    spread: float = 0.4  # -, cold contact radius gained per depth below the cap; held, decision 11
    sinking_rate: float = 1.0  # 1/s, share of the sheet where the ring bears it; judged by dents
    sinking_exponent: float = 5.0  # -, steepness of hot flow; held
    sinking_ring: float = 2.0  # -, pressure over the flow stress of the ring; held, decision 12
    edge: float = 0.3e-3  # m over which a contact's edge fades; held
    water_film: float = 3e4  # W/m2/K in the cap; held
    rim: float = 1.92  # -, pressure a hot faying contact bears over its flow stress

    def array(self) -> NDArray[np.float64]:
        """Return the values in order [SI]."""
        return np.array([getattr(self, field.name) for field in fields(self)])


CONTACT = ContactConstants()
