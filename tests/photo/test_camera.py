"""The camera's model and fit, against the marker library's own functions and by propagation."""

import math

import cv2
import numpy as np
import pytest

from buttonhole.photo.camera import fit, homography, project, turned
from buttonhole.photo.card import corners
from buttonhole.units import BadInput

SIZE = (4000, 3000)
TRUE = np.array([math.log(0.72), 0.03, 0.004, -0.006, 0.25, -0.2, 0.1, 0.004, -0.003, 0.18])
FOCAL = 0.72 * 4000
MATRIX = np.array(
    [(FOCAL, 0.0, 1999.5 + 16.0), (0.0, FOCAL, 1499.5 - 24.0), (0.0, 0.0, 1.0)], dtype=np.float64
)
LENS = np.array([0.03, 0.0, 0.0, 0.0, 0.0])


def at_height(height: float) -> np.ndarray:
    ground = corners()
    return np.column_stack((ground, np.full(len(ground), height)))


@pytest.mark.parametrize("height", [0.0, 2e-3, -1e-3])
def test_points_are_seen_where_an_independent_program_sees_them(height: float) -> None:
    points = at_height(height)
    theirs, _ = cv2.projectPoints(points * (1.0, 1.0, -1.0), TRUE[4:7], TRUE[7:10], MATRIX, LENS)
    assert np.allclose(project(TRUE, points, SIZE), theirs[:, 0], atol=1e-6)


def test_a_turn_is_that_of_an_independent_program() -> None:
    for vector in (np.array([0.3, -0.2, 1.0]), np.array([0.0, 0.0, 3.0]), np.zeros(3)):
        assert np.allclose(turned(vector), cv2.Rodrigues(vector)[0], atol=1e-12)


def test_a_homography_is_that_of_an_independent_program() -> None:
    ground = corners()
    seen = project(TRUE * (1, 0, 1, 1, 1, 1, 1, 1, 1, 1), at_height(0.0), SIZE)
    ours = homography(ground, seen)
    theirs, _ = cv2.findHomography(ground * 1e3, seen)
    theirs = theirs @ np.diag([1e3, 1e3, 1.0])
    assert np.allclose(ours / ours[2, 2], theirs / theirs[2, 2], rtol=1e-5, atol=1e-5)


def test_a_fit_finds_the_camera_and_says_how_well() -> None:
    random = np.random.default_rng(3)
    seen = project(TRUE, at_height(0.0), SIZE)
    apart = []
    for _ in range(12):
        found = fit(corners(), seen + random.normal(0.0, 0.3, seen.shape), SIZE)
        apart.append((found.params - TRUE) / np.sqrt(np.diag(found.cov)))
        assert found.misfit < 0.04e-3
    # standard errors: their mean square is one, twelve times ten of them, loosely
    assert 0.3 < float(np.mean(np.square(apart))) < 2.0


def test_the_pose_is_that_of_an_independent_program() -> None:
    seen = project(TRUE, at_height(0.0), SIZE)
    found = fit(corners(), seen, SIZE, 0.72)
    _, _, shift = cv2.solvePnP(
        at_height(0.0) * (1.0, 1.0, -1.0), seen, MATRIX, LENS, flags=cv2.SOLVEPNP_IPPE
    )
    assert found.params[7:10] == pytest.approx(shift[:, 0], rel=0.03, abs=1e-3)


def test_scale_from_the_fit_is_as_sure_as_repeating_it_shows() -> None:
    random = np.random.default_rng(4)
    seen = project(TRUE, at_height(0.0), SIZE)
    ends = np.array([(-2.5e-3, 0.0, 0.0), (2.5e-3, 0.0, 0.0)])
    pixels = project(TRUE, ends, SIZE)
    lengths, told = [], []
    for _ in range(25):
        found = fit(corners(), seen + random.normal(0.0, 0.5, seen.shape), SIZE)
        ground = found.ground_of_pixel()
        lengths.append(float(np.hypot(*((pixels[1] - pixels[0]) @ ground.T))))
        told.append(found.scale_uncertainty(0.0, 5e-3))
    assert np.std(lengths) / 5e-3 < 2.0 * np.mean(told)
    assert np.mean(lengths) == pytest.approx(5e-3, rel=1e-3)


def test_a_height_shows_as_the_distance_has_it() -> None:
    straight = TRUE * (1, 0, 0, 0, 0, 0, 0, 1, 1, 1)
    found = fit(corners(), project(straight, at_height(0.0), SIZE), SIZE, 0.72)
    distance = float(found.place[2])
    raised = found.pixels_per_metre(2e-3) / found.pixels_per_metre(0.0)
    assert raised == pytest.approx(distance / (distance - 2e-3), rel=1e-4)


def test_too_few_corners_are_refused() -> None:
    with pytest.raises(BadInput, match="corners"):
        fit(corners()[:8], np.zeros((8, 2)), SIZE)
