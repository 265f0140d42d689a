"""A predicted seam: intervals, warnings, picture; brazing and aluminium; bad input."""

import dataclasses
import math
from functools import cache

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.nonferrous import braze_filler
from buttonhole.weld.arc.seam import (
    PREVIEW,
    ArcHeat,
    Hand,
    JointKind,
    Run,
    SeamJoint,
    SeamSetUp,
    SeamSheet,
    Torch,
    continuous,
    predict,
    predict_set_up,
    preview_set_up,
    simulate,
    skip,
)
from buttonhole.weld.arc.seam.ensemble import even_draws
from buttonhole.weld.arc.seam.joint import aluminium_sheet
from buttonhole.weld.arc.seam.machine import seam_set_up, speed_of
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.arc.seam.set_up import STEADY, path
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire
from buttonhole.weld.estimate import Estimate

MM = 1e-3
HEAT = ArcHeat(740.0, 660.0, 47e-9)


def steel(mm: float, coating: Coating = Coating.BARE) -> SeamSheet:
    return SeamSheet.of_steel(Sheet(find_steel("DC04"), mm * MM, coating))


def lap(one: SeamSheet, length: float = 20.0, **more: float) -> SeamJoint:
    return SeamJoint(JointKind.LAP, one, one, length * MM, **more)


@cache
def steady() -> SeamWeld:
    set_up = SeamSetUp(HEAT, Torch(45.0), continuous(20 * MM, 10 * MM))
    return predict(lap(steel(1.0)), set_up, resolution=PREVIEW, count=12)


def estimates(weld: SeamWeld) -> list[Estimate]:
    found = [
        getattr(each, field.name)
        for each in (weld, *weld.sheets)
        for field in dataclasses.fields(each)
    ]
    return [each for each in found if isinstance(each, Estimate)]


def test_every_interval_holds_its_value() -> None:
    found = estimates(steady())
    assert len(found) > 15
    for each in found:
        assert 0.0 <= each.low <= each.value <= each.high < 1e5


def test_the_same_input_gives_the_same_figures() -> None:
    set_up = SeamSetUp(HEAT, Torch(45.0), continuous(20 * MM, 10 * MM))
    again = predict(lap(steel(1.0)), set_up, resolution=PREVIEW, count=12)
    for a, b in zip(estimates(steady()), estimates(again), strict=True):
        assert a == b


def test_a_steady_hand_is_surer_of_fusion() -> None:
    set_up = SeamSetUp(HEAT, Torch(45.0), continuous(20 * MM, 10 * MM), hand=STEADY)
    robot = predict(lap(steel(1.0)), set_up, resolution=PREVIEW, count=12)
    shaky = dataclasses.replace(set_up, hand=Hand(1.5 * MM, 0.2))
    hand = predict(lap(steel(1.0)), shaky, resolution=PREVIEW, count=12)
    assert robot.fusion_probability > hand.fusion_probability
    for name in ("haz_edge", "fused_width"):
        sure, unsure = (getattr(weld.sheets[0], name) for weld in (robot, hand))
        assert sure.high - sure.low < unsure.high - unsure.low


def test_the_section_shows_zones_and_what_lies_where() -> None:
    section = steady().section
    shape = (len(section.z_faces) - 1, len(section.y_faces) - 1)
    assert section.part.shape == section.zone.shape == section.peak_temperature.shape == shape
    assert set(np.unique(section.zone)) == {-1, 0, 1, 2, 3}
    assert ((section.part < 0) == (section.zone < 0)).all()
    assert (section.part == 3).sum() > 5


def test_long_seam_reference_stands_beside_and_is_longer() -> None:
    weld = steady()
    assert weld.cooling_t85 is not None
    assert weld.long_seam is not None
    assert weld.long_seam.governing > 1.3 * weld.cooling_t85.value
    assert weld.heat_per_length == pytest.approx(140e3)


def test_a_wire_beside_the_joint_is_told() -> None:
    set_up = SeamSetUp(HEAT, Torch(90.0, 0.0, 3.5 * MM), continuous(20 * MM, 10 * MM))
    weld = predict(lap(steel(1.0)), set_up, resolution=PREVIEW, count=6)
    assert weld.throat.value == 0.0
    assert weld.fusion_probability < 0.5
    assert any("upper sheet may not be fused" in text for text in weld.warnings)
    assert any("maker's procedure" in text for text in weld.warnings)


