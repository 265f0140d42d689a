"""The dials page of a spot weld: whole, in parts, and when there is no answer at once."""

from tests.api import steps


def set_up_of(client) -> str:
    joint = steps.describe_joint(client, steps.open_job(client)).removesuffix("/procedure")
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    return joint


def test_without_a_set_up_it_goes_to_the_gun(client):
    joint = steps.describe_joint(client, steps.open_job(client)).removesuffix("/procedure")
    answer = client.get(f"{joint}/set-up/try", follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].endswith("/machine")


def test_a_dial_turned_is_answered_in_parts(client):
    joint = set_up_of(client)
    whole = client.get(f"{joint}/set-up/try")
    assert whole.status_code == 200
    assert whole.text.count('type="range"') == 5
    asked = {"welding_current": "10.4", "weld_time": "400"}
    part = client.get(f"{joint}/set-up/try", params=asked, headers={"HX-Request": "true"})
    assert "<html" not in part.text
    assert "10.4 kA" in part.text
    assert "nugget expected" in part.text
    assert "Work these settings out" in part.text


def test_outside_its_ground_it_says_why(client):
    joint = set_up_of(client)
    found = client.get(f"{joint}/set-up/try", params={"weld_time": "1200", "electrode_force": "1"})
    assert found.status_code == 200
    assert "No answer at once" in found.text
