"""The bay by touch alone: labels, welding on the vehicle, fire watch, training; no script."""

import json
import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, Page, expect
from starlette.testclient import TestClient

from buttonhole.web.app import create_app
from buttonhole.web.settings import WebSettings
from tests.api import steps
from tests.api.test_training import NAMES, filled, opened
from tests.browser.conftest import RunningServer
from tests.browser.test_access import violations_of

pytestmark = pytest.mark.browser
HOST = "http://127.0.0.1:8047"


def released(client: TestClient, job: str, old_spots: str) -> str:
    joint = steps.describe_joint(client, job, old_spots=old_spots)
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    steps.tear_coupon(client, joint, steps.weld_coupon(client, joint), "5.6")
    steps.release(client, joint)
    return joint


@pytest.fixture(scope="module")
def bay(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[RunningServer, list[str]]]:
    path = tmp_path_factory.mktemp("bay") / "record.db"
    with TestClient(
        create_app(WebSettings(str(path))), base_url=HOST, headers={"Origin": HOST}
    ) as client:
        job = steps.open_job(client, vin="1" * 16 + "2", powertrain="hybrid", earlier_repair="yes")
        half, done = released(client, job, "14"), released(client, job, "2")
        bare = steps.describe_joint(client, job)
        data = {"occasion": "new", "spares": "1", "pitch": "30"}
        plan = client.post(f"{half}/plan", data=data, follow_redirects=False).headers["location"]
        for number in (1, 2, 4):
            client.post(f"{half}/weld", data={"number": number})
        client.post(f"{half}/weld/4/undo", data={"reason": "Tapped by mistake."})
        for number in (1, 2, 3):
            client.post(f"{done}/weld", data={"number": number})
        client.post(f"{bare}/weld", data={"number": 1, "note": "No release."})
        client.post(f"{job}/safe", data={"gate": "battery", "wait": "30"})
        client.post(f"{job}/safe", data={"gate": "implants", "answer": "not_cleared"})
        session = opened(client)
        page = client.get(f"{session}/entry").text
        client.post(f"{session}/entry", data={**filled(page), "trainee": NAMES[0]})
        code = re.findall(r'name="first-([A-Z0-9]{6})"', page)[0]
    pages = [
        "/",
        job,
        f"{job}/safe",
        f"{job}/intake",
        f"{job}/fire",
        "/jobs/new",
        "/l",
        "/l/AAAAAA",
    ]
    pages += [f"{half}/weld", f"{half}/weld/1", f"{half}/weld/4", f"{half}/plan", plan]
    pages += [f"{done}/weld", f"{done}/check", f"{done}/close", f"{bare}/weld", f"{half}/coupon"]
    pages += ["/cues", "/cues/tip", "/cues/force", "/cues/squeeze-and-hold", "/training"]
    pages += ["/training/new", session, f"{session}/entry", f"{session}/{code}"]
    server = RunningServer(path)
    yield server, pages
    server.stop()


@pytest.mark.parametrize(
    ("theme", "width", "language"),
    [
        ("sun", 390, "de"),
        ("dark", 1280, "en"),
        pytest.param("sun", 800, "en", marks=pytest.mark.slow),
        pytest.param("dark", 390, "en", marks=pytest.mark.slow),
        pytest.param("sun", 1280, "de", marks=pytest.mark.slow),
    ],
)
def test_axe_finds_nothing_in_the_bay(
    browser: Browser,
    bay: tuple[RunningServer, list[str]],
    theme: str,
    width: int,
    language: str,
) -> None:
    server, pages = bay
    context = browser.new_context(base_url=server.address, viewport={"width": width, "height": 844})
    chosen = {"theme": theme, "language": language}
    context.add_cookies(
        [{"name": key, "value": value, "url": server.address} for key, value in chosen.items()]
    )
    found = violations_of(context.new_page(), pages)
    context.close()
    assert found == {}, json.dumps(found, indent=1)


def test_targets_are_large_enough_for_a_glove(
    browser: Browser, bay: tuple[RunningServer, list[str]]
) -> None:
    server, pages = bay
    context = browser.new_context(base_url=server.address, viewport={"width": 800, "height": 1280})
    context.add_cookies([{"name": "person", "value": "Tomas", "url": server.address}])
    page = context.new_page()
    small = []
    for address in pages:
        page.goto(address)
        for one in page.locator("main button:visible, main .go:visible, main .spot-link").all():
            box = one.bounding_box()
            if box and min(box["width"], box["height"]) < 75.5:  # 20 mm at 96 to the inch
                small.append((address, one.inner_text(), box["width"], box["height"]))
    context.close()
    assert small == []


def test_a_joint_is_welded_by_one_tap_a_weld_without_scripts(
    window: Callable[..., Page], server: RunningServer
) -> None:
    with TestClient(
        create_app(WebSettings(str(server.store))), base_url=HOST, headers={"Origin": HOST}
    ) as client:
        joint = released(client, steps.open_job(client), "2")
    page = window(java_script_enabled=False, viewport={"width": 800, "height": 1280})
    page.goto(joint)
    page.get_by_role("link", name="Weld on the vehicle").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Weld 1 of 3")
    page.get_by_label("Your name").first.fill("Tomas Veld")
    page.get_by_role("button", name="Weld 1 is made").click()
    page.get_by_role("button", name="Weld 2 is made").click()
    page.get_by_role("button", name="Undo: weld 2 was not made").click()
    page.get_by_role("button", name="3 is made", exact=True).click()  # out of order, on the map
    page.get_by_role("button", name="Weld 2 is made").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Fire watch: stay")
    page.go_back()
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_contain_text("All 3 welds are made")


def test_a_tablet_that_slept_goes_on(window: Callable[..., Page], server: RunningServer) -> None:
    """Its page is of before; the other tablet went on; nothing is lost, nothing doubled."""
    with TestClient(
        create_app(WebSettings(str(server.store))), base_url=HOST, headers={"Origin": HOST}
    ) as client:
        joint = released(client, steps.open_job(client), "2")
    asleep, awake = window(), window()
    for page, name in ((asleep, "Tomas Veld"), (awake, "Priya Marr")):
        page.goto(f"/person?then={joint}/weld")
        page.get_by_label(re.compile("name")).first.fill(name)
        page.locator("main button").first.click()
        page.goto(f"{joint}/weld")
    awake.get_by_role("button", name="Weld 1 is made").click()
    asleep.get_by_role("button", name="Weld 1 is made").click()
    expect(asleep.get_by_role("heading", level=1)).to_have_text("Weld 1 is ticked already")
    asleep.get_by_role("button", name="Mine was another: it is weld 2").click()
    expect(asleep.get_by_role("heading", level=1)).to_have_text("Weld 3 of 3")
    awake.reload()
    expect(awake.get_by_role("heading", level=1)).to_have_text("Weld 3 of 3")