def test_too_much_heat_falls_through() -> None:
    hot = SeamSetUp(ArcHeat(1400.0, 900.0, 64e-9), Torch(45.0), continuous(20 * MM, 6 * MM))
    weld = predict(lap(steel(0.8)), hot, resolution=PREVIEW, count=6)
    assert weld.burn_through_probability > 0.5
    assert any("fall through" in text for text in weld.warnings)
    assert steady().burn_through_probability < 0.3


@cache
def brazed(energy_share: float) -> SeamWeld:
    set_up = ArcSetUp(
        find_wire("S Cu 6560"), 1e-3, find_gas("I1"), 4.5 / 60.0 * energy_share, 13.5, 12 * MM,
        travel_speed=0.8 / 60.0, work_angle=math.radians(60.0),
    )  # fmt: skip
    return predict_set_up(lap(steel(0.8, Coating.GI)), set_up, resolution=PREVIEW)


def test_a_braze_wets_without_melting_the_steel() -> None:
    weld = brazed(1.0)
    assert all(sheet.penetration.value == 0.0 for sheet in weld.sheets)
    assert weld.sheets[0].wetted_width.value > 0.8 * MM
    assert weld.sheets[0].zinc_width is not None
    assert any("Zinc burns off" in text for text in weld.warnings)
    assert not any("may not be fused" in text for text in weld.warnings)


def test_more_heat_wets_more_and_burns_more_zinc() -> None:
    cold, hot = brazed(0.75), brazed(1.0)
    assert cold.sheets[0].wetted_width.value < hot.sheets[0].wetted_width.value
    assert cold.sheets[0].zinc_width is not None
    assert hot.sheets[0].zinc_width is not None
    assert cold.sheets[0].zinc_width.value < hot.sheets[0].zinc_width.value


def test_a_braze_that_melts_the_steel_is_told() -> None:
    filler = braze_filler(find_wire("S Cu 6100"))
    set_up = SeamSetUp(
        ArcHeat(1500.0, 500.0, 60e-9), Torch(60.0), continuous(20 * MM, 8 * MM), filler=filler
    )
    weld = predict(lap(steel(0.8)), set_up, resolution=PREVIEW, count=4)
    assert any("must not melt it" in text for text in weld.warnings)


def test_books_close_with_unlike_metals_and_a_gap() -> None:
    filler = braze_filler(find_wire("S Cu 6560"))
    set_up = SeamSetUp(
        ArcHeat(700.0, 350.0, 52e-9), Torch(60.0), continuous(20 * MM, 13 * MM), filler=filler
    )
    upper, lower = steel(0.8), SeamSheet.of_steel(Sheet(find_steel("22MnB5"), 1.2 * MM))
    joint = SeamJoint(JointKind.LAP, upper, lower, 20 * MM, gap=0.5 * MM)
    sim = simulate(joint, set_up)
    assert sim.imbalance < 1e-10
    assert sim.droplet_heat == pytest.approx(350.0 * set_up.arc_time, rel=1e-9)
    assert sim.arc_heat == pytest.approx(700.0 * set_up.arc_time, rel=1e-9)


def test_aluminium_softens_and_gives_no_warning_by_colour() -> None:
    heat = ArcHeat(1300.0, 500.0, 100e-9)
    hardened, annealed = (
        predict(
            lap(aluminium_sheet(alloy, 2 * MM)),
            SeamSetUp(heat, Torch(60.0), continuous(20 * MM, 11 * MM)),
            resolution=PREVIEW,
            count=4,
        )
        for alloy in ("EN AW-6016", "5754")
    )
    softened = hardened.sheets[0].softened_width
    assert softened is not None
    assert softened.value > 8 * MM
    assert annealed.sheets[0].softened_width is None
    for weld in (hardened, annealed):
        assert any("no warning by colour" in text for text in weld.warnings)
        assert weld.peak_hardness is None
        assert weld.cooling_t85 is None


