"""Where people can be hurt or a vehicle burnt when an arc is struck on a body, and what to do.

Limits are those of the sources named beside them; local rules go before them.
"""

from collections.abc import Iterable

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.joint.stack_up import Caution

# Shade of the filter by the least current it is for (ANSI Z49.1, gas metal arc, suggested, read)
SHADES = ((250.0, 14), (160.0, 12), (60.0, 11), (0.0, 7))  # A, -

MAKER = Caution(
    "maker",
    "Whether this joint may be arc welded, with what wire and how many welds, the vehicle maker's "
    "procedure says. It prevails over every figure here.",
    "the maker's procedure prevails",
    "common-practice",
)
FIRE = Caution(
    "fire",
    "Fire: wax, foam, sealer, trim and leads behind the sheet catch fire out of sight. Clear or "
    "shield 11 m round, look at the back, keep an extinguisher at hand and watch for 60 minutes "
    "after the last arc (30 is the least by law in places); longer where there are cavities.",
    "11 m clear, fire watch of at least 30 min",
    "osha-1910-252",
)
FUME = Caution(
    "fume",
    "Fume of any arc causes cancer: extraction at the arc, indoors always, and breathing "
    "protection for what is left.",
    "extraction for every indoor weld",
    "hse-welding-fume",
)
ZINC_FUME = Caution(
    "zinc-fume",
    "Zinc boils off at about 907 degC and makes metal fume fever. Take the coating off at least "
    "where it is welded, extract at the arc, wear breathing protection.",
    "zinc oxide fume 5 mg/m3 over a shift",
    "osha-zinc-oxide",
)
VEHICLE = Caution(
    "vehicle",
    "Before the first arc: both leads of the battery off, return clamp beside the weld, control "
    "units and airbags as the maker says. Never weld beside a high-voltage battery or its leads; "
    "only a qualified person isolates it and proves it dead.",
    "battery off, return clamp close",
    "maker-body-manual",
)


def shade(current: float) -> int:
    """Filter shade suggested for an arc.

    Parameters
    ----------
    current : float
        Welding current [A].

    Returns
    -------
    int
        Shade number.

    Sources
    -------
    ansi-z49-1 (read)
    """
    return next(number for least, number in SHADES if current >= least)


def dangers(coatings: Iterable[Coating], current: float) -> tuple[Caution, ...]:
    """Say what to mind before an arc is struck.

    Parameters
    ----------
    coatings : iterable of Coating
        Of all sheets.
    current : float
        Welding current [A].

    Returns
    -------
    tuple of Caution
        The maker's word first.

    Sources
    -------
    osha-1910-252, hse-welding-fume, osha-zinc-oxide, ansi-z49-1, maker-body-manual (read)
    """
    said = [MAKER, FIRE, FUME]
    if set(coatings) & ZINC:
        said.append(ZINC_FUME)
    eyes = Caution(
        "eyes",
        f"Eyes and skin: filter shade {shade(current)} at {current:.0f} A, screens for others, "
        "gloves and closed clothing.",
        "filter shade by current",
        "ansi-z49-1",
    )
    return (*said, eyes, VEHICLE)
