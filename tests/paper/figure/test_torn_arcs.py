"""Torn arc welds: both halves, before and after, and what is measured, told without colour."""

import re
from itertools import pairwise

import pytest

from buttonhole.paper import figure
from buttonhole.paper.figure import Said, Style
from tests.paper import examples

SAID = Said("Name of it", "How it is known.", "Measure the rough area.")
EVERY = [(form, one) for form, scenes in figure.ARC_SCENES.items() for one in scenes]
PLUGS = ("plug", "brazed plug")


def drawn(form: str, fracture: str, *, notes: bool = True) -> str:
    return figure.arc_torn(form, fracture, SAID, style=Style(lettering=18.0), notes=notes)


@pytest.mark.parametrize(("form", "fracture"), EVERY)
def test_both_halves_and_the_section_before_and_after_are_named(form: str, fracture: str):
    words = [one.text for one in examples.parsed(drawn(form, fracture)).iter(f"{examples.SVG}text")]
    assert {"Section before", "Section after"} <= set(words)
    scene = figure.ARC_SCENES[form][fracture]
    assert set(scene.face_names) <= set(words)


@pytest.mark.parametrize(("form", "fracture"), EVERY)
def test_without_notes_the_words_are_in_the_description_only(form: str, fracture: str):
    root = examples.parsed(drawn(form, fracture, notes=False))
    assert not list(root.iter(f"{examples.SVG}text"))
    desc = root.find(f"{examples.SVG}desc")
    assert desc is not None
    assert desc.text == "How it is known. Measure the rough area."


@pytest.mark.parametrize(("form", "fracture"), EVERY)
def test_what_is_measured_is_marked_by_two_lines_where_something_is_fused(form: str, fracture: str):
    marks = drawn(form, fracture).count('class="calliper"')
    scene = figure.ARC_SCENES[form][fracture]
    assert marks == (10 if scene.halves else 0)
    if fracture in ("smooth_face", "clean_on_one", "peeled_smooth", "burnt_through"):
        assert marks == 0


def test_two_diameters_stand_at_right_angles_on_the_face_of_a_plug():
    text = drawn("plug", "hole_pulled")
    assert text.count("rotate(90)") == 1
    assert "d max" in text
    assert "d min" in text


@pytest.mark.parametrize("fracture", ["parted_rough", "smooth_face", "ring_only"])
def test_a_face_that_was_never_fused_is_told_from_a_torn_one_without_colour(fracture: str):
    text = drawn("plug", fracture)
    smooth = re.search(r'class="smooth"[^>]*fill="(url[^"]+)"', text)
    assert smooth is not None
    torn = re.search(r'class="fused"[^>]*fill="(url[^"]+)"', text)
    if fracture != "smooth_face":
        assert torn is not None
        assert torn.group(1) != smooth.group(1)


@pytest.mark.parametrize(("form", "fracture"), EVERY)
def test_the_section_keeps_inside_its_half_of_the_picture(form: str, fracture: str):
    scene = figure.ARC_SCENES[form][fracture]
    for sign, pieces in ((-1.0, scene.lower), (1.0, scene.upper)):
        for piece in pieces:
            for x, y in piece.corners:
                assert abs(x + sign * scene.shift[0] / 2) <= 150.0, piece
                assert abs(y + sign * scene.shift[1] / 2) <= 66.0, piece


def test_no_two_ways_of_letting_go_look_alike():
    for form, scenes in figure.ARC_SCENES.items():
        bodies = sorted(
            re.sub(r"p[0-9a-f]{10}", "", drawn(form, one, notes=False)) for one in scenes
        )
        bare = [re.sub(r'class="drawing [^"]*"', "", one) for one in bodies]
        for one, other in pairwise(sorted(bare)):
            assert one != other, form


def test_an_unknown_form_or_fracture_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="known: plug, brazed plug"):
        figure.arc_torn("rivet", "hole_pulled", SAID)
    with pytest.raises(ValueError, match="known: hole_pulled"):
        figure.arc_torn("plug", "throat_torn", SAID)
    with pytest.raises(ValueError, match="known: none, faint"):
        figure.back_look("blue")
    with pytest.raises(ValueError, match="known: crack"):
        figure.weld_fault("rust", "Rust", "Red.")


def test_every_mark_on_the_back_has_a_picture_of_its_own():
    bodies = {
        re.sub(r"p[0-9a-f]{10}", "", figure.back_look(one, notes=False))
        for one in figure.BACK_MARKS
    }
    assert len(bodies) == 6
    assert figure.back_words("bump")[0] == "Bump"


def test_the_angle_that_counts_as_brittle_is_on_the_scale():
    text = figure.twist_angle(25.0)
    assert "25°" in text
    assert "Under 25°: brittle." in text
