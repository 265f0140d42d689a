"""A property in its band: what is drawn is what was given."""

import re

import pytest

from buttonhole.desk.steel_drawings import property_drawings
from buttonhole.paper.figure import DrawnBand, Style, band, words_of

HOT = (20.0, 500.0, 1000.0)
DRAWN = DrawnBand(
    "Flow stress", "MPa", HOT, (400.0, 250.0, 40.0), (300.0, 190.0, 30.0), (500.0, 310.0, 50.0),
    "Line: value in use.",
)  # fmt: skip


def test_it_says_in_words_what_it_shows() -> None:
    said = words_of(band(DRAWN))
    assert "20 °C: 400 MPa (300 to 500)" in said
    assert "1000 °C: 40 MPa (30 to 50)" in said
    assert "Line: value in use" in said


def test_the_curve_lies_inside_its_band() -> None:
    picture = band(DRAWN, style=Style(lettering=18.0))
    (area,) = re.findall(r'class="band" d="M([^"]+) Z"[^>]*fill="url', picture)
    (line,) = re.findall(r'class="curve c0" d="M([^"]+)"', picture)
    edge = [tuple(map(float, pair.split(","))) for pair in area.split()]
    upper, lower = edge[: len(edge) // 2], edge[len(edge) // 2 :][::-1]
    inner = [tuple(map(float, pair.split(","))) for pair in line.split()]
    for (x, high), (_, value), (_, low) in zip(upper, inner, lower, strict=True):
        assert high < value < low, x  # a drawing counts downwards


def test_a_torn_table_is_refused() -> None:
    with pytest.raises(ValueError, match="a value, low and high for each"):
        band(DrawnBand("k", "W/(m K)", HOT, (1.0, 2.0), (1.0, 1.0), (2.0, 2.0), ""))


@pytest.mark.parametrize("name", ["DC04", "34MnB5", "1.4310", "unknown"])
def test_every_property_is_drawn(name: str) -> None:
    drawn = dict(property_drawings(name))
    assert set(drawn) == {"conductivity", "heat_capacity", "resistivity", "flow_stress"}
    assert "judged" in words_of(drawn["flow_stress"])
