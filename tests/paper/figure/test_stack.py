"""The stack is to scale and says what it shows."""

from itertools import pairwise

import pytest

from buttonhole.paper.figure import DrawnCap, DrawnSheet, DrawnStack, Style, stack
from buttonhole.paper.figure.stack import spread
from tests.paper import examples


@pytest.mark.parametrize("count", [2, 3, 4])
def test_sheets_are_drawn_to_scale(count: int):
    root = examples.parsed(stack(examples.drawn_stack(count)))
    drawn = []
    for index in range(count):
        first = next(e for e in root.iter(f"{examples.SVG}rect") if e.get("class") == f"s{index}")
        drawn.append((float(first.attrib["y"]), float(first.attrib["height"])))
    heights = [height for _, height in drawn]
    real = [sheet.thickness for sheet in examples.SHEETS[:count]]
    assert [h / sum(heights) for h in heights] == pytest.approx(
        [t / sum(real) for t in real], abs=2e-4
    )
    for (top, height), (below, _) in pairwise(drawn):
        assert top + height == pytest.approx(below, abs=0.02)


def test_the_face_of_a_cap_has_the_scale_of_the_sheets():
    drawn = DrawnStack(
        (DrawnSheet(1e-3, "DC04", "bare"), DrawnSheet(1e-3, "DC04", "bare")), DrawnCap(6e-3)
    )
    root = examples.parsed(stack(drawn))
    scale = float(
        next(e for e in root.iter(f"{examples.SVG}rect") if e.get("class") == "s0").attrib["height"]
    )
    cap = next(e for e in root.iter(f"{examples.SVG}path") if e.get("class") == "cap").attrib["d"]
    corners = [tuple(map(float, p.split(","))) for p in cap.strip("MZ ").split()]
    lowest = max(y for _, y in corners)
    face = [x for x, y in corners if y == lowest]
    assert max(face) - min(face) == pytest.approx(6 * scale, abs=0.1)


def test_limits_are_named_for_each_interface():
    text = stack(examples.drawn_stack(3))
    assert "1-2 at least 3.35 mm (4√t), 4.18 mm (5√t)" in text
    assert "2-3 at least 4.38 mm (4√t), 5.48 mm (5√t)" in text


def test_the_description_names_all_even_where_the_picture_does_not():
    text = stack(examples.drawn_stack(2), labelled=False)
    visible = "".join(e.text or "" for e in examples.parsed(text).iter(f"{examples.SVG}text"))
    assert "DC04" not in visible
    assert "1: 0.70 mm DC04 GI" in text
    assert "cap B: face 6.0 mm, radius 50 mm" in text


def test_a_thick_stack_is_drawn_smaller_not_cut():
    thick = DrawnStack((DrawnSheet(6e-3, "DC04", "bare"),) * 4, DrawnCap(8e-3), DrawnCap(8e-3))
    root = examples.parsed(stack(thick, style=Style(lettering=18)))
    height = float(root.attrib["viewBox"].split()[3])
    for element in root.iter(f"{examples.SVG}rect"):
        assert float(element.get("y", 0)) + float(element.attrib["height"]) <= height


def test_labels_are_moved_apart_and_kept_in_their_room():
    rows = spread([10.0, 11.0, 12.0], 5.0, 8.0, 21.0)
    assert rows == [10.0, 15.0, 20.0]
    assert spread([19.0, 20.0, 21.0], 5.0, 0.0, 21.0) == [11.0, 16.0, 21.0]
