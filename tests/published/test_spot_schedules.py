"""Spot-weld schedules against the solver, with the baseline of a root of the thickness beside.

Role: calibration for the sources so marked in ``benchmarks/published_rows.py``, validation for the
others; a source is never both. Quantity: nugget diameter at the faying interface. Inputs as
printed; assumptions where a table is silent stand in that module. Tolerances: two tables contradict
each other by a fifth at nearly the same setting, which is the floor for any single row; the bias of
a source is what is left of that.
"""

import math

import numpy as np
import pytest

from benchmarks.published_rows import ROLE, PublishedWeld, published_welds
from buttonhole.weld.spot.simulation import Resolution, simulate

ROWS = published_welds()
GRID = Resolution(cell=0.2e-3, t_step=90.0)


@pytest.fixture(scope="module")
def ratios() -> dict[PublishedWeld, float]:
    return {
        row: float(simulate(row.stack, row.set_up(0.0), GRID).nugget[0]) / row.nugget
        for row in ROWS
    }


def test_no_row_serves_both_to_fit_and_to_judge() -> None:
    roles = {source: {row.role for row in ROWS if row.source == source} for source in ROLE}
    assert all(len(found) == 1 for found in roles.values())
    assert {role for found in roles.values() for role in found} == {"calibration", "validation"}

    def setting(row: PublishedWeld) -> tuple[float, ...]:
        return (row.thickness, row.face, row.force, row.current, row.time)

    fitted = {setting(row) for row in ROWS if row.role == "calibration"}
    judged = {setting(row) for row in ROWS if row.role == "validation"}
    assert fitted.isdisjoint(judged)


@pytest.mark.parametrize("source", list(ROLE))
def test_nuggets_of_a_source(source: str, ratios: dict[PublishedWeld, float]) -> None:
    found = np.array([ratio for row, ratio in ratios.items() if row.source == source])
    assert abs(found.mean() - 1.0) < 0.13
    assert math.sqrt(((found - 1.0) ** 2).mean()) < 0.15
    assert np.abs(found - 1.0).max() < 0.30


def test_long_low_force_welds_judged_unseen_beat_a_root_of_the_thickness(
    ratios: dict[PublishedWeld, float],
) -> None:
    """Class C welds with a third of the force for four times as long; no row of it was fitted."""
    trained = [row for row in ROWS if row.role == "calibration"]
    size = np.array([math.sqrt(row.thickness) / row.nugget for row in trained])
    k = size.sum() / (size**2).sum()
    judged = [row for row in ROWS if row.source == "schedule_class_c"]
    root = np.array([k * math.sqrt(row.thickness) / row.nugget - 1.0 for row in judged])
    solver = np.array([ratios[row] - 1.0 for row in judged])
    assert (solver**2).mean() < (root**2).mean()


@pytest.mark.parametrize("thickness", [0.75e-3, 1.0e-3, 1.25e-3, 1.5e-3, 2.0e-3])
def test_less_force_and_current_for_longer_give_nearly_the_same_nugget(thickness: float) -> None:
    """The trade between schedule classes: about 0.7 of force, 0.8 of current, 1.8 of the time.

    Common practice, no source for the exact factors; the tables of class A and C bracket them.
    """
    import dataclasses

    row = next(
        r for r in ROWS if r.source == "schedule_class_a" and abs(r.thickness - thickness) < 1e-6
    )
    slow = dataclasses.replace(
        row, force=0.7 * row.force, current=0.8 * row.current, time=1.8 * row.time
    )
    fast_d, slow_d = (
        float(simulate(each.stack, each.set_up(0.0), GRID).nugget[0]) for each in (row, slow)
    )
    assert slow_d == pytest.approx(fast_d, rel=0.10)
