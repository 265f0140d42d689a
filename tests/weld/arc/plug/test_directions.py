"""What the trade says of plugs, as directions; the sizes found are printed with ``-rP``.

Source: common practice, no source; sizes are the model's own and no evidence.
"""

import pytest

from buttonhole.weld.arc.plug.joint import TorchPath
from buttonhole.weld.arc.plug.marks import BackMark, PlugMarks, read_marks
from buttonhole.weld.arc.plug.simulation import PlugSimulation, simulate
from tests.weld.arc.plug.plugs import joint, set_up


def told(name: str, found: PlugSimulation) -> PlugMarks:
    marks = read_marks(found)
    print(  # noqa: T201 - pytest shows it with the result
        f"{name}: {found.current:.0f} A, {found.net_power:.0f} W into the work; fused "
        f"{1e3 * marks.fused_diameter[0]:.1f} mm, {1e3 * marks.penetration[0]:.2f} mm deep; back "
        f"{marks.back_mark}, {marks.back_peak:.0f} degC, molten {1e3 * marks.back_spot:.1f} mm; "
        f"edge melted back {1e3 * marks.melted_back:.2f} mm, rim fused "
        f"{100 * marks.rim_fusion:.0f} %, head {1e3 * marks.head_diameter:.1f} mm"
    )
    return marks


def test_a_short_contact_tube_distance_penetrates_and_raises_a_mark() -> None:
    short, usual, long, longest = (
        told(f"contact tube {d} mm", simulate(joint(), set_up(distance=d)))
        for d in (10, 13, 18, 23)
    )
    assert short.back_mark is BackMark.BUMP
    assert short.back_spot > usual.back_spot
    assert short.penetration[0] > 1.4e-3
    # the same wire goes in and the front looks the same, but current and then penetration are gone
    assert long.penetration[0] < 0.5 * short.penetration[0]
    assert longest.penetration[0] < 0.2 * short.penetration[0]
    assert long.back_mark is BackMark.CLEAR
    fused = [m.fused_diameter[0] for m in (short, usual, long, longest)]
    assert fused == sorted(fused, reverse=True)
    # a cold rim takes up less of the head, but nobody sees a millimetre
    assert short.head_diameter == pytest.approx(long.head_diameter, abs=1.5e-3)


def test_a_long_distance_loses_current_and_more_of_the_arcs_heat() -> None:
    near, far = (simulate(joint(), set_up(distance=d)) for d in (10, 23))
    assert far.current < 0.8 * near.current
    drops = near.point.droplet_power.value
    assert drops == far.point.droplet_power.value
    assert (far.net_power - drops) / (near.net_power - drops) < far.current / near.current - 0.1


def test_a_gap_starves_the_base_and_burns_the_edge_back() -> None:
    none, half, one, wide = (
        told(f"gap {g} mm, same time", simulate(joint((0.8, 1.5), gap=g), set_up(arc_time=1.68)))
        for g in (0.0, 0.5, 1.0, 1.5)
    )
    fused = [m.fused_diameter[0] for m in (none, half, one, wide)]
    assert fused == sorted(fused, reverse=True)
    assert wide.penetration[0] < 0.5 * none.penetration[0]
    assert one.fill_time == float("inf")  # the gap takes the metal
    # who welds on until the head is back burns the edge of the hole
    tight = told("no gap, 2.6 s", simulate(joint((0.8, 1.5)), set_up(arc_time=2.6)))
    open_ = told("gap 1 mm, 2.6 s", simulate(joint((0.8, 1.5), gap=1.0), set_up(arc_time=2.6)))
    assert open_.melted_back > 2.0 * tight.melted_back
    assert open_.melted_back > 0.15e-3


def test_the_middle_first_then_the_rim_fuses_more_than_the_rim_alone() -> None:
    spiral, rim, centre = (
        told(path, simulate(joint(path=path), set_up()))
        for path in (TorchPath.SPIRAL, TorchPath.RIM, TorchPath.CENTRE)
    )
    assert spiral.fused_diameter[0] > 4e-3 > 2.0 * rim.fused_diameter[0]
    assert spiral.penetration[0] > 10.0 * max(rim.penetration[0], 0.1e-3)
    assert rim.head_diameter > 0.0  # from the front the rim-only plug looks full
    # and washing out warms the edge more than holding the middle does
    assert spiral.haz_diameter[0] > centre.haz_diameter[0]


def test_a_short_weld_leaves_a_small_head_and_an_unfused_edge() -> None:
    small = told("1.4 s", simulate(joint(), set_up(arc_time=1.4)))
    large = told("3.2 s", simulate(joint(), set_up(arc_time=3.2)))
    assert small.head_diameter < large.head_diameter - 1e-3
    assert small.rim_fusion < large.rim_fusion
    # less than a millimetre over the edge: nothing but the unfused rim holds it in the hole
    assert small.head_diameter < 9.1e-3


def test_a_small_hole_is_full_before_the_base_melts() -> None:
    times = {5.0: 0.63, 6.0: 0.89, 8.0: 1.5, 10.0: 2.35}  # head in proportion
    found = [
        told(f"hole {hole} mm", simulate(joint(holes=(hole,)), set_up(arc_time=t)))
        for hole, t in times.items()
    ]
    shares = [m.fused_diameter[0] / hole for m, hole in zip(found, times, strict=True)]
    assert shares == sorted(shares)
    assert found[0].penetration[0] < 0.2e-3


def test_one_setting_does_not_serve_thin_and_thick_bases() -> None:
    marks = [
        told(f"base {t} mm", simulate(joint((1.0, t)), set_up())) for t in (0.7, 1.0, 1.5, 2.0, 3.0)
    ]
    assert marks[0].back_mark in (BackMark.DRIP, BackMark.HOLE)
    assert marks[2].back_mark is BackMark.BUMP
    assert marks[4].penetration[0] == 0.0
    peaks = [m.back_peak for m in marks]
    assert peaks == sorted(peaks, reverse=True)
