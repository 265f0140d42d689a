"""A record as a busy shop or a training bay leaves it: many joints, 512 torn coupons, one gun.

The joints are copies of the demonstration's sill; what the coupons read is the model's weld,
scattered. Every coupon goes through the same use cases as anybody's.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np

from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.demo.sill import GUN, STACK, DemoClock
from buttonhole.desk.demo.simulated import shown, torn
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.desk import Desk, Store
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.weld import spot
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import Pulse, SpotSetUp

JOBS, JOINTS, COUPONS = 16, 4, 8
CAP = GUN.caps[0]
SET_UP = SpotSetUp(
    pulses=(Pulse(9.2e3, 0.32),),
    electrode_force=3.0e3,
    cap_a=CAP,
    cap_b=CAP,
    squeeze_time=0.3,
    hold_time=0.2,
    current_type=GUN.current_types[0],
)
SEED = 512


def fill(store: Store, told: Callable[[int], None] | None = None) -> list[JointView]:
    """Put 16 jobs of 4 joints with 8 coupons each into a record.

    Parameters
    ----------
    store : Store
        An empty record.
    told : callable, optional
        Told how many coupons are in.

    Returns
    -------
    list of JointView
        Every joint as it stands at the end.
    """
    chance, clock = np.random.default_rng(SEED), DemoClock(datetime(2026, 1, 5, 8, tzinfo=UTC))
    desk = Desk(store, clock, "Bay helper")
    shares = np.linspace(0.92, 1.06, JOINTS)
    welds = [spot.predict(STACK, _with(share)) for share in shares]
    joints = []
    for number in range(JOBS):
        job = open_job(desk, OpenJob(f"Sill {number + 1}", f"Training car {number + 1}", demo=True))
        for share, weld in zip(shares, welds, strict=True):
            joint = describe_joint(desk, DescribeJoint(job.id, f"J {share:.2f}", STACK))
            joints.append(_coupons(desk, clock, _ready(desk, clock, joint, share), weld, chance))
            if told is not None:
                told(len(joints) * COUPONS)
    return joints


def _with(share: float) -> SpotSetUp:
    pulses = tuple(replace(one, current=one.current * share) for one in SET_UP.pulses)
    return replace(SET_UP, pulses=pulses)


def _ready(desk: Desk, clock: DemoClock, joint: JointView, share: float) -> JointView:
    joint = cite_procedure(
        desk,
        CiteProcedure(
            joint.id,
            joint.seen,
            reference="Body repair manual (demo), section 31-2",
            revision="2025-11",
            read_on=clock.now.date(),
            says="Resistance spot welds.",
        ),
    )
    return accept_set_up(
        desk,
        AcceptSetUp(
            joint.id,
            joint.seen,
            _with(share),
            machine=GUN.name,
            arm_pair="120",
            program_version=GUN.program_version,
            outlet="W3",
            lead="L25",
            position="PA",
            welder="Bay helper",
        ),
    )


def _coupons(
    desk: Desk, clock: DemoClock, joint: JointView, weld: SpotWeld, chance: np.random.Generator
) -> JointView:
    assert joint.set_up is not None  # noqa: S101 - accepted before
    for _ in range(COUPONS):
        joint = weld_coupon(
            desk,
            WeldCoupon(
                joint.id,
                joint.seen,
                "W3",
                "L25",
                3,
                read_back=shown(joint.set_up.set_up, chance),
                tip_state="dressed",
            ),
        )
        clock.wait(5)
        readings = torn(weld, joint.stack, chance)
        coupon = joint.coupons[-1].id
        command = JudgeCoupon(joint.id, joint.seen, coupon, readings=readings)
        joint = judge_coupon(desk, command)
    return joint
