"""Pages in the reader's language and units."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from jinja2 import Environment
from starlette.testclient import TestClient

from buttonhole.language import Display
from buttonhole.language.display import INCH, SI, displayed
from buttonhole.web.app import create_app
from buttonhole.web.fields import Answers, take_shown_units
from buttonhole.web.saying import own, say_text, shown_field
from buttonhole.web.settings import WebSettings
from buttonhole.web.template_text import SAY, TemplateText

HOME = "http://127.0.0.1:8047"


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    app = create_app(WebSettings(str(tmp_path / "record.db")))
    with TestClient(app, base_url=HOME, headers={"Origin": HOME}) as opened:
        yield opened


def heard(source: str, **values: object) -> tuple[list[str], str]:
    """The messages of a template, and what it makes."""
    messages: list[str] = []

    def say(message: str, /, **holes: object) -> str:
        messages.append(message)
        return message.format(**holes)

    env = Environment(extensions=[TemplateText])  # noqa: S701 - made-up templates, no page
    env.globals[SAY] = say
    return messages, env.from_string(source).render(**values)


def test_every_run_of_text_is_a_message_with_its_values_as_holes() -> None:
    messages, page = heard(
        '<p class="{{ tone }}">Released by <b>{{ by }}</b>, {{ at | upper }}.</p><h1>Now</h1>',
        tone="yes",
        by="Ann",
        at="noon",
    )
    assert messages == ["Released by <b>{by}</b>, {at}.", "Now"]
    assert page == '<p class="yes">Released by <b>Ann</b>, NOON.</p><h1>Now</h1>'


def test_attributes_that_people_read_are_said_and_others_left_alone() -> None:
    messages, page = heard(
        '<a href="/x?{{ q }}" aria-label="Go to {{ q }}" value="Go">Go</a>', q="y"
    )
    assert messages == ["Go to {q}", "Go"]
    assert page == '<a href="/x?y" aria-label="Go to y" value="Go">Go</a>'


def test_tags_that_a_condition_opens_stay_in_their_place() -> None:
    source = "<p>{% if a %}<b>One{% endif %} two{% if a %}</b>{% endif %}</p>"
    assert heard(source, a=True)[1] == "<p><b>One two</b></p>"
    assert heard(source, a=False)[1] == "<p> two</p>"


def test_what_people_typed_is_neither_translated_nor_believed_to_be_markup() -> None:
    with displayed(Display("de", INCH)):
        assert say_text("{name}", name=own("Released <b> 5 mm")) == "Released &lt;b&gt; 5 mm"
        assert say_text("Coupon {number}", number=3) == "Probe 3"
        assert say_text("{x} of {y}", x="\ue001", y="\ue000 5") == "\ue001 of \ue000 5"
        assert "<script>" not in say_text("{x}", x="<script>4 mm</script>")


def test_a_field_in_inches_takes_an_untouched_figure_back_to_the_last_digit() -> None:
    with displayed(Display("en", INCH)):
        field = shown_field("gap", "0.37", "mm")
    assert (field.value, field.unit) == ("0.01457", "in")
    for given, metres in ((field.value, 0.37e-3), ("0.02", 0.02 * 0.0254), ("0.5 mm", 0.5e-3)):
        typed = {"gap": given, field.name: field.sent}
        take_shown_units(typed)
        answers = Answers(typed)
        assert answers.quantity("gap", "length", "mm") == pytest.approx(metres, rel=1e-14)
        assert answers.faults == {}


def test_a_field_in_its_own_unit_sends_nothing_along() -> None:
    with displayed(Display("de", SI)):
        field = shown_field("gap", "0.37", "mm")
    assert (field.value, field.unit, field.sent) == ("0,37", "mm", "")


def test_the_switch_keeps_language_and_units_and_leads_back(client: TestClient) -> None:
    assert '<html lang="en"' in client.get("/").text
    answer = client.post(
        "/display", data={"language": "de", "then": "/jobs/new"}, follow_redirects=False
    )
    assert answer.headers["location"] == "/jobs/new"
    assert all("samesite=strict" in one.lower() for one in answer.headers.get_list("set-cookie"))
    page = client.get("/jobs/new").text
    assert '<html lang="de"' in page
    assert "Welches Fahrzeug?" in page
    client.post("/display", data={"set": "inch", "then": "//elsewhere"})
    assert "cycles at 60 Hz" in client.get("/display").text
    assert re.search(r'<option value="in" selected>', client.get("/display").text)
    client.post("/display", data={"force": "daN"})
    page = client.get("/display").text
    assert '<option value="daN" selected>' in page
    assert '<option value="in" selected>' in page


def test_the_browsers_language_is_the_first_guess(client: TestClient) -> None:
    page = client.get("/", headers={"Accept-Language": "de-AT, en;q=0.5"})
    assert page.headers["content-language"] == "de"
    assert "Neuer Auftrag" in page.text
    assert (
        "Diese Seite gibt es nicht."
        in client.get("/nowhere", headers={"Accept-Language": "de"}).text
    )


def test_what_is_no_choice_of_ours_changes_nothing(client: TestClient) -> None:
    client.post("/display", data={"language": "xx", "length": "furlong", "then": "javascript:x"})
    assert '<html lang="en"' in client.get("/").text
    for cookie in ("zz", "9" * 8, "0" * 400):
        assert (
            client.get("/", headers={"Cookie": f"units={cookie}; language={cookie}"}).status_code
            == 200
        )
