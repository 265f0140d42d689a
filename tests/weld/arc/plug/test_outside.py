"""From the marks of a plug to what is fused: twins of the model, alarms, what to look at next.

Each march in turn is taken for the weld that is there; its marks are read with an error, and the
others are weighted by them. The model has no error against itself, so these figures are the best
that can be hoped for.
"""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.plug.marks import BackMark
from buttonhole.weld.arc.plug.outside import (
    CLASS_ORDER,
    NO_ALLOWANCE,
    USUAL_SPREAD,
    Inside,
    Look,
    PlugEnsemble,
    Seen,
    ensemble,
    look_inside,
    sighting,
)
from buttonhole.weld.arc.sighting import Sighting
from tests.weld.arc.plug.plugs import joint, set_up

WANTED = (5e-3,)
COUNT = 250


@pytest.fixture(scope="module")
def members() -> PlugEnsemble:
    """Welds that could be, with the current as a machine shows it."""
    shown = operating_point(set_up()).current.value
    rng = np.random.default_rng(1)
    return ensemble(joint(), set_up(), rng, count=COUNT, shown_current=shown)


def without(members: PlugEnsemble, one: int) -> PlugEnsemble:
    keep = np.arange(members.size) != one
    return PlugEnsemble(
        {look: found[keep] for look, found in members.looks.items()},
        members.classes[keep],
        members.fused[keep],
        members.penetration[keep],
        members.thicknesses,
    )


def read(members: PlugEnsemble, one: int, looks: tuple[Look, ...], seed: int) -> Inside:
    rng = np.random.default_rng([seed, one])
    readings = {}
    for look in looks:
        spread = USUAL_SPREAD[look]
        value = float(members.looks[look][one]) + spread * rng.standard_normal()
        readings[look] = sighting(look, max(value, 0.0), spread)
    return look_inside(without(members, one), Seen(readings), WANTED, NO_ALLOWANCE)


def errors(members: PlugEnsemble, *looks: Look) -> tuple[np.ndarray, float]:
    """Errors of the fused diameter [m], and the share [-] of intervals that hold it."""
    off, held = [], []
    for one in range(members.size):
        found, truth = read(members, one, looks, 7).fused[0], float(members.fused[one, 0])
        off.append(found.value - truth)
        held.append(found.low - 1e-9 <= truth <= found.high + 1e-9)
    return np.array(off), float(np.mean(held))


def rms(off: np.ndarray) -> float:
    return float(np.sqrt(np.mean(off**2)))


def test_each_look_takes_doubt_away_and_both_most(members: PlugEnsemble) -> None:
    nothing, _ = errors(members)
    ring, _ = errors(members, Look.ZINC_RING)
    spot, _ = errors(members, Look.BACK_SPOT)
    both, held = errors(members, Look.ZINC_RING, Look.BACK_SPOT)
    assert rms(ring) < 0.75 * rms(nothing)
    assert rms(spot) < 0.75 * rms(nothing)
    assert rms(both) < 0.90 * min(rms(ring), rms(spot))
    assert 0.85 <= held <= 0.98


def test_with_a_molten_spot_and_a_ring_the_fusion_is_known_to_half_a_millimetre(
    members: PlugEnsemble,
) -> None:
    both, _ = errors(members, Look.ZINC_RING, Look.BACK_SPOT)
    shows = members.looks[Look.BACK_SPOT] > 0.0
    assert shows.mean() > 0.4
    assert rms(both[shows]) < 0.5e-3
    # where nothing melted through the marks say how much heat there was, but not how narrow
    assert rms(both[~shows]) > rms(both[shows])
    # there the temperature of the back still tells
    hot, _ = errors(members, Look.ZINC_RING, Look.BACK_SPOT, Look.HOTTEST)
    assert rms(hot[~shows]) < 0.75 * rms(both[~shows])


def test_of_a_plug_that_welds_ring_and_spot_tell_the_fusion_to_half_a_millimetre() -> None:
    made, given = joint((0.8, 1.2)), set_up(arc_time=1.4)
    shown = operating_point(given).current.value
    sound = ensemble(made, given, np.random.default_rng(1), count=COUNT, shown_current=shown)
    assert (sound.looks[Look.BACK_SPOT] > 0.0).mean() > 0.9
    nothing, _ = errors(sound)
    both, held = errors(sound, Look.ZINC_RING, Look.BACK_SPOT)
    assert rms(both) <= 0.5e-3 < 0.6 * rms(nothing)
    assert 0.85 <= held <= 0.98


