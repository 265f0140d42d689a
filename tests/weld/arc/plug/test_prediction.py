"""What is said of a plug: intervals, probabilities, marks, words."""

import dataclasses
import math
from collections.abc import Iterator

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.melting import DisplayedReading, learn, melting_law
from buttonhole.weld.arc.plug import MODEL_VERSION, predict
from buttonhole.weld.arc.plug.advice import smallest_hole
from buttonhole.weld.arc.plug.ensemble import even_points
from buttonhole.weld.arc.plug.marks import BackMark
from buttonhole.weld.arc.plug.result import PlugWeld
from buttonhole.weld.arc.plug.simulation import COARSE
from buttonhole.weld.arc.set_up import Position
from buttonhole.weld.arc.wire import find_wire
from buttonhole.weld.estimate import Estimate
from tests.weld.arc.plug.plugs import WIRE, alloys, bronze, joint, light, set_up

FEW = 12  # marches; enough for what is tested here


@pytest.fixture(scope="module")
def ordinary() -> PlugWeld:
    return predict(joint(), set_up())


def estimates(weld: PlugWeld) -> Iterator[Estimate]:
    for field in dataclasses.fields(weld):
        value = getattr(weld, field.name)
        if isinstance(value, Estimate):
            yield value
    yield from weld.haz_diameter
    for face in weld.interfaces:
        yield face.fused_diameter
        yield face.penetration


def test_every_figure_lies_in_its_interval(ordinary: PlugWeld) -> None:
    found = list(estimates(ordinary))
    assert len(found) > 12
    for one in found:
        assert one.low <= one.value <= one.high
        assert math.isfinite(one.low)


def test_an_ordinary_plug(ordinary: PlugWeld) -> None:
    (face,) = ordinary.interfaces
    assert 3e-3 < face.fused_diameter.value < 7e-3
    assert face.wanted_diameter == pytest.approx(5e-3)
    # hidden fusion is known badly, what shows outside well: that is why one looks at the back
    wide = face.fused_diameter.high - face.fused_diameter.low
    ring = ordinary.zinc_ring_diameter
    assert wide > 3e-3
    assert wide / face.fused_diameter.value > 2.0 * (ring.high - ring.low) / ring.value
    assert ordinary.back_mark is BackMark.BUMP
    assert ordinary.tint_diameter.value > ordinary.zinc_ring_diameter.value > 6e-3
    assert 0.2 < ordinary.fusion_probability < 0.8
    assert ordinary.hole_probability < 0.1
    assert 1.0 < ordinary.fill_time.value < 1.87
    assert ordinary.arc_energy.value == pytest.approx(ordinary.point.arc_power.value * 1.87)
    assert 1.5 < ordinary.cooling_t85.value < 4.0
    assert ordinary.model_version == MODEL_VERSION


def test_the_same_input_says_the_same(ordinary: PlugWeld) -> None:
    again = predict(joint(), set_up())
    for one, other in zip(estimates(ordinary), estimates(again), strict=True):
        assert one == other


def test_a_machine_that_was_read_is_known_better() -> None:
    law = melting_law(WIRE, 0.8e-3)
    learned = learn(
        law, [DisplayedReading(0.107, 8e-3, 118.0), DisplayedReading(0.107, 17e-3, 98.0)]
    )
    prior, after = (predict(joint(), set_up(), law=one, count=FEW) for one in (law, learned))
    wide_prior, wide_after = (
        w.haz_diameter[0].high - w.haz_diameter[0].low for w in (prior, after)
    )
    assert wide_after < wide_prior


def test_probabilities_follow_the_power() -> None:
    weak, strong = (
        predict(joint((0.8, 1.0)), set_up(feed=feed, arc_time=1.4), count=FEW)
        for feed in (3.5, 7.5)
    )
    assert weak.fusion_probability < 0.5 < strong.fusion_probability
    assert weak.hole_probability < strong.hole_probability


