"""An inspector who has only the VIN finds one weld, and what is missing is said."""

from datetime import timedelta

import pytest

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.find_evidence import FindEvidence, find_evidence
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.units import BadInput

VIN = "0BHDEM01000000017"


@pytest.fixture
def joint(desk, stack):
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5", vin=VIN))
    open_job(desk, OpenJob("Other", "Orvanel H5", vin="0BHDEM01000000025"))
    return describe_joint(desk, DescribeJoint(job.id, "J1", stack, "sill flange", old_spots=14))


def proofs(found):
    joint = found.joints[0]
    return {one.key: one for one in (*joint.primary, *joint.secondary)}


def test_what_is_there_and_what_is_missing(desk, store, welded):
    found = find_evidence(desk, store, FindEvidence(VIN.lower()))
    (joint,) = found.joints
    by_key = proofs(found)
    assert by_key["procedure"].found
    assert "page 14" in by_key["procedure"].words[0]
    assert "revision 2026-01" in by_key["procedure"].words[0]
    assert by_key["coupon"].who == "Tomas Brindeval"
    assert not by_key["criterion"].found
    assert "judged" in by_key["criterion"].missing
    assert by_key["criterion"].missing in joint.lacking
    assert "Gun A" in by_key["machine"].words[0]
    assert 0 < joint.score < 1
    assert joint.there + len(joint.lacking) == joint.due
    assert found.altered == ()
    assert found.entries == 5


def test_every_step_adds_to_it_and_the_criterion_of_that_day_is_shown(desk_of, store, welded):
    desk = desk_of("Joan Ferrisund")
    before = find_evidence(desk, store, FindEvidence(VIN)).joints[0]
    reading = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 5.0e-3)
    command = JudgeCoupon(
        welded.id, welded.seen, welded.coupons[0].id, None, (reading,), "calliper 3"
    )
    judge_coupon(desk, command)
    found = find_evidence(desk, store, FindEvidence(VIN))
    after = proofs(found)
    assert found.joints[0].there >= before.there + 3
    assert "limit" in after["criterion"].words[0]
    assert after["criterion"].who == "Joan Ferrisund"
    assert after["instrument"].words == ("calliper 3",)
    assert after["two_people"].found


def test_as_it_was_known_at_a_minute(desk, store, clock, cited, accepted, welded):
    known = proofs(find_evidence(desk, store, FindEvidence(VIN)))
    at = known["procedure"].at
    then = proofs(find_evidence(desk, store, FindEvidence(VIN, at=at)))
    assert then["procedure"].found
    assert not then["coupon"].found
    before = find_evidence(desk, store, FindEvidence(VIN, at=at - timedelta(days=1)))
    assert before.jobs == ()
    held = find_evidence(desk, store, FindEvidence(VIN, at=clock.now)).joints[0]
    assert held.held is False
    assert "No set-up was released" in held.held_words


def test_what_is_not_there(desk, store, welded):
    with pytest.raises(NotThere, match="vehicle"):
        find_evidence(desk, store, FindEvidence("0BHDEM01000000033"))
    with pytest.raises(NotThere, match="weld 17"):
        find_evidence(desk, store, FindEvidence(VIN, weld=17))
    with pytest.raises(NotThere, match="J9"):
        find_evidence(desk, store, FindEvidence(VIN, joint="J9"))
    with pytest.raises(BadInput, match="VIN"):
        find_evidence(desk, store, FindEvidence())


def test_an_altered_entry_is_named(desk, store, welded):
    import sqlite3
    from contextlib import closing

    with closing(sqlite3.connect(store.path, isolation_level=None)) as raw:
        raw.execute("DROP TRIGGER event_no_update")
        raw.execute("UPDATE event SET payload = replace(payload, '8500', '9500') WHERE place > 3")
    found = find_evidence(desk, store, FindEvidence(VIN))
    assert welded.coupons[0].event_ids[0] in found.altered
