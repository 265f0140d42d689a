"""The body: four sides, marks inside and read aloud; the right side is the left one turned."""

import re
from xml.etree import ElementTree

import pytest

from buttonhole.paper.figure.body import ACROSS, BodyMark, BodyView, body

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("view", list(BodyView))
def test_each_side_is_drawn_with_its_marks(view):
    text = body(view, (BodyMark(3, "J3 <sill>", 0.25, 0.75, True),))
    root = ElementTree.fromstring(text)  # noqa: S314 - our own drawing
    number = next(one for one in root.iter(f"{SVG}text") if one.get("class") == "number")
    assert number.text == "3"
    assert float(number.get("x")) == pytest.approx(0.25 * ACROSS)
    assert "3: J3 <sill>" in root.find(f"{SVG}desc").text


def test_nothing_placed_is_said():
    assert "Nothing is placed yet" in body(BodyView.FRONT)


def test_the_right_side_is_the_left_one_turned():
    def corners(view):
        outline = re.search(r'class="outline" d="([^"]+)"', body(view))[1]
        return [float(one.split(",")[0]) for one in outline.split() if "," in one]

    left, right = corners(BodyView.LEFT), corners(BodyView.RIGHT)
    assert [ACROSS - one for one in left] == pytest.approx(right)
    assert left != right
    assert min(left) >= 0
    assert max(left) <= ACROSS
