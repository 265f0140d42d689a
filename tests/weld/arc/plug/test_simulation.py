"""The march itself: books, layout, convergence, two and three sheets."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.closure import CLOSURE
from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.plug.layout import lay_out
from buttonhole.weld.arc.plug.marks import cap_height, isotherm, read_marks
from buttonhole.weld.arc.plug.simulation import COARSE, PlugResolution, simulate
from tests.weld.arc.plug.plugs import joint, set_up

WHOLE = 1e-12  # of the energy books; rounding of a thousand steps


@pytest.mark.parametrize(
    "made",
    [
        joint(),
        joint(gap=0.7),
        joint((0.8, 0.8, 1.5), (10.0, 8.0)),
        joint((0.7, 1.0, 1.5), (9.0, 0.0)),
        joint((0.8, 0.8, 1.2), (10.0, 7.0), gap=0.4, path=TorchPath.RIM),
        joint((0.7, 0.7), path=TorchPath.CENTRE),
        joint((0.8, 1.2), (0.0,), path=TorchPath.CENTRE),
    ],
    ids=["plain", "gap", "stepped", "second not drilled", "all at once", "thin", "arc spot"],
)
def test_the_energy_books_are_whole(made: PlugJoint) -> None:
    found = simulate(made, set_up())
    assert abs(found.imbalance) < WHOLE
    # what is laid down is what was fed, less what no cell could be filled with any more
    fed = found.point.fill_rate * 1.87
    assert 0.97 * fed < found.laid <= fed * (1.0 + 1e-12)
    assert found.heat == pytest.approx(found.net_power * 1.87, rel=0.02)


def test_what_boils_off_is_booked() -> None:
    hot = dataclasses.replace(CLOSURE, spread=0.7e-3, pool_mixing=1.0)
    found = simulate(joint(path=TorchPath.CENTRE), set_up(feed=9.0, voltage=22.0), COARSE, hot)
    assert np.nanmax(found.peak) > 2100.0
    assert np.nanmax(found.peak) <= 2860.0
    assert abs(found.imbalance) < WHOLE


def test_holes_lie_on_faces_and_volumes_are_those_of_the_sheets() -> None:
    made = joint((0.8, 1.0, 1.5), (10.0, 8.0), gap=0.3)
    layout = lay_out(made, 0.25e-3, 2e-7)
    assert np.isclose(layout.r_faces, 5e-3, atol=1e-12).any()
    assert np.isclose(layout.r_faces, 4e-3, atol=1e-12).any()
    assert layout.r_faces[-1] == pytest.approx(40e-3)
    volume = layout.dz[:, None] * layout.area[None, :]
    for number, (thick, hole) in enumerate(((0.8, 5.0), (1.0, 4.0), (1.5, 0.0))):
        wanted = math.pi * (40.0**2 - hole**2) * thick
        assert 1e9 * volume[layout.part == number].sum() == pytest.approx(wanted, rel=1e-9)
    assert layout.z_faces[layout.rim_row] == 0.0
    assert layout.z_faces[-1] == pytest.approx(0.8e-3 + 1.0e-3 + 1.5e-3 + 2 * 0.3e-3)
    assert (layout.level[layout.inside :] == layout.rim_row).all()
    assert (layout.contact_of == -1).all()  # an open gap is no contact


def test_finer_grids_and_steps_agree() -> None:
    """At default the figures are within a few per cent of a grid twice and steps half as fine."""
    fine = PlugResolution(cell=0.125e-3, arc_step=2e-3, cooling_step=0.05, change=75.0)
    a, b = (read_marks(simulate(joint(), set_up(), r)) for r in (PlugResolution(), fine))
    assert a.fused_diameter[0] == pytest.approx(b.fused_diameter[0], rel=0.05)
    assert a.penetration[0] == pytest.approx(b.penetration[0], rel=0.05)
    assert a.zinc_ring == pytest.approx(b.zinc_ring, rel=0.02)
    assert a.tint == pytest.approx(b.tint, rel=0.01)
    for one, other in zip(a.haz_diameter, b.haz_diameter, strict=True):
        assert one == pytest.approx(other, rel=0.02)
    assert a.cooling_t85[1] == pytest.approx(b.cooling_t85[1], rel=0.04)
    assert a.back_peak == pytest.approx(b.back_peak, abs=8.0)


def test_shorter_steps_alone_change_little() -> None:
    short = PlugResolution(arc_step=1e-3, cooling_step=0.02, change=40.0)
    a, b = (read_marks(simulate(joint(), set_up(), r)) for r in (PlugResolution(), short))
    assert a.fused_diameter[0] == pytest.approx(b.fused_diameter[0], rel=0.03)
    assert a.zinc_ring == pytest.approx(b.zinc_ring, rel=0.01)
    assert a.cooling_t85[1] == pytest.approx(b.cooling_t85[1], rel=0.03)


def test_three_sheets_with_stepped_holes_fuse_the_last_one() -> None:
    hot = set_up(feed=8.0, voltage=18.5, arc_time=2.4)
    stepped = read_marks(simulate(joint((0.8, 0.8, 1.0), (10.0, 8.0)), hot))
    assert len(stepped.fused_diameter) == len(stepped.penetration) == 2
    assert len(stepped.haz_diameter) == 3
    assert stepped.fused_diameter[1] > 3e-3
    straight = read_marks(simulate(joint((0.8, 0.8, 1.0), (8.0, 8.0)), hot))
    # a step shows a ring of the second sheet to the arc
    assert stepped.fused_diameter[0] > straight.fused_diameter[0]


def test_a_bar_behind_the_weld_cools_the_back() -> None:
    bare = read_marks(simulate(joint((0.8, 0.8)), set_up()))
    barred = read_marks(simulate(dataclasses.replace(joint((0.8, 0.8)), back_film=5e3), set_up()))
    assert barred.back_spot < bare.back_spot
    assert barred.cooling_t85[1] < bare.cooling_t85[1]


def test_caps_and_isotherms() -> None:
    for height in (0.5e-3, 2e-3, 5e-3):
        volume = math.pi * height * (3.0 * 16e-6 + height**2) / 6.0
        assert cap_height(volume, 8e-3) == pytest.approx(height, rel=1e-9)
    assert cap_height(0.0, 8e-3) == 0.0
    r = np.arange(0.5, 10.0)
    assert isotherm(r, 1000.0 - 100.0 * r, 555.0) == pytest.approx(8.9)
    assert isotherm(r, np.full(10, 20.0), 300.0) == 0.0


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("hole_diameter", {"hole_diameters": (20e-3,)}),
        ("hole_diameter", {"hole_diameters": (math.nan,)}),
        ("hole_diameter", {"hole_diameters": (8e-3, 6e-3)}),
        ("piece_radius", {"piece_radius": 5e-3}),
        ("back_film", {"back_film": -1.0}),
    ],
)
def test_a_joint_that_can_not_be_is_refused_by_its_key(key: str, values: dict[str, object]) -> None:
    with pytest.raises(BadInput, match=key):
        dataclasses.replace(joint(), **values)


def test_a_hole_wider_below_than_above_is_refused() -> None:
    with pytest.raises(BadInput, match="largest outside"):
        joint((0.8, 0.8, 0.8), (6.0, 8.0))


def test_a_plug_needs_its_arc_time() -> None:
    with pytest.raises(BadInput, match="arc_time"):
        simulate(joint(), dataclasses.replace(set_up(), arc_time=None), COARSE)


def test_more_wire_than_any_plug_takes_is_refused() -> None:
    with pytest.raises(BadInput, match="where the hole takes"):
        simulate(joint(holes=(4.0,)), set_up(feed=25.0, arc_time=10.0), COARSE)


@settings(max_examples=25)
@given(
    sheets=st.lists(st.floats(0.5, 4.0), min_size=2, max_size=3),
    hole=st.floats(3.0, 16.0),
    step=st.floats(0.0, 4.0),
    gap=st.floats(0.0, 3.0),
    path=st.sampled_from(list(TorchPath)),
    feed=st.floats(1.0, 25.0),
    voltage=st.floats(8.0, 40.0),
    distance=st.floats(4.0, 40.0),
    arc_time=st.floats(0.05, 5.0),
)
def test_any_joint_that_is_taken_ends_with_whole_books(
    sheets: list[float],
    hole: float,
    step: float,
    gap: float,
    path: TorchPath,
    feed: float,
    voltage: float,
    distance: float,
    arc_time: float,
) -> None:
    holes = (hole,) if len(sheets) == 2 else (hole, max(hole - step, 3.0))
    try:
        found = simulate(
            joint(tuple(sheets), holes, gap, path),
            set_up(feed, voltage, distance, arc_time),
            COARSE,
        )
    except BadInput as bad:
        if bad.key != "arc_time":  # more wire than the hole takes
            raise
        return
    assert abs(found.imbalance) < WHOLE
    marks = read_marks(found)
    for depth, thick in zip(marks.penetration, sheets[1:], strict=True):
        assert 0.0 <= depth <= thick * 1e-3 * (1.0 + 1e-9)
    assert 0.0 <= marks.rim_fusion <= 1.0 + 1e-12
    assert marks.zinc_ring <= marks.tint + 1e-12
    assert marks.back_peak >= 20.0 - 1e-6
