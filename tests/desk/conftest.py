"""A shop with a clock the test sets and chance that repeats."""

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from buttonhole.desk import Desk
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.record.store import open_store
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp


class Clock:
    """Goes on by a second each time it is asked."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now

    def wait(self, **time: float) -> None:
        self.now += timedelta(**time)


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def store(tmp_path):
    with open_store(tmp_path / "record.db") as opened:
        yield opened


@pytest.fixture
def desk_of(store, clock):
    chance = np.random.default_rng(1)

    def make(actor: str) -> Desk:
        return Desk(store, clock, actor, randomness=chance.bytes, zone=UTC)

    return make


@pytest.fixture
def desk(desk_of):
    return desk_of("Tomas Brindeval")


@pytest.fixture
def stack():
    return StackUp(
        (
            Sheet(find_steel("DC04"), 0.8e-3, Coating.BARE),
            Sheet(find_steel("DC04"), 0.8e-3, Coating.BARE),
        )
    )


@pytest.fixture
def set_up():
    cap = ElectrodeCap(face_diameter=6e-3)
    return SpotSetUp((Pulse(8.5e3, 0.16),), CurrentType.MFDC, 2.6e3, cap, cap, 0.3, 0.16)


@pytest.fixture
def joint(desk, stack):
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5"))
    return describe_joint(desk, DescribeJoint(job.id, "J1", stack, "sill flange", old_spots=14))


@pytest.fixture
def cited(desk, joint):
    return cite_procedure(
        desk,
        CiteProcedure(
            joint.id,
            joint.seen,
            reference="Body repair manual, section 7.2, page 14",
            revision="2026-01",
            read_on=date(2026, 3, 1),
            says="Spot weld, 1.3 times the old spots.",
            spots_factor=1.3,
        ),
    )


@pytest.fixture
def accepted(desk, cited, set_up):
    return accept_set_up(
        desk,
        AcceptSetUp(
            cited.id,
            cited.seen,
            set_up,
            machine="Gun A",
            arm_pair="120",
            program_version="4.2",
            outlet="W3",
            lead="L25",
            position="PA",
        ),
    )


@pytest.fixture
def welded(desk, accepted):
    return weld_coupon(
        desk, WeldCoupon(accepted.id, accepted.seen, "W3", "L25", welds_since_dress=4)
    )
