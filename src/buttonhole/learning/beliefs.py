"""What is not known of a machine before its first coupon, and how far it is doubted.

A machine unknown moves one input of the surrogate. All widths are one standard deviation and
assumptions, no source, unless said: no figures for repair machines are published. They are wide on
purpose: coupons and meters narrow them.
"""

import dataclasses
import math
from dataclasses import dataclass

MM = 1e-3  # m


@dataclass(frozen=True, slots=True)
class Unknown:
    """One thing nobody knows of the machine.

    ``moves``: the input of the surrogate. ``sd``: one standard deviation, in that input [SI].
    ``about``: where it lies by belief [SI]. ``per_current`` [A]: the width is an offset of so many
    ampere, which counts the more the smaller the current. ``meter``: what is read to learn it.
    ``group``: it holds only for joints of that group (a coating); empty for all.
    """

    name: str
    moves: str
    sd: float  # SI
    about: float = 0.0  # SI
    per_current: float = 0.0  # A
    meter: str = ""
    group: str = ""


@dataclass(frozen=True, slots=True)
class Beliefs:
    """What is believed of machines of one kind.

    ``common`` [m]: how far the predicted sizes may all be off together; ``own`` [m]: each joint's
    besides. ``scatter`` [m]: median from weld to weld; ``scatter_width`` [-]: standard deviation of
    its logarithm. ``splash_doubt`` [-]: of the splash score. ``least_button`` [m]: below it nothing
    is torn that anybody would measure. ``wary`` [-]: of the scatter believed, over which the strict
    rule holds while a machine is hardly known; ``assurance`` [-]: least that a release asks for,
    where more than the rule's own.
    """

    kind: str
    unknowns: tuple[Unknown, ...]
    common: float  # m
    own: float  # m
    scatter: float  # m
    scatter_width: float  # -
    splash_doubt: float  # -
    least_button: float  # m
    wary: float = 1.25  # -
    assurance: float = 0.0  # -

    @property
    def widest_scatter(self) -> float:
        """Scatter that 95 of 100 machines keep to by belief [m]."""
        return self.scatter * math.exp(1.645 * self.scatter_width)


# Contact: the onset by the solver and by the emulator is off by about 5 % of the current, alike for
# joints of the same coating; see the validation page of the emulator.
SPOT = Beliefs(
    "spot",
    (
        Unknown("current gain", "current", 0.06, meter="current"),
        Unknown("current offset", "current", 1.0, per_current=300.0, meter="current"),
        Unknown("force", "force", 0.10, meter="force"),
        Unknown("face", "face", 0.05, about=0.05, meter="face"),
        Unknown("contact, bare", "current", 0.05, group="bare"),
        Unknown("contact, coated", "current", 0.05, group="coated"),
        Unknown("gap", "gap", 0.05 * MM, about=0.05 * MM, meter="gap"),
    ),
    common=0.25 * MM,
    own=0.25 * MM,
    scatter=0.28 * MM,
    scatter_width=0.6,
    splash_doubt=0.7,
    least_button=2.0 * MM,
)

# The plug model may be 0.9 mm off (weld/arc/plug/prediction); a hand-held torch scatters wider.
PLUG = Beliefs(
    "plug",
    (
        Unknown("wire feed", "feed", 0.04, meter="feed"),
        Unknown("arc voltage", "voltage", 0.03, meter="voltage"),
        Unknown("arc time", "time", 0.08, meter="time"),
        Unknown("contact-tube distance", "distance", 0.10, meter="distance"),
        Unknown("arc efficiency", "efficiency", 0.05),
        Unknown("gap", "gap", 0.08 * MM, about=0.1 * MM, meter="gap"),
    ),
    common=0.7 * MM,
    own=0.5 * MM,
    scatter=0.38 * MM,
    scatter_width=0.6,
    splash_doubt=2.0,  # the molten spot on the back may be 0.8 mm off, it scatters by 0.4 mm
    least_button=2.0 * MM,
    # a hand may scatter twice as much as is believed; see docs/validation/learning
    wary=1.0,
    assurance=0.97,
)

_SEAM = (
    Unknown("wire feed", "feed", 0.04, meter="feed"),
    Unknown("arc voltage", "voltage", 0.03, meter="voltage"),
    Unknown("travel speed", "speed", 0.08, meter="speed"),
    Unknown("contact-tube distance", "distance", 0.10, meter="distance"),
    Unknown("arc efficiency", "efficiency", 0.05),
    Unknown("gap", "gap", 0.08 * MM, about=0.1 * MM, meter="gap"),
    Unknown("aim", "stray", 0.4 * MM),  # how a hand usually aims; it wanders besides
)
# Widths of seams: what the form of the model may be off is judged as in weld/arc/seam/prediction.
SEAM = Beliefs(
    "seam",
    _SEAM,
    common=0.5 * MM,
    own=0.4 * MM,
    scatter=0.40 * MM,
    scatter_width=0.6,
    splash_doubt=2.0,
    least_button=0.5 * MM,
    wary=1.0,
    assurance=0.97,
)
BRAZE = dataclasses.replace(SEAM, kind="braze")
ALUMINIUM = dataclasses.replace(SEAM, kind="aluminium")
