"""Rendered photos with the truth known: diameters, refusals, and that nobody is left out."""

from functools import cache

import numpy as np
import pytest

from benchmarks.photo_scene import changed, usual_photo
from benchmarks.validate_photo import FACES, SPOILT, truth_ends
from buttonhole.desk.read_photo import SeenPhoto, photo_answer, read_photo, see_photo
from buttonhole.photo.card import PrintedScale, code_text, scale_from_bars
from buttonhole.photo.gauge import Face, FaceSetting, Handles, Placed, handles_at, measure, snap
from buttonhole.photo.proposal import propose
from buttonhole.photo.refusal import PhotoRefused, Trouble
from buttonhole.units import BadInput

SEED = 11  # a torn hole


@cache
def seen() -> tuple[SeenPhoto, FaceSetting, np.ndarray]:
    photo = usual_photo(SEED)
    bars = tuple(80e-3 * one for one in photo.view.print_scale)
    setting = FaceSetting(FACES[photo.metal.kind], photo.height * 1e-3)
    return see_photo(photo.jpeg, (bars[0], bars[1])), setting, truth_ends(photo) * 1e-3


def test_handles_on_the_truth_give_the_true_diameters() -> None:
    found, setting, ends = seen()
    photo = usual_photo(SEED)
    got = measure(found.sight, setting, found.scale, handles_at(ends, Placed.HAND))
    assert got.d_max * 1e3 == pytest.approx(photo.d_max, abs=0.02)
    assert got.d_min * 1e3 == pytest.approx(photo.d_min, abs=0.02)


def test_the_edge_in_the_picture_is_where_the_truth_has_it() -> None:
    found, setting, ends = seen()
    photo = usual_photo(SEED)
    random = np.random.default_rng(8)
    errors = []
    for _ in range(6):
        taps = handles_at(ends + random.normal(0.0, 0.1e-3, (4, 2)), Placed.HAND)
        got = measure(found.sight, setting, found.scale, snap(found.sight, setting, taps)[0])
        errors += [got.d_max * 1e3 - photo.d_max, got.d_min * 1e3 - photo.d_min]
    assert abs(np.mean(errors)) < 0.12
    assert np.std(errors) < 0.12
    assert max(map(abs, errors)) < 3.0 * got.uncertainty * 1e3


def test_a_proposal_is_no_reading() -> None:
    found, setting, _ = seen()
    proposal = propose(found.sight, setting)
    assert proposal is not None
    assert proposal.handles.placed is Placed.PROGRAM
    with pytest.raises(BadInput, match="proposal"):
        measure(found.sight, setting, found.scale, proposal.handles)
    drawn, _ = snap(found.sight, setting, proposal.handles)
    with pytest.raises(BadInput, match="proposal"):
        measure(found.sight, setting, found.scale, drawn)
    reading = read_photo(found, setting)
    assert reading.measured is None
    assert photo_answer(found, reading)["status"] == "proposed"
    taken = read_photo(found, setting, accept_proposal=True)
    assert taken.measured is not None


def test_a_height_told_wrong_changes_the_diameter_by_what_is_told() -> None:
    found, setting, ends = seen()
    handles = handles_at(ends, Placed.HAND)
    pixels = found.sight.camera.project(np.column_stack((ends, np.full(4, setting.height))))
    other = FaceSetting(setting.face, setting.height + 1e-3)
    got = measure(found.sight, setting, found.scale, handles)
    ground = found.sight.camera.ground_of_pixel(other.height)
    length = float(np.hypot(*((pixels[0] - pixels[1]) @ ground.T)))
    told = got.parts.height / setting.height_uncertainty * 1e-3
    assert got.d_max - length == pytest.approx(told, rel=0.3)


@pytest.mark.parametrize("trouble", list(SPOILT))
def test_a_spoilt_photo_is_refused_with_the_reason(trouble: Trouble) -> None:
    with pytest.raises(PhotoRefused) as refused:
        see_photo(changed(200_003, size=(2016, 1512), **SPOILT[trouble][0]).jpeg, named=False)
    assert refused.value.trouble is trouble
    assert refused.value.act.endswith(".")


def test_a_glare_over_the_edge_is_refused() -> None:
    _, setting, ends = seen()
    at = ends[0] * 1e3
    photo = changed(SEED, glare=((at[0], at[1], 0.8, 2.0),))
    found = see_photo(photo.jpeg, named=False)
    with pytest.raises(PhotoRefused) as refused:
        snap(found.sight, setting, handles_at(ends, Placed.HAND))
    assert refused.value.trouble is Trouble.GLARE


@pytest.mark.parametrize(
    "ends",
    [
        ((0.0, 0.0), (1e-4, 0.0), (0.0, 1e-3), (0.0, -1e-3)),
        ((-2e-3, 0.0), (2e-3, 0.0), (-2e-3, 1e-4), (2e-3, 1e-4)),
        ((-2e-3, 0.0), (2e-3, 0.0), (8e-3, 2e-3), (8e-3, -2e-3)),
    ],
)
def test_handles_that_are_no_two_diameters_are_refused(
    ends: tuple[tuple[float, float], ...],
) -> None:
    found, setting, _ = seen()
    with pytest.raises(BadInput, match="handles"):
        measure(found.sight, setting, found.scale, Handles(ends, Placed.HAND))


def test_bars_that_no_printer_makes_are_refused() -> None:
    assert scale_from_bars(80.4e-3, 79.8e-3).across == pytest.approx(1.005)
    with pytest.raises(BadInput, match="100 %"):
        scale_from_bars(77e-3, 77e-3)
    assert PrintedScale().uncertainty > scale_from_bars(80e-3, 80e-3).uncertainty


def test_a_card_needs_a_name_that_a_code_can_carry() -> None:
    with pytest.raises(BadInput, match="name"):
        code_text("a b\n")


def test_a_height_no_weld_has_is_refused() -> None:
    with pytest.raises(BadInput, match="height"):
        FaceSetting(Face.BUTTON, 20e-3)
