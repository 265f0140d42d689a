"""A set-up is proposed from physics, predicted, and written down with what it rests on."""

from dataclasses import replace

import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.desk import Conflict
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.predict_weld import PredictWeld, data_digest, predict_weld
from buttonhole.desk.propose_set_up import ProposeSetUp, propose_set_up
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.view import State
from buttonhole.desk.written import read
from buttonhole.joint.stack_up import StackUp
from buttonhole.procedure.machine import SpotMachine
from buttonhole.record.event import Event
from buttonhole.units import BadInput
from buttonhole.weld import spot
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp

GUN = SpotMachine(
    "Gun A", 4e3, 13e3, 1.5e3, 4.5e3, (CurrentType.MFDC,), (ElectrodeCap(face_diameter=6e-3),)
)


@pytest.fixture
def proposed(desk, cited):
    return propose_set_up(desk, ProposeSetUp(cited.id, cited.seen, GUN))


def written_event(store, kind) -> Event:
    (event,) = store.events_of_type(kind)
    return event


def test_a_proposal_is_kept_with_its_window_reasons_and_rule(proposed, store):
    assert proposed.state is State.SET_UP_PROPOSED
    proposal = proposed.proposal
    assert proposal.machine == "Gun A"
    assert proposal.criterion == find_criterion("4.5-root-t")
    assert proposal.reasons
    window = proposal.window
    assert window.nugget.shape == (1, len(window.times), len(window.currents))
    assert (window.nugget >= 0).all()
    # Read back from the record, not from memory.
    event = written_event(store, "set_up_proposed")
    assert read(SpotSetUp, event.payload["set_up"]) == proposal.set_up
    assert read(SpotMachine, event.payload["machine"]) == GUN
    assert event.payload["model_version"] == spot.MODEL_VERSION


def test_the_proposed_one_is_accepted_as_it_is_or_changed_and_then_ones_own(desk, proposed):
    same = accept_set_up(desk, AcceptSetUp(proposed.id, proposed.seen))
    assert same.set_up.set_up == proposed.proposal.set_up
    assert same.set_up.surroundings.machine == "Gun A"
    assert not same.set_up.own
    other = replace(proposed.proposal.set_up, hold_time=0.5)
    changed = accept_set_up(desk, AcceptSetUp(same.id, same.seen, other))
    assert changed.set_up.own


def test_the_search_says_how_far_it_is_and_stopping_it_writes_nothing(desk, cited, store):
    calls = []

    class Enough(Exception):
        pass

    def progress(done, of):
        calls.append((done, of))
        if done >= 2:
            raise Enough

    before = store.head()
    with pytest.raises(Enough):
        propose_set_up(desk, ProposeSetUp(cited.id, cited.seen, GUN), progress=progress)
    assert calls[0][0] == 1
    assert store.head() == before


def test_a_machine_that_cannot_is_told_and_nothing_written(desk, cited, store):
    weak = replace(GUN, name="Gun B", current_min=1e3, current_max=3e3)
    before = store.head()
    with pytest.raises(BadInput):
        propose_set_up(desk, ProposeSetUp(cited.id, cited.seen, weak))
    assert store.head() == before


def test_who_changed_the_joint_during_the_search_is_not_overwritten(desk, desk_of, cited, stack):
    def meanwhile(done, of):
        if done == 1:
            describe_joint(
                desk_of("Priya Sollavane"),
                DescribeJoint(cited.job_id, "J1 other", stack, joint_id=cited.id, seen=cited.seen),
            )

    with pytest.raises(Conflict) as conflict:
        propose_set_up(desk, ProposeSetUp(cited.id, cited.seen, GUN), progress=meanwhile)
    assert conflict.value.theirs[-1].values["name"] == "J1 other"
    assert read_joint(desk, cited.id).proposal is None


def test_a_prediction_is_written_with_what_makes_it_again(desk, joint, set_up, store):
    first = predict_weld(desk, PredictWeld(joint.id, set_up))
    event = written_event(store, "weld_predicted")
    stack = read(StackUp, event.payload["stack"])
    again = spot.predict(stack, read(SpotSetUp, event.payload["set_up"]))
    kept = first.joint.predictions[0]
    assert kept.interfaces[0].nugget_diameter[0] == again.interfaces[0].nugget_diameter.value
    assert kept.figures["heat"]["value"] == again.heat.value
    assert (kept.model_version, kept.data_digest) == (spot.MODEL_VERSION, data_digest())
    assert "solver_seconds" not in event.payload["prediction"]


def test_a_prediction_holds_nobody_up(desk, joint, set_up):
    after = predict_weld(desk, PredictWeld(joint.id, set_up)).joint
    assert after.seen == joint.seen
    assert after.history[-1].what.startswith("Weld predicted")


def test_there_is_nothing_to_predict_without_a_set_up(desk, joint):
    with pytest.raises(BadInput, match="have one proposed"):
        predict_weld(desk, PredictWeld(joint.id))
