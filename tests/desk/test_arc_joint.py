"""Joints that are welded by an arc: described, set, looked at; nothing is overwritten."""

import copy
import itertools

import numpy as np
import pytest

from buttonhole.desk import Conflict
from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.look_at_plug import LookAtPlug, look_at_plug
from buttonhole.desk.look_inside import Looked
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.predict_arc_weld import PredictArcWeld, predict_arc_weld
from buttonhole.desk.propose_arc_set_up import proposed_table
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.view import State
from buttonhole.desk.weld_file import arc_weld_file_from, arc_weld_file_text, read_any_weld_file
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug import MODEL_VERSION

SET_UP = {
    "wire": "G 3Si1",
    "wire_diameter": "0.8 mm",
    "gas": "M21",
    "wire_feed_speed": "6.4 m/min",
    "arc_voltage": "17.5 V",
    "contact_tube_distance": "13 mm",
    "arc_time": "1.9 s",
    "torch_path": "spiral",
}
PLUG = {
    "process": "plug",
    "sheet": [
        {"steel": "DC04", "thickness": "0.8 mm", "coating": "GI", "hole_diameter": "8 mm"},
        {"steel": "DC04", "thickness": "1.5 mm", "coating": "GI"},
    ],
    "set_up": SET_UP,
}
SEAM = {
    "process": "seam",
    "joint": "lap",
    "length": "40 mm",
    "sheet": [{"steel": "DC04", "thickness": "1 mm", "coating": "bare"}] * 2,
    "set_up": {
        **{key: value for key, value in SET_UP.items() if key not in ("arc_time", "torch_path")},
        "travel_speed": "8 mm/s",
        "work_angle": "45 deg",
    },
}


@pytest.fixture
def plug(desk):
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5"))
    return describe_arc_joint(desk, DescribeArcJoint(job.id, "J2", PLUG, "wheel arch", 9))


def changed(**table):
    keys = copy.deepcopy(PLUG)
    keys["set_up"] |= table
    return keys


def test_a_plug_is_described_and_found_again(desk, store, plug):
    assert plug.arc.keys == PLUG
    assert (plug.arc.kind, plug.state, plug.old_spots) == (ArcKind.PLUG, State.IDENTIFIED, 9)
    assert plug.arc.weld == arc_weld_file_from(PLUG)
    assert read_joint(desk, plug.id) == plug
    assert "0.8 mm DC04 GI / 1.5 mm DC04 GI" in plug.history[0].what
    assert verify_record(store).whole


@pytest.mark.parametrize(
    ("keys", "kind"),
    [
        (PLUG, ArcKind.PLUG),
        (SEAM, ArcKind.SEAM),
        ({**SEAM, "set_up": {**SEAM["set_up"], "wire": "S Cu 6560", "gas": "I1"}}, ArcKind.BRAZE),
        (
            {
                **SEAM,
                "sheet": [{"alloy": "EN AW-6082", "thickness": "2 mm"}] * 2,
                "set_up": {**SEAM["set_up"], "wire": "S Al 5356", "gas": "I1"},
            },
            ArcKind.ALUMINIUM,
        ),
    ],
)
def test_each_kind_of_weld_is_told_by_its_wire(desk, keys, kind):
    job = open_job(desk, OpenJob("x", "y"))
    joint = describe_arc_joint(desk, DescribeArcJoint(job.id, "J", keys))
    assert joint.arc.kind is kind


@pytest.mark.parametrize(
    ("keys", "key"),
    [
        (changed(gas="I1"), "set_up gas"),
        (changed(wire="S Al 5356", gas="I1"), "set_up wire"),
        (changed(arc_time="30 ms"), "set_up arc_time"),
        ({**PLUG, "sheet": PLUG["sheet"][:1]}, "sheet"),
    ],
)
def test_what_is_no_weld_is_refused_and_nothing_written(desk, store, keys, key):
    job = open_job(desk, OpenJob("x", "y"))
    before = store.events()
    with pytest.raises(BadInput) as bad:
        describe_arc_joint(desk, DescribeArcJoint(job.id, "J", keys))
    assert bad.value.key == key
    assert store.events() == before


