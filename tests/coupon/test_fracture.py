"""How a weld let go: the truth table, and words for each mode."""

import pytest

from buttonhole.coupon.fracture import FractureMode as Mode
from buttonhole.coupon.fracture import classify
from buttonhole.paper.figure.torn import FRACTURE_MODES


@pytest.mark.parametrize(
    ("fused", "depth", "hole", "share", "mode"),
    [
        (True, 1.0, True, 1.0, Mode.FULL_BUTTON),
        (True, 1.0, True, 0.6, Mode.PARTIAL_BUTTON),
        (True, 0.5, False, 0.0, Mode.PARTIAL_THICKNESS),
        (True, 0.2, False, 0.0, Mode.PARTIAL_THICKNESS),
        (True, 0.2, False, 0.5, Mode.PARTIAL_BUTTON),
        (True, 0.19, False, 0.0, Mode.INTERFACIAL),
        (False, 0.0, False, 0.0, Mode.NO_WELD),
    ],
)
def test_truth_table(fused: bool, depth: float, hole: bool, share: float, mode: Mode) -> None:
    assert classify(fused=fused, torn_depth=depth, hole=hole, button_share=share) is mode


def test_a_hole_made_by_splash_is_no_button() -> None:
    found = classify(fused=True, torn_depth=1.0, hole=True, button_share=1.0, splashed_hole=True)
    assert found is Mode.EXPELLED


def test_every_mode_has_its_picture_and_words() -> None:
    assert set(FRACTURE_MODES) == {mode.value for mode in Mode}
    assert all(mode.words.measure and mode.words.iso and mode.words.aws for mode in Mode)
