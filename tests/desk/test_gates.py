"""Gates at the desk: by whom, when, waiting, another day, nobody's health written down."""

import json

import pytest

from buttonhole.desk.demo.arcs import PLUGS
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.gates import gates_now, job_facts
from buttonhole.desk.open_job import OpenJob, TellIntake, TickGate, open_job, tell_intake, tick_gate
from buttonhole.desk.read_job import read_job
from buttonhole.units import BadInput
from buttonhole.vehicle.safety import Answer, Powertrain


@pytest.fixture
def job(desk):
    command = OpenJob("Left sill", "Orvanel H5", powertrain=Powertrain.ELECTRIC)
    return open_job(desk, command)


def state(desk, job, key):
    job = read_job(desk, job.id)
    return next(one for one in gates_now(desk, job) if one.gate.key == key)


def test_high_voltage_names_who_made_it_safe_and_when(desk, job):
    tick_gate(desk, TickGate(job.id, "high_voltage", who="Nadia Orremo", when="7.50"))
    found = state(desk, job, "high_voltage")
    assert found.state == "signed"
    assert (found.view.who, found.view.when, found.view.actor) == (
        "Nadia Orremo",
        "07:50",
        "Tomas Brindeval",
    )


def test_the_battery_waits_as_long_as_the_maker_says(desk, clock, job):
    tick_gate(desk, TickGate(job.id, "battery", when="7:58", wait_minutes=10))  # it is 8:00
    found = state(desk, job, "battery")
    assert found.state == "waiting"
    assert found.ready_at.strftime("%H:%M") == "08:08"
    assert found.is_owed
    clock.wait(minutes=9)
    assert state(desk, job, "battery").state == "signed"


def test_a_time_before_midnight_is_of_the_day_before(desk, clock, job):
    clock.wait(hours=16, minutes=10)  # ten past midnight
    tick_gate(desk, TickGate(job.id, "battery", when="23:55", wait_minutes=30))
    assert state(desk, job, "battery").ready_at.strftime("%H:%M") == "00:25"


def test_a_signature_of_another_day_is_asked_again_where_it_says_nothing_of_today(desk, clock, job):
    tick_gate(desk, TickGate(job.id, "extraction"))
    tick_gate(desk, TickGate(job.id, "dimensions"))
    clock.wait(days=1)
    assert state(desk, job, "extraction").state == "old"
    assert state(desk, job, "dimensions").state == "signed"


def test_of_implants_only_cleared_or_not_is_kept(desk, store, job):
    tick_gate(desk, TickGate(job.id, "implants", answer=Answer.NOT_CLEARED))
    assert state(desk, job, "implants").state == "refused"
    with pytest.raises(BadInput, match="only cleared or not cleared"):
        tick_gate(desk, TickGate(job.id, "implants", remark="Priya has a pacemaker"))
    with pytest.raises(BadInput, match="cleared or not_cleared"):
        tick_gate(desk, TickGate(job.id, "implants", answer=Answer.DONE))
    tick_gate(desk, TickGate(job.id, "implants"))
    assert state(desk, job, "implants").state == "signed"
    written = json.dumps([one.payload for one in store.events()])
    assert "pacemaker" not in written


def test_a_gate_that_does_not_apply_says_why(desk, job):
    with pytest.raises(BadInput, match="say why"):
        tick_gate(desk, TickGate(job.id, "restraints", answer=Answer.NOT_NEEDED))
    tick_gate(desk, TickGate(job.id, "restraints", "No airbag aft.", Answer.NOT_NEEDED))
    assert state(desk, job, "restraints").state == "signed"


@pytest.mark.parametrize("when", ["25:00", "9:60", "noon", "9"])
def test_what_is_no_time_of_day_is_refused(desk, job, when):
    with pytest.raises(BadInput, match="time of day"):
        tick_gate(desk, TickGate(job.id, "battery", when=when))


@pytest.mark.parametrize("minutes", [-1, 241, float("nan")])
def test_what_is_no_waiting_time_is_refused(desk, job, minutes):
    with pytest.raises(BadInput, match="waiting time"):
        tick_gate(desk, TickGate(job.id, "battery", wait_minutes=minutes))


def test_gates_follow_from_the_joints_and_what_is_told_later(desk, joint):
    job = read_job(desk, joint.job_id)
    assert job_facts(job).zinc == ()  # bare sheets
    assert state(desk, job, "high_voltage").state == "open"  # nobody looked
    describe_arc_joint(desk, DescribeArcJoint(job.id, "J2 plugs", PLUGS))
    facts = job_facts(read_job(desk, job.id))
    assert facts.arc == ("J2 plugs",)
    assert facts.zinc == ("J2 plugs",)
    tell_intake(desk, TellIntake(job.id, "", Powertrain.COMBUSTION, "yes"))
    assert state(desk, job, "high_voltage").state == "not needed"
    assert read_job(desk, job.id).earlier_repair == "yes"


def test_the_vin_may_be_read_again_and_its_remark_goes_along(desk, store, job):
    told = tell_intake(desk, TellIntake(job.id, "1" * 16 + "2", Powertrain.ELECTRIC))
    assert "Sign 9 is 1" in told.vin_remarks[0]
    told = tell_intake(desk, TellIntake(job.id, "1" * 17, Powertrain.ELECTRIC))
    assert told.vin_remarks == ()
    assert store.events(f"vin/{'1' * 17}")
