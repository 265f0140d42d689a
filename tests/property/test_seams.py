"""Any seam that is accepted: books close, figures are finite and within what can be."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc.seam import (
    PREVIEW,
    ArcHeat,
    BackingBar,
    JointKind,
    Run,
    SeamJoint,
    SeamSetUp,
    SeamSheet,
    Torch,
    simulate,
)
from buttonhole.weld.arc.seam.reading import read


def sheet(mm: float, name: str = "DC04") -> SeamSheet:
    return SeamSheet.of_steel(Sheet(find_steel(name), mm * 1e-3))


thickness = st.floats(0.5, 3.5)


@st.composite
def joints(draw: st.DrawFn) -> SeamJoint:
    lap = draw(st.booleans())
    open_by = draw(st.sampled_from([0.0, 0.1, 0.4, 1.3, 2.9])) * 1e-3
    return SeamJoint(
        JointKind.LAP if lap else JointKind.BUTT_BACKED,
        sheet(draw(thickness)),
        sheet(draw(thickness), draw(st.sampled_from(["DC04", "22MnB5"]))),
        10e-3,
        gap=open_by if lap else 0.0,
        root_opening=0.0 if lap else open_by,
        bar=draw(st.sampled_from([None, BackingBar(2000.0)])),
        width=draw(st.floats(8e-3, 60e-3)),
        overlap=draw(st.floats(5e-3, 40e-3)),
        overhang=draw(st.floats(0.0, 20e-3)),
    )


@st.composite
def set_ups(draw: st.DrawFn) -> SeamSetUp:
    heat = ArcHeat(
        draw(st.floats(0.0, 3000.0)), draw(st.floats(0.0, 1500.0)), draw(st.floats(5e-9, 150e-9))
    )
    torch = Torch(
        draw(st.floats(20.0, 110.0)), draw(st.floats(-50.0, 50.0)), draw(st.floats(-6e-3, 6e-3))
    )
    speed = draw(st.floats(4e-3, 40e-3))
    backwards = draw(st.booleans())
    ends = (10e-3, 0.0) if backwards else (0.0, 10e-3)
    return SeamSetUp(heat, torch, (Run(*ends, speed),))


@settings(max_examples=25)
@given(joint=joints(), set_up=set_ups())
def test_any_seam_closes_its_books(joint: SeamJoint, set_up: SeamSetUp) -> None:
    sim = simulate(joint, set_up, PREVIEW, cooling=3.0)
    # below a joule the share of rounding grows
    assert sim.imbalance * max(sim.arc_heat + sim.droplet_heat, 1e-9) < 1e-10 * max(
        sim.arc_heat + sim.droplet_heat, 1.0
    )
    assert sim.peak.max() < 2900.0
    assert sim.peak.min() >= 20.0 - 1e-6
    assert sim.deposit.sum() >= 0.0
    reading = read(sim)
    for found in reading.sheets:
        assert np.isfinite(found.penetration).all()
        assert (found.penetration >= 0.0).all()
        assert (found.haz_width >= found.fused_width - 1e-9).all()
        assert (found.outer_peak < 3000.0).all()
    assert (reading.throat >= 0.0).all()


@settings(max_examples=4)
@given(seed=st.integers(0, 1000))
def test_a_wandering_hand_welds_another_seam_each_time(seed: int) -> None:
    joint = SeamJoint(JointKind.LAP, sheet(1.0), sheet(1.0), 20e-3)
    set_up = SeamSetUp(ArcHeat(740.0, 660.0, 47e-9), Torch(45.0), (Run(0.0, 20e-3, 10e-3),))
    one, same, other = (
        simulate(joint, set_up, PREVIEW, rng=np.random.default_rng(n), cooling=0.0)
        for n in (seed, seed, seed + 1)
    )
    assert (one.peak == same.peak).all()
    assert not (one.peak == other.peak).all()
