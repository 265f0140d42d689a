"""The property curves of a steel with their source, status, and how far they may be off."""

from dataclasses import dataclass, replace

import numpy as np

from buttonhole.joint.material import Array, curves, origins
from buttonhole.joint.steel import Steel, steels
from buttonhole.joint.steel_book import entry, is_listed
from buttonhole.sources import Status, table
from buttonhole.units import BadInput

QUANTITIES = {  # what may be asked for: the field of the curves, its unit, its name among origins
    "conductivity": ("conductivity", "W/m/K", "conductivity"),
    "heat capacity": ("heat_capacity", "J/kg/K", "specific heat"),
    "resistivity": ("resistivity", "ohm m", "resistivity"),
    "flow stress": ("flow_stress", "Pa", "flow stress"),
}
LENT = 0.10  # -, added where the curve is another steel's; judged, no source
LENT_UP_TO = 800.0  # degC; above, steels are alike (SAME_UP_TO and ALIKE_FROM of the curves)


@dataclass(frozen=True, slots=True)
class PropertyBand:
    """One property against temperature [degC] with the band that 90 % of casts lie in.

    ``value``, ``low`` and ``high`` are in the unit named; every array has shape (temperatures,).
    """

    quantity: str
    unit: str
    temperature: Array  # (temperatures,) degC
    value: Array  # (temperatures,) in the unit of the quantity
    low: Array  # (temperatures,) in the unit of the quantity
    high: Array  # (temperatures,) in the unit of the quantity
    table: str  # of the program's data
    source: str  # key in the bibliography
    status: Status
    rule: str  # what was done with the table
    uncertainty: str  # in words, as the table states it


def property_bands(steel: Steel, temperature: Array | None = None) -> tuple[PropertyBand, ...]:
    """Return every property curve of a steel with its band.

    Parameters
    ----------
    steel : Steel
        A listed steel, or the unknown one.
    temperature : ndarray, optional
        20 to 4500, rising, shape (temperatures,) [degC]; every 20 degC up to 1600 if not given.

    Returns
    -------
    tuple of PropertyBand
        Conductivity, heat capacity, resistivity, flow stress.

    Raises
    ------
    BadInput
        A temperature lies outside the curves.

    Sources
    -------
    those of ``joint.material``; the bands are judged (common practice, no source)
    """
    hot = np.arange(20.0, 1601.0, 20.0) if temperature is None else np.asarray(temperature, float)
    found = curves(steel)
    if not (hot.size and np.all((found.temperature[0] <= hot) & (hot <= found.temperature[-1]))):
        raise BadInput(
            "temperature",
            f"is outside the curves; give {found.temperature[0]:g} to "
            f"{found.temperature[-1]:g} degC",
        )
    bands = tuple(_band(steel, quantity, hot) for quantity in QUANTITIES)
    return tuple(_envelope(one) for one in bands) if steel.is_unknown else bands


def _band(steel: Steel, quantity: str, hot: Array) -> PropertyBand:
    field, unit, origin = QUANTITIES[quantity]
    found = curves(steel)
    (where,) = (one for one in origins(steel) if one.quantity == origin)
    lent = entry(steel).like if is_listed(steel) else ""
    value = np.interp(hot, found.temperature, getattr(found, field))
    share = _relative(quantity, hot) + (_lent(quantity, hot) if lent else 0.0)
    data = table(where.table).provenance
    return PropertyBand(
        quantity=quantity,
        unit=unit,
        temperature=hot,
        value=value,
        low=value * (1.0 - share),
        high=value * (1.0 + share),
        table=where.table,
        source=data.source,
        status=Status.DERIVED if lent and quantity != "heat capacity" else where.status,
        rule=where.rule + (f"; lent by {lent}" if lent else ""),
        uncertainty=data.uncertainty,
    )


def _envelope(unknown: PropertyBand) -> PropertyBand:
    """The unknown steel's band holds the bands of every steel that has curves of its own."""
    every = [_band(steel, unknown.quantity, unknown.temperature) for steel in steels()]
    return replace(
        unknown,
        low=np.min([one.low for one in every], axis=0),
        high=np.max([one.high for one in every], axis=0),
        status=Status.DERIVED,
        rule=f"{unknown.rule}; the band holds every steel that has curves of its own",
    )


def _relative(quantity: str, hot: Array) -> Array:
    """Half width of the band over the value [-]."""
    listed = table("property_uncertainty").where("quantity", quantity)
    ends = listed.column("T_to [degC]")
    at = np.minimum(np.searchsorted(ends, hot, side="left"), len(ends) - 1)
    found: Array = listed.column("relative [%]")[at] / 100.0
    return found


def _lent(quantity: str, hot: Array) -> Array:
    """What the band is wider by where another steel lends its curve [-]."""
    if quantity == "heat capacity":  # the standard has one for all
        return np.zeros_like(hot)
    found: Array = LENT * np.clip((LENT_UP_TO - hot) / LENT_UP_TO, 0.0, 1.0)
    return found
