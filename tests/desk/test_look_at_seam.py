"""A look at a welded seam: kept with what it says of the inside, refused where it says nothing."""

import copy

import pytest

from buttonhole.cli.view_text import joint_lines
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.look_at_seam import LookAtSeam, look_at_seam, seam_of
from buttonhole.desk.look_inside_seam import look_inside_seam
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.verify_record import verify_record
from buttonhole.units import BadInput
from tests.desk.test_arc_joint import PLUG, SEAM

LOOKS = {"leg": (3.0e-3, 2e-3)}
SAID = {"leg": "3 mm +/- 2 mm"}


def described(desk, keys):
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5"))
    return describe_arc_joint(desk, DescribeArcJoint(job.id, "J3", keys))


def test_a_look_at_a_seam_is_kept_with_what_it_says(desk, store):
    joint = described(desk, SEAM)
    found = look_inside_seam(seam_of(joint), LOOKS, 20)
    assert found["sheets"], found["alarms"]
    joint = look_at_seam(desk, LookAtSeam(joint.id, joint.seen, LOOKS, SAID, found))
    (look,) = joint.arc.looks
    assert look.looked == SAID
    assert [one["name"] for one in look.answer["sheets"]] == ["lower", "upper"]
    assert "Seam looked at: leg 3 mm" in joint.history[-1].what
    depth = look.answer["sheets"][0]["penetration_mm"]
    assert f"melted {depth:.2f} mm deep, lower" in "\n".join(joint_lines(joint))
    assert verify_record(store).whole


@pytest.mark.parametrize(
    ("said", "key"), [({}, "looked"), ({"leg": "900 mm"}, "leg"), ({"head": "9 mm"}, "look")]
)
def test_a_look_at_nothing_or_of_no_mark_is_refused(desk, said, key):
    joint = described(desk, SEAM)
    looks = dict.fromkeys(said, (0.9, None))
    with pytest.raises(BadInput) as bad:
        look_at_seam(desk, LookAtSeam(joint.id, joint.seen, looks, said))
    assert bad.value.key == key


def test_a_plug_is_no_seam_and_a_braze_has_nothing_fused_inside(desk):
    brazed = copy.deepcopy(SEAM)
    brazed["set_up"] |= {"wire": "S Cu 6560", "gas": "I1"}
    for keys, told in ((PLUG, "no seam"), (brazed, "brazed")):
        with pytest.raises(BadInput, match=told):
            seam_of(described(desk, keys))


def test_aluminium_is_not_asked_for_zinc_it_has_not(desk):
    keys = copy.deepcopy(SEAM)
    keys["sheet"] = [{"alloy": "EN AW-6082", "thickness": "2 mm"}] * 2
    keys["set_up"] |= {"wire": "S Al 5356", "gas": "I1", "wire_diameter": "1.0 mm"}
    keys["set_up"] |= {"wire_feed_speed": "7 m/min", "travel_speed": "12 mm/s"}
    found = look_inside_seam(seam_of(described(desk, keys)), {}, 12)
    assert "zinc_strip" not in {one["look"] for one in found["next_looks"]}
    assert "leg" in {one["look"] for one in found["next_looks"]}