def test_section_for_a_picture(ordinary: PlugWeld) -> None:
    section = ordinary.section
    shape = (len(section.z_faces) - 1, len(section.r_faces) - 1)
    assert section.part.shape == section.peak_temperature.shape == shape
    assert set(np.unique(section.part)) == {-1, 0, 1, 2}
    assert np.isnan(section.peak_temperature[section.part == -1]).all()
    assert not np.isnan(section.peak_temperature[section.part >= 0]).any()


def said(weld: PlugWeld, *words: str) -> bool:
    return any(all(word in text for word in words) for text in weld.warnings)


def test_words_of_warning() -> None:
    gapped = predict(joint((0.8, 1.5), gap=1.0), set_up(arc_time=1.68), count=FEW)
    assert said(gapped, "gap of 1 mm", "assumption")
    assert said(gapped, "not full")
    assert gapped.head_diameter.value == 0.0
    assert math.isinf(gapped.fill_time.value)
    coated = predict(joint(coating=Coating.GI), set_up(), count=FEW)
    assert said(coated, "extraction")
    upward = predict(joint(), dataclasses.replace(set_up(), position=Position.PF), count=FEW)
    assert said(upward, "PF")
    cold = predict(joint((1.0, 3.0)), set_up(distance=20.0), count=FEW)
    assert said(cold, "does not fuse")
    assert cold.interfaces[0].fused_diameter.value == 0.0
    small = predict(joint(holes=(5.0,)), set_up(arc_time=0.6), count=FEW)
    assert said(small, "one maker asks for more than 6.4 mm")


def test_steel_that_an_arc_softens_is_told_first() -> None:
    strong = predict(joint(steel="22MnB5"), set_up(), count=FEW)
    assert "maker's procedure" in strong.warnings[0]
    unknown = predict(joint(steel="unknown"), set_up(), count=FEW)
    assert "not known" in unknown.warnings[0]


def test_what_must_not_be_welded_is_refused() -> None:
    with pytest.raises(BadInput, match="argon alone"):
        predict(joint(), dataclasses.replace(set_up(), gas=find_gas("argon")))
    with pytest.raises(BadInput, match="brittle"):
        predict(
            joint(),
            dataclasses.replace(set_up(), wire=find_wire("AlSi5"), gas=find_gas("argon")),
        )
    with pytest.raises(BadInput, match="silicon"):
        predict(joint(), dataclasses.replace(set_up(), wire=find_wire("CuSi3")))
    with pytest.raises(BadInput, match="ISO 18273"):
        predict(alloys(), set_up())


SHEETS = ((0.8, 1.2), (1.0, 0.7, 1.5))
HOLES = {2: ((8.0,), (0.0,)), 3: ((10.0, 8.0), (8.0, 8.0), (9.0, 0.0), (0.0, 0.0))}


@pytest.mark.parametrize(
    ("sheets", "holes"), [(sheets, holes) for sheets in SHEETS for holes in HOLES[len(sheets)]]
)
@pytest.mark.parametrize("gap", [0.0, 0.4])
def test_any_number_of_sheets_and_holes(
    sheets: tuple[float, ...], holes: tuple[float, ...], gap: float
) -> None:
    weld = predict(joint(sheets, holes, gap), set_up(), resolution=COARSE, count=FEW)
    assert len(weld.interfaces) == len(sheets) - 1
    for face, hole, above, below in zip(weld.interfaces, holes, sheets, sheets[1:], strict=False):
        # where nothing is drilled away it is as wide as a spot weld that counts
        wanted = 5.0 / 8.0 * hole if hole > 0.0 else 4.0 * math.sqrt(min(above, below))
        assert 1e3 * face.wanted_diameter == pytest.approx(wanted)
        assert face.wetted_diameter is None
    for one in estimates(weld):
        assert one.low <= one.value <= one.high
    assert said(weld, "arc spot") == (holes[0] == 0.0)


