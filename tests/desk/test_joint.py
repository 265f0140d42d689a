"""Jobs and joints: what is typed is checked, what is saved is shown, nothing is overwritten."""

from dataclasses import replace
from datetime import date

import pytest

from buttonhole.desk import Conflict, NotThere
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import (
    CiteProcedure,
    SignDeviation,
    cite_procedure,
    sign_deviation,
)
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.folding import required_spots
from buttonhole.desk.open_job import OpenJob, TickGate, open_job, tick_gate
from buttonhole.desk.read_job import list_jobs, read_job, read_joint
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.view import Rules, State
from buttonhole.units import BadInput


def test_a_job_with_a_vin_is_found_again(desk):
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5", vin="0bhdem01000000017", area="sill"))
    assert (job.vin, job.opened_by, job.demo) == ("0BHDEM01000000017", "Tomas Brindeval", False)
    assert [one.id for one in list_jobs(desk)] == [job.id]
    assert read_job(desk, job.id) == job
    other = open_job(desk, OpenJob("Training", "none"))
    assert [one.id for one in list_jobs(desk)] == [other.id, job.id]


@pytest.mark.parametrize(
    ("command", "key"),
    [
        (OpenJob("", "x"), "title"),
        (OpenJob("x", "  "), "vehicle"),
        (OpenJob("x" * 200, "x"), "title"),
        (OpenJob("x", "x\x00"), "vehicle"),
        (OpenJob("x", "x", vin="0BHDEM0100000001O"), "vin"),
        (OpenJob("x", "x", vin="0BHDEM01"), "vin"),
    ],
)
def test_what_is_no_job_is_refused_and_nothing_written(desk, store, command, key):
    with pytest.raises(BadInput) as bad:
        open_job(desk, command)
    assert bad.value.key == key
    assert store.events() == ()


def test_each_gate_is_ticked_by_name_and_time(desk, desk_of):
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5"))
    assert all(gate.at is None for gate in job.gates)
    job = tick_gate(desk_of("Priya Sollavane"), TickGate(job.id, "battery", "both cables off"))
    gate = next(one for one in job.gates if one.key == "battery")
    assert (gate.actor, gate.remark) == ("Priya Sollavane", "both cables off")
    assert gate.at is not None
    assert sum(one.at is not None for one in job.gates) == 1
    with pytest.raises(BadInput, match="battery"):
        tick_gate(desk, TickGate(job.id, "everything"))
    with pytest.raises(NotThere):
        tick_gate(desk, TickGate("no job", "battery"))


def test_a_joint_is_identified_then_decided(joint, cited):
    assert joint.state is State.IDENTIFIED
    assert (joint.old_spots, joint.required_spots) == (14, None)
    assert cited.state is State.METHOD_DECIDED
    assert cited.required_spots == 19
    assert cited.procedure.authority.read_by == "Tomas Brindeval"
    assert [one.what.split(":")[0] for one in cited.history] == [
        "Joint J1 described",
        "Maker's procedure cited",
    ]


@pytest.mark.parametrize(
    ("old", "factor", "new"),
    [(14, 1.3, 19), (10, 1.3, 13), (12, 1.3, 16), (10, 1.1, 11), (7, None, None), (0, 1.3, None)],
)
def test_the_factor_on_the_old_spots_rounds_up_but_not_by_a_rounding_fault(old, factor, new):
    assert required_spots(old, Rules(factor)) == new


def test_the_second_of_two_people_is_told_and_shown_both(desk, desk_of, joint, stack):
    other = desk_of("Priya Sollavane")
    seen = joint.seen
    hers = describe_joint(
        other,
        DescribeJoint(joint.job_id, "J1", replace(stack, gap=0.2e-3), joint_id=joint.id, seen=seen),
    )
    with pytest.raises(Conflict) as conflict:
        describe_joint(
            desk, DescribeJoint(joint.job_id, "J1 left", stack, joint_id=joint.id, seen=seen)
        )
    told = conflict.value
    assert told.theirs[-1].actor == "Priya Sollavane"
    assert told.theirs[-1].values["stack"]["gap"] == 0.2e-3
    assert told.mine[0].values["name"] == "J1 left"
    assert ("name", "J1", "J1 left") in told.rows
    assert read_joint(desk, joint.id) == hers
    # Having seen both, mine goes on top; hers stays in the history.
    mine = describe_joint(
        desk, DescribeJoint(joint.job_id, "J1 left", stack, joint_id=joint.id, seen=told.seen)
    )
    assert mine.name == "J1 left"
    assert len(mine.history) == 3