def test_two_people_at_one_plug_see_both_versions(desk_of, plug):
    first, second = desk_of("Ines"), desk_of("Joan")
    first_keys, second_keys = changed(arc_time="2 s"), changed(arc_time="2.2 s")
    command = DescribeArcJoint(plug.job_id, "J2", first_keys, joint_id=plug.id, seen=plug.seen)
    describe_arc_joint(first, command)
    other = DescribeArcJoint(plug.job_id, "J2", second_keys, joint_id=plug.id, seen=plug.seen)
    with pytest.raises(Conflict) as conflict:
        describe_arc_joint(second, other)
    assert conflict.value.mine[0].values["weld"]["set_up"]["arc_time"] == "2.2 s"
    assert conflict.value.theirs[0].values["weld"]["set_up"]["arc_time"] == "2 s"


def test_an_accepted_set_up_is_the_chosen_one_until_the_joint_changes(desk, plug):
    table = changed(arc_time="2.4 s")["set_up"]
    joint = accept_arc_set_up(
        desk, AcceptArcSetUp(plug.id, plug.seen, table, "Feeder C", outlet="W3")
    )
    assert joint.state is State.SET_UP_ACCEPTED
    assert joint.arc.chosen["set_up"]["arc_time"] == "2.4 s"
    assert joint.arc.keys == PLUG
    assert joint.arc.set_up.own
    assert joint.arc.set_up.surroundings.position == "PA"
    gap = {**PLUG, "gap": "0.5 mm"}
    command = DescribeArcJoint(plug.job_id, "J2", gap, joint_id=plug.id, seen=joint.seen)
    joint = describe_arc_joint(desk, command)
    assert joint.arc.set_up is None
    assert joint.state is State.IDENTIFIED


def test_the_same_description_again_keeps_the_set_up(desk, plug):
    joint = accept_arc_set_up(desk, AcceptArcSetUp(plug.id, plug.seen, None, "Feeder C"))
    command = DescribeArcJoint(plug.job_id, "J2 again", PLUG, joint_id=plug.id, seen=joint.seen)
    joint = describe_arc_joint(desk, command)
    assert joint.name == "J2 again"
    assert joint.arc.set_up is not None


def test_a_machine_is_needed_and_metals_that_do_not_join_are_refused(desk, plug):
    with pytest.raises(BadInput) as bad:
        accept_arc_set_up(desk, AcceptArcSetUp(plug.id, plug.seen, None))
    assert bad.value.key == "machine"
    table = changed(gas="argon")["set_up"]
    with pytest.raises(BadInput) as bad:
        accept_arc_set_up(desk, AcceptArcSetUp(plug.id, plug.seen, table, "Feeder C"))
    assert bad.value.key == "set_up gas"


def test_steps_of_a_spot_weld_are_refused_in_words_at_a_plug(desk, plug, set_up):
    with pytest.raises(BadInput, match="welded by an arc"):
        _ = plug.stack
    with pytest.raises(BadInput) as bad:
        accept_arc_set_up(desk, AcceptArcSetUp(spot_joint(desk).id, None, None, "Gun A"))
    assert "spot welded" in bad.value.message


def spot_joint(desk):
    job = open_job(desk, OpenJob("Right sill", "Orvanel H5"))
    sheet = Sheet(find_steel("DC04"), 0.8e-3)
    return describe_joint(desk, DescribeJoint(job.id, "J9", StackUp((sheet, sheet))))


def test_a_spot_joint_that_becomes_a_plug_loses_what_was_for_spots(desk, accepted):
    command = DescribeArcJoint(
        accepted.job_id, "J1", PLUG, joint_id=accepted.id, seen=accepted.seen
    )
    joint = describe_arc_joint(desk, command)
    assert joint.spot_stack is None
    assert joint.set_up is None
    assert joint.procedure is not None
    assert joint.state is State.METHOD_DECIDED
    back = DescribeJoint(
        accepted.job_id, "J1", accepted.stack, joint_id=accepted.id, seen=joint.seen
    )
    joint = describe_joint(desk, back)
    assert joint.arc is None
    assert joint.stack == accepted.stack


def test_what_was_accepted_by_mistake_is_taken_back(desk, plug):
    joint = accept_arc_set_up(desk, AcceptArcSetUp(plug.id, plug.seen, None, "Feeder C"))
    entry = joint.arc.set_up.event_id
    job = correct_entry(desk, CorrectEntry(entry, "Wrong machine.", joint.seen))
    assert job.joint(plug.id).arc.set_up is None


