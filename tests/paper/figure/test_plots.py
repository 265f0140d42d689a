"""Window, growth curve and margin bar put their values where the axes say."""

import re
from dataclasses import replace

import pytest

from buttonhole.paper import figure
from buttonhole.paper.figure import DrawnLimit, DrawnMargin, growth, margin, window
from buttonhole.paper.figure.axes import places, ticks
from tests.paper import examples


def tick_places(text: str) -> dict[str, float]:
    """Drawing place of each number under the current axis."""
    root = examples.parsed(text)
    return {
        e.text: float(e.attrib["x"])
        for e in root.iter(f"{examples.SVG}text")
        if e.get("text-anchor") == "middle" and re.fullmatch(r"[\d.]+", e.text or "")
    }


def test_the_chosen_point_stands_at_its_current():
    text = window(examples.drawn_window())
    at = tick_places(text)
    x = float(re.search(r'class="chosen" cx="([\d.]+)"', text).group(1))
    assert x == pytest.approx(at["9"] + 0.1 * (at["10"] - at["9"]), abs=0.05)


def test_the_splash_line_and_the_usable_bar_stand_at_their_currents():
    text = window(examples.drawn_window())
    at = tick_places(text)
    per = at["10"] - at["9"]
    splash = float(re.search(r'<line class="splash" x1="([\d.]+)"', text).group(1))
    assert splash == pytest.approx(at["10"] + 0.1 * per, abs=0.05)
    start, end = re.search(r'class="usable" x1="([\d.]+)"[^>]* x2="([\d.]+)"', text).groups()
    assert float(start) == pytest.approx(at["8"] + 0.2 * per, abs=0.05)
    assert float(end) == pytest.approx(at["9"] + 0.9 * per, abs=0.05)


def test_a_curve_meets_a_limit_drawn_at_its_own_height():
    drawn = examples.drawn_window()
    flat = replace(
        drawn.curves[0],
        diameters=(4e-3,) * len(drawn.currents),
        low=(),
        high=(),
        limits=(DrawnLimit(4e-3, "4√t"),),
    )
    text = window(
        replace(drawn, curves=(flat,), chosen_current=None, chosen_diameters=(), scatter=None)
    )
    curve = re.search(r'class="curve" d="M[\d.]+,([\d.]+)', text).group(1)
    limit = re.search(r'class="limit" x1="[\d.]+" y1="([\d.]+)"', text).group(1)
    assert float(curve) == pytest.approx(float(limit), abs=0.02)


def test_no_usable_current_is_said():
    text = window(replace(examples.drawn_window(), usable=None))
    assert text.count("no usable current") == 2  # in the picture and in its description


def test_a_window_that_does_not_match_itself_is_refused():
    drawn = examples.drawn_window()
    with pytest.raises(ValueError, match="at least two currents"):
        window(replace(drawn, currents=(8000.0,)))
    with pytest.raises(ValueError, match="one diameter for each current"):
        window(
            replace(
                drawn,
                currents=drawn.currents[:-1],
                curves=(replace(drawn.curves[0], low=(), high=()),),
            )
        )
    with pytest.raises(ValueError, match="one value for each current"):
        window(replace(drawn, curves=(replace(drawn.curves[0], low=(1e-3,)),)))


def test_growth_says_when_each_interface_melts():
    text = growth(examples.drawn_growth())
    assert "interface 1-2 melts at 64 ms" in text
    assert "interface 2-3 melts at 44 ms" in text


def test_growth_without_melting_is_drawn_and_said():
    drawn = examples.drawn_growth()
    text = growth(replace(drawn, diameters=((0.0,) * len(drawn.times),), limits=()))
    assert "does not melt" in text


def test_a_growth_curve_that_does_not_match_its_times_is_refused():
    drawn = examples.drawn_growth()
    with pytest.raises(ValueError, match="one value for each"):
        growth(replace(drawn, current=drawn.current[:-1]))


def test_the_margin_bar_is_to_scale():
    text = margin(DrawnMargin(5.0e-3, 0.2e-3, 4.5e-3, 0.25e-3, 6.0e-3))
    dot = float(re.search(r'class="reading" cx="([\d.]+)"', text).group(1))
    limit, splash = (
        float(x) for x in re.findall(r'class="limit" x1="([\d.]+)" y1="[\d.]+" x2="[\d.]+"', text)
    )
    assert (dot - limit) / (splash - limit) == pytest.approx(0.5 / 1.5, abs=1e-3)
    guard = re.search(r'class="guard" x="([\d.]+)" y="[\d.]+" width="([\d.]+)"', text)
    assert float(guard.group(1)) == pytest.approx(limit, abs=0.02)
    assert float(guard.group(2)) / (splash - limit) == pytest.approx(0.25 / 1.5, abs=1e-3)


def test_a_reading_far_under_its_limit_stays_in_the_picture():
    text = margin(DrawnMargin(0.0, 0.0, 5e-3, 0.3e-3, 7e-3, "reject"))
    width = float(examples.parsed(text).attrib["viewBox"].split()[2])
    for x in re.findall(r' (?:cx|x|x1|x2)="([-\d.]+)"', text):
        assert 0 <= float(x) <= width


@pytest.mark.parametrize(
    ("low", "high", "most", "expected"),
    [
        (0.0, 7.3, 4, [0.0, 2.0, 4.0, 6.0]),
        (6.0, 11.0, 8, [6.0, 7.0, 8.0, 9.0, 10.0, 11.0]),
        (0.0, 0.29, 4, [0.0, 0.1, 0.2]),
    ],
)
def test_ticks_are_round(low: float, high: float, most: int, expected: list[float]):
    assert ticks(low, high, most) == pytest.approx(expected)


def test_places_shows_no_more_decimals_than_needed():
    assert places([6.0, 7.0]) == 0
    assert places([0.25, 0.5]) == 2


def test_a_thermal_cycle_says_what_is_read_from_it():
    words = figure.words_of(figure.cycle(examples.drawn_cycle()))
    assert "centre 1-2: hottest 2020 °C, t8/5 97 ms (80 to 120)" in words
    assert "centre 3-4: hottest 720 °C, never over 800 °C" in words
    assert "current ends at 200 ms" in words
    assert "caps open at 350 ms" in words
    assert "Ac1 775 °C" in words


def test_a_thermal_cycle_ends_soon_after_the_last_has_cooled():
    drawn = examples.drawn_cycle(1)
    text = figure.cycle(drawn)
    # 500 degC is met 0.2 s * ln(2000 / 480) after the current: there is no use in showing 1 s
    last = max(float(one) for one in re.findall(r">(\d+)<", text) if float(one) < 800.0)
    assert last in (400.0, 500.0)


def test_a_course_without_times_is_refused():
    with pytest.raises(ValueError, match="two times"):
        figure.cycle(figure.DrawnCycle((), 0.2, 0.3))