def test_a_braze_wets_and_does_not_melt() -> None:
    weld = predict(joint((1.0, 1.0), coating=Coating.GI), bronze(), count=FEW)
    (face,) = weld.interfaces
    assert weld.brazed
    assert face.wetted_diameter is not None
    assert 5e-3 < face.wetted_diameter.value <= 8e-3
    assert face.fused_diameter.value == face.penetration.value == 0.0
    assert weld.melting_probability is not None
    assert weld.melting_probability < 0.3
    # zinc boils off where the bronze only wets
    assert weld.zinc_ring_diameter is not None
    assert weld.zinc_ring_diameter.value > 6e-3
    assert said(weld, "Zinc")
    hot = predict(joint((0.7, 0.7)), bronze(feed=12.0, voltage=18.5, arc_time=1.4), count=FEW)
    assert hot.melting_probability is not None
    assert hot.melting_probability > 0.9
    assert said(hot, "must not melt")
    cold = predict(joint((1.0, 3.0)), bronze(feed=4.0, voltage=14.0, arc_time=1.0), count=FEW)
    assert cold.interfaces[0].wetted_diameter is not None
    assert cold.interfaces[0].wetted_diameter.value < face.wetted_diameter.value
    assert cold.fusion_probability < weld.fusion_probability


def test_copper_and_steel_of_high_strength_is_said() -> None:
    weld = predict(joint(steel="HCT600X"), bronze(), count=FEW)
    assert said(weld, "copper", "cracks")


def test_aluminium_has_no_colours_and_a_soft_ring() -> None:
    weld = predict(alloys(), light(), count=FEW)
    assert weld.zinc_ring_diameter is None
    assert weld.tint_diameter is None
    assert weld.peak_hardness is None
    assert weld.cooling_t85.value == 0.0
    assert weld.back_mark in (BackMark.NONE, BackMark.BUMP)
    assert said(weld, "no warning by colour")
    assert said(weld, "softened ring")
    # it softens from 250 degC on: far wider than steel changes
    steel = predict(joint((1.5, 1.5)), set_up(), count=FEW)
    assert weld.haz_diameter[0].value > 1.3 * steel.haz_diameter[0].value
    assert weld.interfaces[0].fused_diameter.value > 5e-3
    # an alloy that is not hardened by heat keeps what it has
    assert not said(predict(alloys("5083"), light(), count=FEW), "softened")


@pytest.mark.parametrize("thickness", [0.8, 3.5])
def test_aluminium_of_another_thickness_is_refused(thickness: float) -> None:
    with pytest.raises(BadInput, match="1 to 3 mm"):
        alloys(sheets=(thickness, 1.5))


def test_smallest_holes_of_a_maker() -> None:
    # read: below 1.0 mm more than 5, 1.0 to 1.5 mm more than 6.4, above more than 8 mm
    assert smallest_hole(0.8e-3) == pytest.approx(5e-3)
    assert smallest_hole(1.0e-3) == pytest.approx(6.4e-3)
    assert smallest_hole(2.0e-3) == pytest.approx(8e-3)


def test_the_design_fills_its_cube_evenly() -> None:
    points = even_points(256, 9)
    assert points.shape == (256, 9)
    assert points.min() >= 0.0
    assert points.max() < 1.0
    for edge in np.sort(points, axis=0).T:
        assert np.allclose(edge, (np.arange(256) + 0.5) / 256)
    for count in (48, 256):
        together = np.corrcoef(even_points(count, 9).T) - np.eye(9)
        assert np.abs(together).max() < 0.05


def test_a_design_of_few_points_still_fills_each_edge() -> None:
    # fewer points than edges and one more leave no correlation matrix that can be inverted
    for count in range(1, 33):
        points = even_points(count, 9)
        for edge in np.sort(points, axis=0).T:
            assert np.allclose(edge, (np.arange(count) + 0.5) / count)


def test_a_plug_is_predicted_from_few_welds_that_could_be() -> None:
    weld = predict(joint(), set_up(), resolution=COARSE, count=8)
    fused = weld.interfaces[0].fused_diameter
    assert 0.0 <= fused.low <= fused.value <= fused.high