def test_a_prediction_is_written_down_with_what_went_in(desk, plug):
    joint = predict_arc_weld(desk, PredictArcWeld(plug.id))
    (one,) = joint.arc.predictions
    assert one.keys == PLUG
    assert one.answer["model_version"] == MODEL_VERSION
    assert "solver_seconds" not in one.answer
    assert one.answer["interfaces"][0]["fused_interval_mm"][0] >= 0.0
    assert joint.seen == plug.seen  # nobody's work is held up by it


def test_a_look_is_kept_with_what_it_says(desk, plug):
    looked = Looked({"zinc_ring": (8.1e-3, None)}, "bump")
    said = {"zinc_ring": "8.1 mm", "back": "bump"}
    joint = look_at_plug(desk, LookAtPlug(plug.id, plug.seen, looked, said))
    (look,) = joint.arc.looks
    assert look.looked == said
    inside = look.answer["interfaces"][0]
    low, high = inside["fused_interval_mm"]
    assert low < inside["fused_diameter_mm"] < high
    assert look.answer["doubt_now_mm"] < look.answer["doubt_before_mm"]
    assert "zinc ring 8.1 mm" in joint.history[-1].what
    with pytest.raises(BadInput) as bad:
        look_at_plug(desk, LookAtPlug(plug.id, joint.seen, looked, {}))
    assert bad.value.key == "looked"


def test_how_surely_it_is_fused_falls_outwards_and_agrees_with_the_interval(desk, plug):
    looked = Looked({"zinc_ring": (8.1e-3, None)})
    joint = look_at_plug(desk, LookAtPlug(plug.id, plug.seen, looked, {"zinc_ring": "8.1 mm"}))
    one = joint.arc.looks[0].answer["interfaces"][0]
    out_to = one["fused_out_to"]
    for shares in (out_to["before"], out_to["now"]):
        assert all(a >= b for a, b in itertools.pairwise(shares))
        assert 0.0 <= min(shares) <= max(shares) <= 1.0
    low, high = one["fused_interval_mm"]
    at = np.interp([low, high], out_to["diameter_mm"], out_to["now"])
    assert at[0] == pytest.approx(0.95, abs=0.02)
    assert at[1] == pytest.approx(0.05, abs=0.02)


def test_a_seam_is_not_read_from_outside(desk):
    job = open_job(desk, OpenJob("x", "y"))
    joint = describe_arc_joint(desk, DescribeArcJoint(job.id, "J3", SEAM))
    with pytest.raises(BadInput, match="no plug"):
        look_at_plug(desk, LookAtPlug(joint.id, joint.seen, Looked({}), {"back": "bump"}))


def test_a_proposal_keeps_wire_and_torch_and_sets_the_rest():
    answer = {
        "wire_feed_speed_m_per_min": 7.1234,
        "arc_voltage_V": 18.05,
        "arc_time_s": None,
        "travel_speed_mm_per_s": 9.87654,
    }
    timed = {**SEAM["set_up"], "arc_time": "5 s"}
    del timed["travel_speed"]
    table = proposed_table(timed, answer)
    assert table["wire_feed_speed"] == "7.12 m/min"
    assert table["arc_voltage"] == "18.1 V"
    assert table["travel_speed"] == "9.88 mm/s"
    assert "arc_time" not in table
    assert table["wire"] == "G 3Si1"
    arc_weld_file_from({**SEAM, "set_up": table})


@pytest.mark.parametrize(
    "keys", [PLUG, SEAM, {**PLUG, "coupon": {"width": "70 mm", "length": "70 mm"}}]
)
def test_the_weld_file_of_an_arc_joint_reads_back_the_same(tmp_path, keys):
    path = tmp_path / "weld.toml"
    path.write_text(arc_weld_file_text(keys), encoding="utf-8")
    assert read_any_weld_file(path) == arc_weld_file_from(keys)


def test_a_job_shows_both_kinds_of_joints(desk, plug):
    command = AcceptSetUp(plug.id, plug.seen, None)
    with pytest.raises(BadInput):
        accept_set_up(desk, command)
    assert [one.name for one in read_job(desk, plug.job_id).joints] == ["J2"]
