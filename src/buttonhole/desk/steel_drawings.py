"""The property curves of a steel as drawings."""

from buttonhole.desk.steel_answer import SHOWN
from buttonhole.joint.property_band import PropertyBand, property_bands
from buttonhole.joint.steel import find_steel
from buttonhole.paper.figure import DrawnBand, Style, band
from buttonhole.sources import bibliography

UNITS = {"W/m/K": "W/(m K)", "J/kg/K": "J/(kg K)", "ohm m": "µΩ cm", "Pa": "MPa"}


def property_drawings(text: str, style: Style | None = None) -> tuple[tuple[str, str], ...]:
    """Draw every property curve of a steel with its band.

    Parameters
    ----------
    text : str
        Designation, or "unknown".
    style : Style, optional
        Letter size and language.

    Returns
    -------
    tuple of (str, str)
        A name for a file and the SVG text.

    Raises
    ------
    BadInput
        No such steel.
    """
    bands = property_bands(find_steel(text))
    return tuple(
        (one.quantity.replace(" ", "_"), band(_drawn(one), style=style or Style(lettering=18.0)))
        for one in bands
    )


def _drawn(one: PropertyBand) -> DrawnBand:
    _, factor = SHOWN[one.unit]
    values, low, high = (
        tuple(float(factor * v) for v in column) for column in (one.value, one.low, one.high)
    )
    return DrawnBand(
        name=one.quantity.capitalize(),
        unit=UNITS[one.unit],
        temperatures=tuple(float(t) for t in one.temperature),
        values=values,
        low=low,
        high=high,
        note=f"Line: value in use. Hatched: where nine of ten casts should lie, judged. Source: "
        f"{bibliography()[one.source].title} ({one.status.value}). Made by: {one.rule}.",
    )