def test_what_cannot_be_computed_is_refused_by_its_key() -> None:
    sheet = steel(1.0)
    cases = (
        ("length", lambda: lap(sheet, 5.0)),
        ("length", lambda: lap(sheet, math.nan)),
        ("gap", lambda: lap(sheet, gap=4 * MM)),
        ("gap", lambda: SeamJoint(JointKind.BUTT_BACKED, sheet, sheet, 0.02, gap=1 * MM)),
        ("root_gap", lambda: lap(sheet, root_opening=1 * MM)),
        ("thickness", lambda: SeamSheet(sheet.metal, math.nan)),
        ("thickness", lambda: aluminium_sheet("6016", 0.8 * MM)),
        ("alloy", lambda: aluminium_sheet("7075", 2 * MM)),
        ("wire", lambda: braze_filler(find_wire("G 3Si1"))),
        ("travel_speed", lambda: Run(0.0, 0.02, 0.2)),
        ("work_angle", lambda: Torch(5.0)),
        ("travel_angle", lambda: Torch(45.0, 80.0)),
        ("aim_offset", lambda: Torch(45.0, 0.0, math.nan)),
        ("arc_power", lambda: ArcHeat(1e5, 0.0, 0.0)),
        ("deposition_rate", lambda: ArcHeat(700.0, 300.0, 0.0)),
        ("order", lambda: skip(0.06, (0, 0, 1), 0.01, 1.0)),
        ("length", lambda: SeamSetUp(HEAT, Torch(), ())),
    )
    for key, make in cases:
        with pytest.raises(BadInput) as told:
            make()
        assert told.value.key == key


def test_speed_comes_from_the_arc_time_where_it_is_given() -> None:
    common = (find_wire("G 3Si1"), 0.8 * MM, find_gas("M21"), 0.093, 17.5, 13 * MM)
    joint = lap(steel(1.0))
    assert speed_of(joint, ArcSetUp(*common, arc_time=4.0)) == pytest.approx(5 * MM)
    assert seam_set_up(joint, ArcSetUp(*common, arc_time=4.0)).arc_time == pytest.approx(4.0)
    with pytest.raises(BadInput, match="travel_speed"):
        speed_of(joint, ArcSetUp(*common))


def test_a_hand_wanders_by_as_much_as_it_is_said_to() -> None:
    joint = lap(steel(1.0), 120.0)
    set_up = SeamSetUp(HEAT, Torch(90.0), continuous(120 * MM, 10 * MM), hand=Hand(0.7 * MM, 0.1))
    drawn = [path(joint, set_up, np.random.default_rng(seed)) for seed in range(60)]
    aims = np.concatenate([way[:, 2] for way in drawn])
    assert np.std(aims) == pytest.approx(0.7 * MM, rel=0.15)
    times = np.array([way[-1, 0] for way in drawn])
    assert times.mean() == pytest.approx(12.0, rel=0.03)
    assert len(path(joint, set_up)) == 2


def test_even_draws_are_normal_and_alike_every_time() -> None:
    drawn = even_draws(400, 8)
    assert np.abs(drawn.mean(axis=0)).max() < 0.05
    assert np.abs(drawn.std(axis=0) - 1.0).max() < 0.05
    assert np.abs(np.corrcoef(drawn.T) - np.eye(8)).max() < 0.15
    assert (drawn == even_draws(400, 8)).all()


def test_a_preview_is_near_the_prediction_and_has_no_chances() -> None:
    joint = lap(steel(1.0))
    set_up = ArcSetUp(
        find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), 5.6 / 60.0, 17.5, 13 * MM,
        travel_speed=10 * MM, work_angle=math.radians(45.0),
    )  # fmt: skip
    quick, full = preview_set_up(joint, set_up), predict_set_up(joint, set_up, count=1)
    assert quick.fusion_probability in (0.0, 1.0)
    for a, b in zip(quick.sheets, full.sheets, strict=True):
        assert a.haz_edge.value == pytest.approx(b.haz_edge.value, rel=0.06)
        assert a.fused_probability in (0.0, 1.0)
    assert quick.leg_lower.value == pytest.approx(full.leg_lower.value, rel=0.1)
    assert quick.leg_lower.low < quick.leg_lower.value < quick.leg_lower.high


@pytest.mark.parametrize(("power", "low", "high"), [(0.45, 0.0, 0.05), (2.2, 0.95, 1.0)])
def test_the_chance_that_a_brazed_sheet_melts_is_counted(
    power: float, low: float, high: float
) -> None:
    # a depth of nothing is no coin toss: a cool braze does not melt, a hot one does
    heat = ArcHeat(740.0 * power, 460.0 * power, 47e-9)
    filler = braze_filler(find_wire("S Cu 6560"))
    set_up = SeamSetUp(heat, Torch(45.0), continuous(20 * MM, 10 * MM), filler=filler)
    found = predict(lap(steel(1.0)), set_up, resolution=PREVIEW, count=12)
    assert all(low <= sheet.melting_probability <= high for sheet in found.sheets)
