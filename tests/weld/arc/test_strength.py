"""The weakest link of plugs and seams: which it is, and which way it goes."""

import dataclasses
import itertools

import pytest

from buttonhole.weld.arc.strength import (
    WHY,
    Holding,
    Link,
    PlugMade,
    Pull,
    SeamMade,
    plug_strength,
    seam_strength,
)
from buttonhole.weld.estimate import Estimate


def exactly(value: float) -> Estimate:
    return Estimate(value, value, value)


def plug(fused: float = 6.0, rim: float = 0.0, head: float = 10.0, height: float = 1.2) -> PlugMade:
    """8 mm hole in 1.0 mm on 1.5 mm of 300 MPa, weld metal of 450 MPa; lengths in mm."""
    return PlugMade(
        thicknesses=(1.0e-3, 1.5e-3),
        hole_diameters=(8e-3,),
        strengths=(300e6, 300e6),
        weld_strength=450e6,
        fused_diameters=(exactly(fused * 1e-3),),
        rim_fusion=exactly(rim),
        head_diameter=exactly(head * 1e-3),
        head_height=exactly(height * 1e-3),
    )


def across(made: PlugMade, index: int = 0) -> Holding:
    (found,) = (
        one for one in plug_strength(made) if one.pull is Pull.ACROSS and one.index == index
    )
    return found


def load_of(held: Holding, link: Link) -> float:
    (found,) = (one for one in held.links if one.link is link)
    return found.load.value


def test_the_links_of_a_plug_worked_out_by_hand() -> None:
    # pi/4 6^2 450; pi 6 1.5 0.6 300; pi 8 1 0.6 300; pi 8 0.448 0.6 450
    held = across(plug())
    assert load_of(held, Link.FAYING) == pytest.approx(12_723, abs=1)
    assert load_of(held, Link.BASE) == pytest.approx(5_089, abs=1)
    assert load_of(held, Link.RIM_OR_HEAD) == pytest.approx(3_041, abs=2)
    assert load_of(across(plug(rim=1.0)), Link.RIM_OR_HEAD) == pytest.approx(4_524, abs=1)


def test_a_small_head_tears_out_through_the_hole() -> None:
    small, wide = across(plug(head=8.5)), across(plug(head=12.0))
    assert small.weakest.link is Link.RIM_OR_HEAD
    assert small.load.value == pytest.approx(1_000, abs=2)  # pi 8 0.147 0.6 450
    assert wide.load.value > 3.0 * small.load.value
    assert "through the hole" in small.weakest.why


def test_a_head_no_wider_than_the_hole_holds_nothing_unless_the_rim_is_fused() -> None:
    assert across(plug(head=8.0)).load.value == 0.0
    assert across(plug(head=8.0, rim=1.0)).load.value > 4_000


def test_a_good_rim_and_head_leave_the_base_to_tear() -> None:
    held = across(plug(fused=5.0, rim=1.0, head=11.0, height=1.6))
    assert held.weakest.link is Link.BASE


def test_a_plug_that_lies_on_the_base_holds_nothing_and_parts_there() -> None:
    for held in plug_strength(plug(fused=0.0, rim=1.0)):
        assert held.load.value == 0.0
        assert held.weakest.link is not Link.RIM_OR_HEAD


@pytest.mark.parametrize("field", ["fused", "rim", "head", "height"])
def test_more_of_anything_never_holds_less(field: str) -> None:
    start = {"fused": 4.0, "rim": 0.2, "head": 9.0, "height": 0.8}
    step = {"fused": 0.3, "rim": 0.1, "head": 0.4, "height": 0.1}[field]
    loads = []
    for i in range(6):
        sizes = {**start, field: start[field] + i * step}
        loads.append([one.load.value for one in plug_strength(plug(**sizes))])
    for before, after in itertools.pairwise(loads):
        assert all(b <= a + 1e-9 for b, a in zip(before, after, strict=True))


def test_the_interval_holds_the_value_and_grows_with_the_doubt() -> None:
    doubted = dataclasses.replace(plug(), fused_diameters=(Estimate(6e-3, 4e-3, 7e-3),))
    for sure, wide in zip(plug_strength(plug()), plug_strength(doubted), strict=True):
        for one, other in zip(sure.links, wide.links, strict=True):
            assert one.load.low <= one.load.value <= one.load.high
            assert other.load.low <= one.load.low
            assert one.load.high <= other.load.high
        assert sure.load.low <= sure.load.value <= sure.load.high


def test_lap_shear_is_never_governed_by_the_head() -> None:
    held = next(one for one in plug_strength(plug(head=8.0)) if one.pull is Pull.SHEAR)
    assert Link.RIM_OR_HEAD not in {one.link for one in held.links}
    assert held.load.value > 0.0


def three(ring: float, below: float) -> PlugMade:
    """10 mm and 8 mm holes in 1.0 + 1.0 on 1.5 mm."""
    return PlugMade(
        thicknesses=(1.0e-3, 1.0e-3, 1.5e-3),
        hole_diameters=(10e-3, 8e-3),
        strengths=(300e6,) * 3,
        weld_strength=450e6,
        fused_diameters=(exactly(ring), exactly(below)),
        rim_fusion=exactly(1.0),
        head_diameter=exactly(12e-3),
        head_height=exactly(1.5e-3),
    )


def test_in_three_sheets_the_middle_one_hangs_on_the_ring_between_the_holes() -> None:
    assert across(three(8.0e-3, 6e-3), 1).weakest.link is Link.MIDDLE
    assert across(three(8.0e-3, 6e-3), 1).load.value == 0.0
    assert across(three(8.3e-3, 6e-3), 1).weakest.link is Link.MIDDLE
    assert across(three(9.8e-3, 5e-3), 1).weakest.link is Link.BASE
    assert len(plug_strength(three(9e-3, 6e-3))) == 4


def test_an_arc_spot_without_a_hole_pulls_out_of_the_thinner_sheet() -> None:
    spot = dataclasses.replace(plug(), hole_diameters=(0.0,))
    assert across(spot).weakest.link is Link.UPPER


def seam(
    throat: float = 1.0, lower: float = 2.0, upper: float = 1.0, *, brazed: bool = False
) -> SeamMade:
    return SeamMade(
        exactly(throat * 1e-3),
        exactly(lower * 1e-3),
        exactly(upper * 1e-3),
        (1e-3, 1e-3),
        (300e6, 300e6),
        500e6,
        brazed,
    )


def test_the_links_of_a_seam() -> None:
    held = seam_strength(seam())
    assert held.load.value == pytest.approx(300e3)  # 1 mm of 300 MPa, N/m
    assert held.weakest.link in (Link.UPPER_SHEET, Link.LOWER_SHEET)
    assert seam_strength(seam(throat=0.5)).weakest.link is Link.THROAT
    assert seam_strength(seam(lower=0.0)).weakest.link is Link.LOWER_FUSION
    assert seam_strength(seam(lower=0.0)).load.value == 0.0
    assert seam_strength(seam(upper=0.4)).weakest.link is Link.UPPER_FUSION


def test_a_braze_is_as_good_as_its_face_is_wide() -> None:
    narrow, wide = seam_strength(seam(lower=1.0, brazed=True)), seam_strength(seam(2.0, 6.0, 6.0))
    assert narrow.weakest.link in (Link.BRAZED_LOWER, Link.BRAZED_UPPER)
    assert narrow.load.value == pytest.approx(195e3)
    assert wide.load.value > narrow.load.value


def test_every_link_says_why() -> None:
    assert set(WHY) == set(Link)
