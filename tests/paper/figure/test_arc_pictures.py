"""Sections, backs and joints of arc welds are drawn to scale, and say what they show."""

import math
from dataclasses import replace

import numpy as np
import pytest

from buttonhole.paper import figure
from buttonhole.paper.figure.arc_section import reach
from tests.paper import examples


def scale_bar(text: str, words: str) -> float:
    """Drawing units of the scale bar: the line that ends just before its words."""
    root = examples.parsed(text)
    label = next(one for one in root.iter(f"{examples.SVG}text") if one.text == words)
    lines = [
        (abs(float(one.attrib["x2"]) - float(one.attrib["x1"])), float(one.attrib["x2"]))
        for one in root.iter(f"{examples.SVG}line")
        if one.get("stroke-width") == "3"
    ]
    return next(long for long, end in lines if abs(end + 6 - float(label.attrib["x"])) < 0.1)


def test_the_wanted_marks_stand_as_far_apart_as_the_scale_bar_says():
    text = figure.arc_section(examples.drawn_arc_section())
    unit = scale_bar(text, "2 mm") / 2.0
    marks = [
        float(one.attrib["x1"])
        for one in examples.parsed(text).iter(f"{examples.SVG}line")
        if one.get("class") == "wanted"
    ]
    assert len(marks) == 2
    assert abs(marks[0] - marks[1]) == pytest.approx(5.0 * unit, rel=1e-3)


def test_the_marks_on_the_back_are_as_wide_as_the_scale_bar_says():
    text = figure.arc_back(examples.drawn_back())
    unit = scale_bar(text, "5 mm") / 5.0
    found = {
        one.get("class"): float(one.attrib["width"])
        for one in examples.parsed(text).iter(f"{examples.SVG}rect")
        if one.get("rx") is not None
    }
    assert found["zinc"] == pytest.approx(8.0 * unit, rel=1e-3)
    assert found["molten"] == pytest.approx(1.8 * unit, rel=1e-3)
    assert found["tint"] == pytest.approx(18.1 * unit, rel=1e-3)


@pytest.mark.parametrize(("kind", "hole"), [("plug", 9.0), ("butt_backed", 0.5)])
def test_the_hole_and_the_root_gap_are_drawn_to_scale(kind: str, hole: float):
    text = figure.arc_joint(examples.drawn_arc_joint(kind))
    unit = scale_bar(text, "5 mm") / 5.0
    pieces = [
        (float(one.attrib["x"]), float(one.attrib["width"]))
        for one in examples.parsed(text).iter(f"{examples.SVG}rect")
        if (one.get("class") or "") in ("s0", "s1") and one.get("stroke") is None
    ]
    left, right = pieces[0], pieces[1] if kind == "plug" else pieces[-1]
    assert right[0] - (left[0] + left[1]) == pytest.approx(hole * unit, abs=0.05)


def test_a_wire_on_the_upper_sheet_ends_on_it_and_one_on_the_lower_beside_it():
    joint = examples.drawn_arc_joint("lap")
    unit = scale_bar(figure.arc_joint(joint), "5 mm") / 5.0
    aims = []
    for offset in (1.5e-3, -1.5e-3):
        root = examples.parsed(figure.arc_joint(replace(joint, aim_offset=offset)))
        spot = next(one for one in root.iter(f"{examples.SVG}ellipse") if one.get("class") == "aim")
        aims.append((float(spot.attrib["cx"]), float(spot.attrib["cy"])))
    (lower_x, lower_y), (upper_x, upper_y) = aims
    assert upper_x - lower_x == pytest.approx(3.0 * unit, abs=0.1)
    assert lower_y - upper_y == pytest.approx((0.7 + 0.5) * unit, abs=0.1)


def test_the_words_of_a_section_hold_every_figure_with_its_interval():
    words = figure.words_of(figure.arc_section(examples.drawn_arc_section()))
    assert "fused 1-2 4.8 mm (0.6 to 7.0), wanted 5.0 mm" in words
    assert "depth into sheet 2 1.48 mm (0.00 to 1.50)" in words
    assert "hottest on the back 1522 °C (1323 to 1655)" in words


def test_two_sections_side_by_side_share_one_scale():
    one = examples.drawn_arc_section()
    cold = replace(one, peak=0.5 * one.peak)
    assert reach(one) != reach(cold)
    pair = figure.at_one_scale([one, cold])
    assert pair[0].ends == pair[1].ends
    bars = [scale_bar(figure.arc_section(each), "2 mm") for each in pair]
    assert bars[0] == pytest.approx(bars[1])


def test_a_zone_ends_where_its_temperature_does():
    drawn = replace(examples.drawn_arc_section(), spans=(), facts=(), zinc=False)
    text = figure.arc_section(drawn)
    unit = scale_bar(text, "2 mm") / 2.0
    melted = [
        one.attrib["d"]
        for one in examples.parsed(text).iter(f"{examples.SVG}path")
        if one.get("class") == "melted" and one.get("stroke-width") == "2"
    ]
    places = [float(pair.split(",")[0]) for d in melted for pair in d[1:].replace("Z", "").split()]
    z = 2.125e-3  # m, middle of the first row of the lower sheet
    wide = 2.0 * 5e-3 * math.sqrt(math.log(1900.0 / 1500.0) - (z / 5e-3) ** 2)
    assert max(places) - min(places) == pytest.approx(1e3 * wide * unit, rel=0.03)


def test_levels_that_do_not_fit_the_parts_are_refused():
    drawn = examples.drawn_arc_section()
    with pytest.raises(ValueError, match="levels"):
        figure.arc_section(replace(drawn, levels=drawn.levels[:1]))


def test_hidden_fusion_is_dark_where_it_is_sure():
    drawn = examples.drawn_hidden()
    text = figure.hidden_fusion(drawn, examples.drawn_arc_joint())
    path = next(
        one.attrib["d"]
        for one in examples.parsed(text).iter(f"{examples.SVG}path")
        if one.get("class") == "now"
    )
    pairs = [tuple(map(float, one.split(","))) for one in path[1:].replace("Z", "").split()]
    heights = np.array([y for _, y in pairs[1:-1]])
    floor = pairs[0][1]
    shares = (floor - heights) / 120.0
    assert shares.max() == pytest.approx(max(drawn.now), abs=0.01)
    assert shares[0] == pytest.approx(drawn.now[-1], abs=0.01)
