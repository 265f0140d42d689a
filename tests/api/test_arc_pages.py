"""The pages of an arc joint as forms that are sent."""

import re
import time

from starlette.testclient import TestClient

from tests.api import steps

PLUG = {
    "name": "J2 wheel arch plugs",
    "thickness-1": "0,8",
    "metal-1": "DC04",
    "coating-1": "GI",
    "hole_diameter-1": "8",
    "thickness-2": "1.5",
    "metal-2": "DC04",
    "coating-2": "GI",
    "wire": "G 3Si1",
    "wire_diameter": "0.8",
    "gas": "M21",
    "wire_feed_speed": "6.4",
    "arc_voltage": "17.5",
    "contact_tube_distance": "13",
    "arc_time": "1.9",
    "torch_path": "spiral",
    "position": "PA",
}


def describe(client: TestClient, job: str, **more: str) -> str:
    answer = client.post(f"{job}/joints/new/plug", data={**PLUG, **more}, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def test_a_plug_goes_from_its_form_to_an_accepted_set_up(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    assert "What does the vehicle maker say?" in client.get(joint).text
    steps.cite_procedure(client, joint)
    assert "What is set on the machine?" in client.get(joint).text
    page = client.get(f"{joint}/arc").text
    assert "Use this set-up?" in page
    assert "90 %" in page
    assert "Zinc boils off" in page
    assert "extraction" in page
    data = {"seen": steps.seen(client, joint), "machine": "Feeder C", "outlet": "W3"}
    answer = client.post(f"{joint}/arc", data=data, follow_redirects=False)
    assert answer.status_code == 303
    page = client.get(joint).text
    assert "From the outside to the inside" in page
    for said in ("Set-up accepted: G 3Si1 0.8 mm, M21", "Weld predicted: G 3Si1 0.8 mm, M21"):
        assert said in page
    text = client.get(f"{joint}/weld.toml").text
    assert 'hole_diameter = "8 mm"' in text
    assert 'thickness = "0.8 mm"' in text


def test_a_machine_that_is_not_named_keeps_what_was_typed(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    data = {"seen": steps.seen(client, joint), "machine": "", "outlet": "W3"}
    answer = client.post(f"{joint}/arc", data=data)
    assert answer.status_code == 422
    assert 'value="W3"' in answer.text
    assert 'href="#machine"' in answer.text


def test_faults_of_a_form_stand_beside_their_fields_and_nothing_is_lost(client: TestClient) -> None:
    job = steps.open_job(client)
    data = {**PLUG, "arc_time": "long", "gas": "argon"}
    answer = client.post(f"{job}/joints/new/plug", data=data)
    assert answer.status_code == 422
    assert 'id="arc_time-fault"' in answer.text
    assert 'value="long"' in answer.text
    assert 'value="J2 wheel arch plugs"' in answer.text
    assert "J2 wheel arch" not in client.get(job).text


def test_two_people_at_one_plug_see_both_versions(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    seen = steps.seen(client, joint)
    first = {**PLUG, "seen": seen, "arc_time": "2.1"}
    assert client.post(f"{joint}/sheets", data=first, follow_redirects=False).status_code == 303
    second = {**PLUG, "seen": seen, "arc_time": "2.4"}
    answer = client.post(f"{joint}/sheets", data=second)
    assert answer.status_code == 409
    assert "2.1 s" in answer.text
    assert "2.4 s" in answer.text


def test_two_taps_keep_one_look(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    page = client.get(f"{joint}/arc/inside?zinc_ring=8,1&back_mark=bump").text
    assert "What is fused inside?" in page
    assert "Look at this next: " in page
    once = re.search(r'name="once" value="([^"]+)"', page)
    assert once
    data = {"seen": steps.seen(client, joint), "zinc_ring": "8,1", "back_mark": "bump"}
    data["once"] = once[1]
    for _ in range(2):
        answer = client.post(f"{joint}/arc/inside", data=data, follow_redirects=False)
        assert answer.status_code == 303
    assert client.get(joint).text.count("<td>Plug looked at: back bump, zinc ring 8.1 mm") == 1


def test_a_temperature_of_the_back_is_a_look_too(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    page = client.get(f"{joint}/arc/inside?back_peak=1400").text
    assert "What is fused inside?" in page
    assert "how hot the back becomes" not in page.lower().split("change what was seen")[0]


def test_what_no_weld_shows_is_an_alarm_and_no_figure(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    page = client.get(f"{joint}/arc/inside?zinc_ring=25").text
    assert "no weld with these settings shows that" in page
    assert "Chance it is wide enough" not in page


def test_dials_answer_with_and_without_script(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    whole = client.get(f"{joint}/arc/try?more=gap").text
    assert 'id="at-gap">0.1 mm<' in whole
    part = client.get(f"{joint}/arc/try?gap=1", headers={"HX-Request": "true"}).text
    assert "<html" not in part
    assert 'id="at-gap" hx-swap-oob="true">1 mm<' in part
    assert "Answered in" in part
    refused = client.get(f"{joint}/arc/try?arc_time=0.2&wire_feed_speed=14&hole_diameter=14")
    assert refused.status_code == 200


def test_one_change_at_a_time_is_worked_out_beside_the_page(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    answer = client.get(f"{joint}/arc/what-if", follow_redirects=False)
    assert answer.headers["location"].startswith("/search/")
    until = time.monotonic() + 60
    while client.get(answer.headers["location"], follow_redirects=False).status_code != 303:
        assert time.monotonic() < until
        time.sleep(0.2)
    page = client.get(f"{joint}/arc/what-if").text
    assert "Contact tube 5 mm farther" in page
    assert "▼" in page


def test_the_pages_of_spots_say_that_this_is_none(client: TestClient) -> None:
    joint = describe(client, steps.open_job(client))
    for path in ("set-up", "set-up/own", "machine", "coupon"):
        answer = client.get(f"{joint}/{path}", follow_redirects=False)
        assert answer.status_code in (303, 422), path


def test_every_cue_says_what_the_model_explains_and_what_the_trade_says(
    client: TestClient,
) -> None:
    listed = client.get("/cues").text
    for words in ("explained", "in part", "not explained", "common practice"):
        assert words in listed
    for key in re.findall(r'href="/cues/([a-z-]+)"', listed):
        if key in ("travel-angle", "pores", "position"):
            page = client.get(f"/cues/{key}").text
            assert "The model does not explain this" in page
            assert "There is nothing to show" in page
    assert client.get("/cues/no-such").status_code == 404


def test_a_cue_shows_both_welds_with_their_sizes(client: TestClient) -> None:
    place = client.get("/cues/path", follow_redirects=False).headers["location"]
    until = time.monotonic() + 60
    while client.get(place, follow_redirects=False).status_code != 303:
        assert time.monotonic() < until
        time.sleep(0.2)
    page = client.get("/cues/path").text
    assert "Good: from the middle out to the rim" in page
    assert "Bad: along the rim only" in page
    assert "as the trade says" in page
    assert page.count("section-picture") >= 2
    assert page.count("back-picture") >= 2
