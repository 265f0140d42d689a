"""The zones of a drawn section lie where the temperature field says."""

import re
from dataclasses import replace

import numpy as np
import pytest

from buttonhole.paper.figure import DrawnNugget, SheetLevels, Style, section
from buttonhole.weld.spot.result import Section
from tests.paper import examples


def zone(text: str, part: str) -> list[tuple[float, float]]:
    found = re.findall(rf'class="{part}" d="([^"]*)"', text)
    assert found, f"no zone {part}"
    return [(float(x), float(y)) for d in found for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", d)]


def scale_of(text: str) -> float:
    """Drawing units a millimetre, from the bar at the foot."""
    x1, x2 = re.search(r'<line x1="([\d.]+)"[^>]*x2="([\d.]+)"[^>]*stroke-width="3"', text).groups()
    return float(x2) - float(x1)


@pytest.mark.parametrize(
    ("part", "level"), [("melted", 1500.0), ("hardened", 850.0), ("changed", 720.0)]
)
def test_a_zone_is_as_wide_as_the_isotherm(part: str, level: float):
    levels = (SheetLevels(1500.0, 850.0, 720.0),) * 2
    nugget = (DrawnNugget(3.6e-3, 3.0e-3, 4.0e-3),)
    field = examples.bell_section((1e-3, 1e-3))
    drawn = replace(examples.drawn_section(), section=field, levels=levels, nuggets=nugget)
    text = section(drawn)
    across = [x for x, _ in zone(text, part)]
    wide = (max(across) - min(across)) / scale_of(text)
    assert wide == pytest.approx(2e3 * examples.radius_at(level, 1e-3, 1e-3), abs=0.06)


def test_a_section_is_symmetric_about_its_axis():
    text = section(examples.drawn_section())
    across = [x for x, _ in zone(text, "melted")]
    axis = float(re.search(r'x1="([\d.]+)"[^>]*stroke-dasharray="9 3 2 3"', text).group(1))
    assert max(across) - axis == pytest.approx(axis - min(across), abs=0.5)


def test_dimensions_and_the_dent_are_written():
    text = section(examples.drawn_section())
    assert "1-2: nugget 2.90 mm (2.10 to 3.60), at least 3.35 mm 4√t, corona out to 3.7 mm" in text
    assert "dent, deeper side 0.06 mm" in text
    assert "A torn coupon decides" in text


def test_a_weld_that_did_not_melt_is_drawn_without_a_nugget():
    field = examples.bell_section((1e-3, 1e-3))
    cold = Section(
        field.r_faces, field.z_faces, field.peak_temperature / 2, field.part * 0.0, field.part
    )
    drawn = replace(
        examples.drawn_section(),
        section=cold,
        levels=(SheetLevels(1500.0, 850.0, 720.0),) * 2,
        nuggets=(DrawnNugget(0.0, 0.0, 0.0),),
    )
    text = section(drawn)
    assert 'class="melted" d=' not in text
    assert "no melting" in text


def test_coating_is_dotted_only_where_it_stayed_cool():
    levels = (SheetLevels(1500.0, 850.0, 720.0, 907.0),) * 2
    field = examples.bell_section((1e-3, 1e-3))
    nugget = (DrawnNugget(3.6e-3, 3.0e-3, 4.0e-3),)
    text = section(replace(examples.drawn_section(), section=field, levels=levels, nuggets=nugget))
    axis = float(re.search(r'x1="([\d.]+)"[^>]*stroke-dasharray="9 3 2 3"', text).group(1))
    nearest = min(abs(x - axis) for x, _ in zone(text, "coating")) / scale_of(text)
    gone = 1e3 * examples.radius_at(907.0, 1e-3 + 8e-3 / 120, 1e-3)
    surface = 1e3 * examples.radius_at(907.0, 0.0, 1e-3)
    assert min(gone, surface) - 0.15 <= nearest <= max(gone, surface) + 0.15


def test_numbers_that_do_not_fit_the_section_are_refused():
    with pytest.raises(ValueError, match="3 sheets need 3 levels and 2 nuggets"):
        section(replace(examples.drawn_section(), nuggets=()))


def test_a_field_with_nan_is_refused():
    drawn = examples.drawn_section()
    field = drawn.section
    broken = np.where(field.part == 2, np.nan, field.peak_temperature)
    with pytest.raises(ValueError, match="not finite"):
        section(
            replace(
                drawn, section=Section(field.r_faces, field.z_faces, broken, broken, field.part)
            )
        )


def test_a_section_is_light_enough_for_a_page():
    assert len(section(examples.drawn_section(), style=Style(lettering=18)).encode()) < 30_000


def test_the_corona_is_stitched_outside_the_nugget_and_nowhere_else():
    text = section(examples.drawn_section())
    axis = float(re.search(r'x1="([\d.]+)"[^>]*stroke-dasharray="9 3 2 3"', text).group(1))
    lines = re.findall(r'<line x1="([\d.]+)" y1="[\d.]+" x2="([\d.]+)"[^>]*class="corona"', text)
    lines += re.findall(r'<line class="corona" x1="([\d.]+)" y1="[\d.]+" x2="([\d.]+)"', text)
    places = [abs(float(x) - axis) / scale_of(text) for pair in lines for x in pair]
    assert len(places) > 10
    assert min(places) == pytest.approx(2.9 / 2, abs=0.03)
    assert max(places) == pytest.approx(3.7 / 2, abs=0.03)
    drawn = examples.drawn_section()
    bare = replace(drawn, nuggets=tuple(replace(one, corona=None) for one in drawn.nuggets))
    assert "corona" not in section(bare)


def test_every_zone_has_its_word_and_its_own_hatching():
    text = section(examples.drawn_section())
    for words in ("the nugget", "all austenite", "partly austenite", "softened ring", "corona"):
        assert words in text
    fills = {
        part: re.search(rf'class="{part}" d="[^"]*"[^>]*?fill="(url[^"]*)"', text)
        or re.search(rf'fill="(url[^"]*)"[^>]*class="{part}"', text)
        for part in ("hardened", "changed", "softened")
    }
    assert all(fills.values())
    assert len({found.group(1) for found in fills.values()}) == 3
