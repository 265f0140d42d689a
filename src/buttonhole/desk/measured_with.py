"""What readings were taken with: the shop's own study of a gauge goes before the usual figures."""

from dataclasses import replace
from typing import cast

from buttonhole.coupon.arc.reading import CLEAN, ArcReading, usual_gauge_uncertainty
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.gauge import Gauge
from buttonhole.coupon.reading import READER, Reading, usual_instrument_uncertainty
from buttonhole.desk.desk import LONGEST_NAME, Desk
from buttonhole.desk.keep_gauge import gauges

Readings = tuple[Reading, ...] | tuple[ArcReading, ...]


def measured_with(desk: Desk, readings: Readings, instrument: str) -> tuple[Readings, str]:
    """
    Give readings the uncertainty of the shop's own study, and name it as their source.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    readings : tuple of Reading or ArcReading
        As entered.
    instrument : str
        As it was named.

    Returns
    -------
    tuple of Readings and str
        As they are kept; unchanged where no study holds or somebody gave own uncertainties.
    """
    gauge = studied(desk, instrument)
    if gauge is None:
        return readings, instrument
    found = cast("Readings", tuple(_one(one, gauge) for one in readings))  # one kind, as before
    if found == readings:
        return readings, instrument
    return found, f"{gauge.name}, by its own study: {gauge.study}"[:LONGEST_NAME]


def studied(desk: Desk, instrument: str) -> Gauge | None:
    """
    Find the gauge whose study holds for readings.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    instrument : str
        As it was named; empty: nobody said.

    Returns
    -------
    Gauge or None
        The gauge of this name, or, where nobody named one, the only one the shop has studied.
    """
    own = [one for one in gauges(desk) if one.study]
    named = instrument.strip().casefold()
    if not named:
        return own[0] if len(own) == 1 else None
    return next((one for one in own if one.name.casefold() == named), None)


def _one(reading: Reading | ArcReading, gauge: Gauge) -> Reading | ArcReading:
    if isinstance(reading, Reading):
        usual = usual_instrument_uncertainty(reading.mode)
        clean = reading.mode in (FractureMode.FULL_BUTTON, None)
    else:
        usual = usual_gauge_uncertainty(reading.fracture)
        clean = reading.fracture in CLEAN
    if (reading.instrument_uncertainty, reading.reader_uncertainty) != (usual, READER):
        return reading
    return replace(
        reading,
        instrument_uncertainty=gauge.instrument(clean=clean),
        reader_uncertainty=gauge.reader,
    )
