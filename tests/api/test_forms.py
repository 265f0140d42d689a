"""Forms: what is typed wrong is marked and kept, and what is typed is never taken for markup."""

import re
from html.parser import HTMLParser

import pytest
from starlette.testclient import TestClient

from tests.api.steps import SHEETS, describe_joint, open_job, seen


class Checked(HTMLParser):
    """Finds script, inline style and event attributes, and ids used twice."""

    def __init__(self) -> None:
        super().__init__()
        self.wrong: list[str] = []
        self.ids: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if (tag == "script" and "src" not in given) or tag in ("style", "iframe", "object"):
            self.wrong.append(tag)
        self.wrong += [name for name in given if name.startswith("on") or name == "style"]
        self.ids += [value for name, value in attrs if name == "id" and value]


def test_what_is_typed_is_never_markup(client: TestClient) -> None:
    evil = '"><script>alert(1)</script><b onmouseover=alert(2)>{{7*7}}'
    job = open_job(
        client, title=evil[:100], vehicle=evil[:100], area="'" + evil[:90], person=evil[:55]
    )
    joint = describe_joint(client, job, name=evil[:100])
    for path in ("/", job, joint, f"{joint}/sheets", f"{joint}/procedure", f"{job}/safe"):
        text = client.get(path).text
        checked = Checked()
        checked.feed(text)
        assert checked.wrong == [], path
        assert "<script>alert" not in text
        body = text.split("</head>")[1]
        # ids, figures and times of day may hold the digits without having worked them out
        plain = re.sub(r"[0-9a-f-]{30,}|\d+\.\d+|\d\d:\d\d", "", body)[:2000]
        assert "49" not in plain


def test_no_page_uses_an_id_twice(client: TestClient) -> None:
    job = open_job(client)
    joint = describe_joint(client, job)
    for path in ("/", "/jobs/new", job, f"{job}/joints/new", joint, f"{joint}/machine"):
        checked = Checked()
        checked.feed(client.get(path).text)
        assert len(checked.ids) == len(set(checked.ids)), path


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"thickness-1": ""}, "thickness-1"),
        ({"thickness-1": "0"}, "thickness-1"),
        ({"thickness-2": "-1.2"}, "thickness-2"),
        ({"thickness-2": "12 kN"}, "thickness-2"),
        ({"steel-3": "unobtainium"}, "steel-3"),
        ({"coating-1": "gold"}, "coating-1"),
        ({"thickness-3": "", "thickness-4": "1.0", "coating-4": "GI"}, "thickness-4"),
        ({"gap": "9"}, "gap"),
        ({"name": " "}, "name"),
        ({"old_spots": "many"}, "old_spots"),
    ],
)
def test_a_fault_is_marked_at_its_field_and_what_was_typed_stays(
    client: TestClient, change: dict[str, str], key: str
) -> None:
    job = open_job(client)
    answer = client.post(f"{job}/joints/new", data={**SHEETS, **change})
    assert answer.status_code == 422
    assert f'href="#{key}"' in answer.text
    assert re.search(rf'id="{key}"[^>]*aria-invalid="true"', answer.text)
    assert 'value="1.2"' in answer.text or "thickness-2" in change
    assert "J1 sill flange" in answer.text or "name" in change


def test_an_unknown_steel_is_an_answer_and_makes_the_limit_stricter(client: TestClient) -> None:
    job = open_job(client)
    known = client.get(describe_joint(client, job)).text
    unknown = client.get(describe_joint(client, job, **{"steel-2": "unknown"})).text
    assert "4.5 × √t" in known
    assert "4.5 × √t" not in unknown


def test_nobody_saves_without_a_name(client: TestClient) -> None:
    answer = client.post("/jobs/new", data={"title": "HL-1", "vehicle": "Kestrel H5"})
    assert answer.status_code == 422
    assert "Who are you?" in answer.text


def test_the_second_to_save_gets_both_versions(client: TestClient) -> None:
    joint = describe_joint(client, open_job(client))
    before = seen(client, joint)
    change = {**SHEETS, "seen": before, "thickness-1": "0.75"}
    assert client.post(f"{joint}/sheets", data=change, follow_redirects=False).status_code == 303
    answer = client.post(f"{joint}/sheets", data={**SHEETS, "seen": before, "thickness-1": "0.8"})
    assert answer.status_code == 409
    assert "0.75 mm" in answer.text
    assert "0.8 mm" in answer.text
    again = re.search(r'name="seen" value="([^"]+)"', answer.text)
    assert again
    assert again[1] != before
    saved = {**SHEETS, "seen": again[1], "thickness-1": "0.8"}
    assert client.post(f"{joint}/sheets", data=saved, follow_redirects=False).status_code == 303


def test_a_form_without_what_was_seen_overwrites_nothing(client: TestClient) -> None:
    joint = describe_joint(client, open_job(client))
    answer = client.post(f"{joint}/sheets", data={**SHEETS, "thickness-1": "0.75"})
    assert answer.status_code == 409


def test_nothing_is_released_without_authority_set_up_and_coupon(client: TestClient) -> None:
    joint = describe_joint(client, open_job(client))
    data = {"seen": seen(client, joint), "hours": "4", "max_welds": "40"}
    answer = client.post(f"{joint}/release", data=data)
    assert answer.status_code == 422
    assert "No set-up is accepted yet" in answer.text
    assert client.post(f"{joint}/card.pdf").status_code == 422


def test_a_form_with_a_thousand_fields_is_refused(client: TestClient) -> None:
    data = {f"field-{number}": "x" for number in range(1000)}
    assert client.post("/jobs/new", data=data).status_code in (400, 422)


def test_a_file_is_no_answer(client: TestClient) -> None:
    answer = client.post("/jobs/new", files={"title": ("a.txt", b"x")})
    assert answer.status_code in (400, 422)


def test_the_light_stays_as_it_was_set(client: TestClient) -> None:
    assert 'data-theme="auto"' in client.get("/").text
    client.post("/theme", data={"theme": "dark", "then": "/record"})
    assert 'data-theme="dark"' in client.get("/").text
    answer = client.post("/theme", data={"theme": "x", "then": "//x"}, follow_redirects=False)
    assert answer.headers["location"] == "/"


def test_typed_values_are_answered_at_once(client: TestClient) -> None:
    joint = describe_joint(client, open_job(client))
    asked = {
        "welding_current": "9.1",
        "electrode_force": "3.8",
        "weld_time": "260",
        "squeeze_time": "340",
        "hold_time": "250",
        "electrode_face": "6",
        "current_type": "MFDC",
    }
    said = client.post(f"{joint}/set-up/quick", data=asked).text
    assert "Button, at once" in said
    assert said.count("<tr>") == 3  # the head and two interfaces
    far = client.post(f"{joint}/set-up/quick", data={**asked, "weld_time": "20"}).text
    assert "No quick answer here: the weld time is 20 ms" in far
    half = client.post(f"{joint}/set-up/quick", data={**asked, "weld_time": ""})
    assert half.status_code == 200
    assert "Button" not in half.text