def test_the_look_it_advises_is_the_one_that_tells_most(members: PlugEnsemble) -> None:
    found = look_inside(members, Seen({}), WANTED, NO_ALLOWANCE)
    assert [one.left for one in found.next_looks] == sorted(one.left for one in found.next_looks)
    best, worst = found.next_looks[0], found.next_looks[-1]
    assert best.look in (Look.ZINC_RING, Look.BACK_SPOT, Look.HOTTEST)
    assert worst.look in (Look.HEAD, Look.TINT)
    assert rms(errors(members, best.look)[0]) < rms(errors(members, worst.look)[0])
    assert best.left < found.now
    usual = sighting(best.look, float(np.median(members.looks[best.look])))
    taken = look_inside(members, Seen({best.look: usual}), WANTED, NO_ALLOWANCE)
    assert best.look not in {one.look for one in taken.next_looks}


def test_a_bigger_ring_and_spot_mean_more_fused(members: PlugEnsemble) -> None:
    found = []
    for share in (0.1, 0.5, 0.9):
        readings = {
            look: Sighting(float(np.quantile(members.looks[look], share)), USUAL_SPREAD[look])
            for look in (Look.ZINC_RING, Look.BACK_SPOT)
        }
        found.append(look_inside(members, Seen(readings), WANTED))
    values = [one.fused[0].value for one in found]
    chances = [one.fusion_probability for one in found]
    assert values == sorted(values)
    assert chances == sorted(chances)
    assert all(not one.alarms for one in found)


def test_the_class_of_the_back_tells_too(members: PlugEnsemble) -> None:
    present = {CLASS_ORDER[place] for place in members.classes}
    assert BackMark.BUMP in present
    nothing = look_inside(members, Seen({}), WANTED, NO_ALLOWANCE)
    bump = look_inside(members, Seen({}, BackMark.BUMP), WANTED, NO_ALLOWANCE)
    assert bump.fused[0].value > nothing.fused[0].value
    assert bump.now < nothing.now


def test_a_reading_no_weld_shows_raises_an_alarm(members: PlugEnsemble) -> None:
    far = look_inside(members, Seen({Look.ZINC_RING: Sighting(25e-3, 0.3e-3)}), WANTED)
    (said,) = far.alarms
    assert "25.0 mm" in said
    assert "nothing can be said" in said
    hole = members
    if CLASS_ORDER.index(BackMark.HOLE) - int(members.classes.max()) > 1:
        assert look_inside(hole, Seen({}, BackMark.HOLE), WANTED).alarms
    contrary = Seen(
        {
            Look.ZINC_RING: Sighting(float(members.looks[Look.ZINC_RING].min()), 0.05e-3),
            Look.BACK_SPOT: Sighting(float(members.looks[Look.BACK_SPOT].max()), 0.05e-3),
        }
    )
    assert look_inside(members, contrary, WANTED, NO_ALLOWANCE).alarms


def test_what_the_model_may_be_off_widens_the_answer(members: PlugEnsemble) -> None:
    seen = Seen({Look.ZINC_RING: Sighting(8e-3, 0.3e-3)})
    sure, usual = (look_inside(members, seen, WANTED, one) for one in (NO_ALLOWANCE, None))
    assert usual.fused[0].high - usual.fused[0].low > sure.fused[0].high - sure.fused[0].low
    assert usual.now > sure.now
    for one in (*usual.fused, *usual.penetration):
        assert 0.0 <= one.low <= one.value <= one.high
    assert usual.penetration[0].high <= 1.5e-3


def test_the_same_generator_gives_the_same_welds_and_a_doubted_time_others() -> None:
    def few(seed: int, spread: float) -> PlugEnsemble:
        rng = np.random.default_rng(seed)
        return ensemble(joint(), set_up(), rng, count=16, time_spread=spread)

    first, again, wide = few(5, 0.1), few(5, 0.1), few(5, 0.4)
    assert np.array_equal(first.fused, again.fused)
    assert not np.array_equal(first.looks[Look.ZINC_RING], wide.looks[Look.ZINC_RING])


@pytest.mark.parametrize(("value", "spread"), [(-1e-3, 1e-3), (5e-3, 0.0), (math.nan, 1e-3)])
def test_no_reading_without_its_doubt(value: float, spread: float) -> None:
    with pytest.raises(BadInput):
        Sighting(value, spread)


def test_no_look_inside_without_an_arc_time() -> None:
    rng = np.random.default_rng(1)
    with pytest.raises(BadInput, match="arc_time"):
        ensemble(joint(), dataclasses.replace(set_up(), arc_time=None), rng, count=16)
    with pytest.raises(BadInput, match="time it again"):
        ensemble(joint(), set_up(), rng, count=16, time_spread=1.5)
    with pytest.raises(BadInput, match="these settings make"):
        ensemble(joint(), set_up(), rng, count=16, shown_current=300.0)


def test_more_current_on_the_display_means_more_fused() -> None:
    def mean(current: float) -> float:
        rng = np.random.default_rng(1)
        found = ensemble(joint(), set_up(), rng, count=24, shown_current=current)
        return float(found.fused.mean())

    assert mean(100.0) < mean(112.0) < mean(122.0)
