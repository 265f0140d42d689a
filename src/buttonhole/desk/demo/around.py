"""What is around the joints of the demonstration, as it was found on an invented hatchback."""

from buttonhole.procedure.joining.circumstances import (
    Access,
    Adhesive,
    Circumstances,
    Original,
    RemainingFlange,
    Zone,
)
from buttonhole.procedure.joining.method import JoiningMethod

MEANS = (  # one squeeze gun, and a feeder for steel wire
    JoiningMethod.SPOT,
    JoiningMethod.PLUG,
    JoiningMethod.LAP_SEAM,
    JoiningMethod.BUTT_BACKED,
)
MODEL_YEAR = 2019
SILL_FLANGE = Circumstances(
    access=Access.TWO_SIDES,
    flange_width=18e-3,
    reach_needed=40e-3,
    arm_reach=120e-3,
    adhesive=Adhesive.NONE,
    zone=Zone.STRUCTURE,
    original_joining=Original.SPOT,
    original_count=14,
    remaining_flange=RemainingFlange.SOUND,
    model_year=MODEL_YEAR,
    means=MEANS,
)
WHEEL_ARCH = Circumstances(  # the inner side is closed by the liner's carrier
    access=Access.ONE_SIDE,
    flange_width=16e-3,
    adhesive=Adhesive.NONE,
    zone=Zone.STRUCTURE,
    original_joining=Original.SPOT,
    original_count=9,
    remaining_flange=RemainingFlange.SOUND,
    model_year=MODEL_YEAR,
    means=MEANS,
)
SILL_CUT = Circumstances(  # a cut where the factory had no weld
    access=Access.CLOSED_SECTION,
    adhesive=Adhesive.NONE,
    sectioning=True,
    zone=Zone.STRUCTURE,
    model_year=MODEL_YEAR,
    means=MEANS,
)
