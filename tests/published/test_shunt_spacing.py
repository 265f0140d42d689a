"""Spacings that a published chart gives as needing no correction of the current.

Role: validation of the shape of the shunt law, not of its factor. Quantity: share of the current
that goes astray, at the chart's spacing and settings. The chart doesn't say what it counts as no
correction; whatever that is, it should be the same on every row. Tolerance: a fifth of the mean,
the spacings being printed in steps of an eighth of an inch. Source: rw-supplier-chart, read.
"""

import dataclasses

import numpy as np

from benchmarks.published_rows import published_welds
from buttonhole.sources import table
from buttonhole.weld.spot.condition import SpotCondition
from buttonhole.weld.spot.shunt import Shunt
from buttonhole.weld.spot.simulation import COARSE, simulate

INCH = 25.4e-3
UNTIL_HOLD_ENDS = dataclasses.replace(COARSE, cooling=False)


def test_the_chart_loses_the_same_share_of_current_on_every_row() -> None:
    chart = table("schedule_sae1010")
    spacing = dict(
        zip(
            np.round(chart.column("t [in]") * INCH, 6),
            chart.column("pitch_min [in]") * INCH,
            strict=True,
        )
    )
    rows = [r for r in published_welds() if r.source == "schedule_sae1010" and r.thickness > 0.7e-3]
    assert len(rows) >= 7
    lost = []
    for row in rows:
        beside = SpotCondition(shunt=Shunt(float(spacing[round(row.thickness, 6)])))
        weld = simulate(row.stack, row.set_up(0.0), UNTIL_HOLD_ENDS, condition=beside)
        lost.append(1.0 - weld.passed)
    assert np.abs(np.array(lost) / np.mean(lost) - 1.0).max() < 0.2
