"""Where the drops' metal goes, on a bare grid with temperatures set by hand."""

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.plug import fields as f
from buttonhole.weld.arc.plug.deposit import choose_column, is_full, lay, wetted_span
from buttonhole.weld.arc.plug.layout import PlugLayout, lay_out
from tests.weld.arc.plug.plugs import joint

Array = NDArray[np.float64]
HOT, COLD = 1600.0, 20.0


def closure() -> Array:
    found = np.zeros(f.CLOSURE)
    found[f.SPLAT], found[f.WETS], found[f.PILE] = 1.2e-3, 1430.0, 1.0e-3
    return found


def grid(layout: PlugLayout) -> tuple[object, ...]:
    return (
        layout.part.copy(), layout.r_faces, layout.z_faces, layout.dz, layout.area, layout.r,
        layout.rim_row, layout.inside,
    )  # fmt: skip


def filled(
    layout: PlugLayout, temperature: float, volume: float, rho: float = 0.0
) -> tuple[NDArray[np.int64], NDArray[np.int64], Array, float]:
    """Lay down a volume at once; part, level, sums and what is left in the bank."""
    cells = np.zeros((f.CELL_FIELDS, *layout.part.shape))
    cells[f.TEMPERATURE] = temperature
    cells[f.VOLUME] = layout.dz[:, None] * layout.area[None, :]
    made, level, sums = grid(layout), layout.level.copy(), np.zeros(f.SUMS)
    drop = np.array([1e10, 2000.0, 0.0, 1.0, 2.0])
    left = lay(cells, made, level, layout.gaps, closure(), drop, 2, rho, sums, volume)
    return made[0], level, sums, left  # type: ignore[return-value]  # the first of the bundle


def test_a_wet_hole_fills_from_the_bottom_to_the_rim() -> None:
    layout = lay_out(joint(), 0.25e-3, 1e-7)
    volume = joint().hole_volume
    part, level, sums, left = filled(layout, HOT, 0.5 * volume)
    depths = layout.z_faces[level[: layout.inside]]
    assert depths.max() - depths.min() < 0.26e-3  # level to one cell
    cell = layout.dz[:, None] * layout.area[None, :]
    assert sums[f.LAID] == cell[part == 2].sum()
    assert abs(sums[f.LAID] + left - 0.5 * volume) < 1e-20
    _, level, _, _ = filled(layout, HOT, 1.0001 * volume)
    assert is_full(level, layout.inside, layout.rim_row)


def test_a_cold_floor_is_only_covered_where_drops_land_until_they_roll_off() -> None:
    layout = lay_out(joint(), 0.25e-3, 1e-7)
    splat = np.pi * 1.2e-3**2
    _, level, _, _ = filled(layout, COLD, 0.5 * splat * 1e-3)
    covered = layout.r[: layout.inside][level[: layout.inside] < layout.level[: layout.inside]]
    assert covered.max() < 1.3e-3
    _, level, _, _ = filled(layout, COLD, 2.0 * splat * 1e-3)
    covered = layout.r[: layout.inside][level[: layout.inside] < layout.level[: layout.inside]]
    assert covered.max() > 1.3e-3  # a cold lap


def test_drops_along_the_rim_leave_the_cold_middle_bare() -> None:
    layout = lay_out(joint(), 0.25e-3, 1e-7)
    _, level, _, _ = filled(layout, COLD, 12e-9, rho=3.2e-3)
    assert level[0] == layout.level[0]
    assert level[layout.inside - 1] < layout.level[layout.inside - 1]


def test_an_open_gap_takes_metal_before_the_hole_does() -> None:
    made = joint(gap=1.0)
    layout = lay_out(made, 0.25e-3, 2e-7)
    pocket = np.pi * 4e-3**2 * 1e-3
    part, level, _, _ = filled(layout, HOT, 1.6 * pocket)
    above, below, _, first, last = layout.gaps[0].astype(int)
    assert last > first
    assert (part[above + 1 : below, first:last] == 2).all()
    assert (part[above + 1 : below, last] == -1).all()
    assert (level[layout.inside :] == layout.rim_row).all()


def test_the_head_goes_over_the_rim_only_when_full_and_wet() -> None:
    layout = lay_out(joint(), 0.25e-3, 2e-7)
    t = np.full(layout.part.shape, HOT)
    args = (layout.r, layout.level, layout.inside, layout.rim_row, 0.0, 1.2e-3, 1430.0)
    assert wetted_span(t, *args) == (0, layout.inside - 1)
    full = np.full_like(layout.level, layout.rim_row)
    args = (layout.r, full, layout.inside, layout.rim_row, 0.0, 1.2e-3, 1430.0)
    assert wetted_span(t, *args)[1] > layout.inside
    t[:, layout.inside :] = COLD
    assert wetted_span(t, *args)[1] == layout.inside - 1


def test_the_lowest_wetted_column_is_taken_and_of_equals_the_nearest() -> None:
    layout = lay_out(joint(), 0.25e-3, 1e-7)
    t, level = np.full(layout.part.shape, HOT), layout.level.copy()
    args = (layout.r, level, layout.z_faces, layout.inside, layout.rim_row, 0.0, closure())
    assert choose_column(t, *args) == 0
    level[:6] -= 1
    assert choose_column(t, *args) == 6


def test_no_room_is_told() -> None:
    layout = lay_out(joint(), 0.25e-3, 1e-9)
    _, _, _, left = filled(layout, HOT, 1e-5)
    assert left < 0.0