def test_a_joint_cannot_be_saved_without_having_seen_it(desk, joint, stack):
    with pytest.raises(Conflict):
        describe_joint(desk, DescribeJoint(joint.job_id, "J1", stack, joint_id=joint.id))


def test_another_stack_takes_the_set_up_away(desk, cited, stack, set_up):
    accepted = accept_set_up(desk, AcceptSetUp(cited.id, cited.seen, set_up, machine="Gun A"))
    assert accepted.state is State.SET_UP_ACCEPTED
    assert accepted.set_up.own
    same = describe_joint(
        desk,
        DescribeJoint(
            cited.job_id, "J1b", stack, old_spots=14, joint_id=cited.id, seen=accepted.seen
        ),
    )
    assert same.set_up is not None
    other = describe_joint(
        desk,
        DescribeJoint(
            cited.job_id,
            "J1b",
            replace(stack, gap=0.5e-3),
            old_spots=14,
            joint_id=cited.id,
            seen=same.seen,
        ),
    )
    assert other.set_up is None
    assert other.state is State.METHOD_DECIDED


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"reference": ""}, "reference"),
        ({"revision": " "}, "revision"),
        ({"says": ""}, "says"),
        ({"read_on": date(2026, 3, 3)}, "read_on"),
        ({"spots_factor": 0.0}, "spots_factor"),
        ({"spots_factor": 13.0}, "spots_factor"),
        ({"minimum_diameter": 5.0}, "minimum_diameter"),
    ],
)
def test_a_procedure_that_cannot_be_found_again_is_refused(desk, joint, change, key):
    command = CiteProcedure(joint.id, joint.seen, "manual", "3", date(2026, 3, 1), "spot weld")
    with pytest.raises(BadInput) as bad:
        cite_procedure(desk, replace(command, **change))
    assert bad.value.key == key
    assert read_joint(desk, joint.id) == joint


def test_a_deviation_needs_two_people(desk, joint):
    command = SignDeviation(joint.id, joint.seen, "no page for this joint", "A. One", "a. one")
    with pytest.raises(BadInput, match="second"):
        sign_deviation(desk, command)
    signed = sign_deviation(desk, replace(command, second_signature="B. Two"))
    assert signed.procedure.is_deviation
    assert signed.required_spots is None


def test_an_entry_is_taken_back_with_a_reason_and_stays_readable(desk, cited, store):
    entry = next(one for one in cited.history if "procedure" in one.what)
    job = correct_entry(desk, CorrectEntry(entry.event_id, "wrong page", cited.seen))
    joint = job.joint(cited.id)
    assert joint.procedure is None
    assert joint.state is State.IDENTIFIED
    kept = next(one for one in joint.history if one.event_id == entry.event_id)
    assert kept.withdrawn == "wrong page"
    assert store.event(entry.event_id) is not None
    assert verify_record(store).whole
    with pytest.raises(BadInput, match="already"):
        correct_entry(desk, CorrectEntry(entry.event_id, "again", joint.seen))
    last = joint.history[-1]
    with pytest.raises(BadInput, match="do the step again"):
        correct_entry(desk, CorrectEntry(last.event_id, "no", joint.seen))
    with pytest.raises(NotThere):
        correct_entry(desk, CorrectEntry("nothing", "no", joint.seen))


def test_taking_back_needs_to_have_seen_the_joint_as_it_is(desk, joint, cited):
    with pytest.raises(Conflict):
        correct_entry(desk, CorrectEntry(cited.history[-1].event_id, "late", joint.seen))


def test_nobody_acts_without_a_name(desk_of):
    with pytest.raises(BadInput, match="who you are"):
        desk_of("  ")


def test_what_is_not_there(desk):
    with pytest.raises(NotThere):
        read_job(desk, "x")
    with pytest.raises(NotThere):
        read_joint(desk, "x")
