"""No page asks another host for anything; a killed server comes back at the same step."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

from starlette.testclient import TestClient

import buttonhole.web
from tests.api import steps
from tests.api.test_labels import planned
from tests.api.test_training import filled, opened

FOLDER = Path(buttonhole.web.__file__).parent
FETCHED = re.compile(r"""(?:src|href|action|data|poster|hx-get|hx-post)\s*=\s*["']([^"']+)""")
NAMES_OF_SPACES = {"http://www.w3.org/2000/svg"}  # names, nobody fetches them


def test_no_page_style_or_script_of_ours_names_another_host() -> None:
    found = []
    for file in (*FOLDER.rglob("*.html"), *FOLDER.rglob("static/*")):
        if file.is_dir():
            continue
        text = file.read_text(encoding="utf-8")
        addresses = set(re.findall(r"(?:https?:)?//[a-z0-9.-]+\.[a-z]{2,}[^\s\"'<)]*", text))
        found += [(file.name, one) for one in addresses - NAMES_OF_SPACES]
        found += [(file.name, "@import") for _ in re.findall(r"@import", text)]
    assert found == []


def test_every_address_on_the_pages_of_the_bay_is_of_this_server(client: TestClient) -> None:
    joint, there, codes = planned(client)
    session = opened(client)
    pages = ["/", "/jobs/new", "/l", joint, f"{joint}/plan", there, f"{joint}/weld", "/training"]
    pages += [f"{joint}/check", f"{joint}/close", session, f"{session}/entry", "/cues", "/cues/tip"]
    pages += [f"/l/{codes[0]}"]
    for page in pages:
        answer = client.get(page)
        assert answer.status_code == 200, page
        for address in FETCHED.findall(answer.text):
            assert address.startswith(("/", "#")), (page, address)
            assert not address.startswith("//"), (page, address)
        assert "default-src 'self'" in answer.headers["content-security-policy"]


class Killable:
    """The server as a process of its own, which is killed without a word."""

    def __init__(self, record: Path) -> None:
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.record = record
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        words = ["serve", "--port", str(self.port), "--record", str(self.record)]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "buttonhole", *words],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                self.get("/l")
            except OSError:
                time.sleep(0.1)
            else:
                return
        raise RuntimeError("the server did not start")

    def kill(self) -> None:
        assert self.process is not None
        os.kill(self.process.pid, signal.SIGKILL)
        self.process.wait(20)

    def get(self, path: str) -> str:
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}", timeout=20) as answer:
            return str(answer.read().decode())


def heading(page: str) -> str:
    found = re.search(r"(?s)<h1[^>]*>(.*?)</h1>", page)
    assert found
    return " ".join(re.sub(r"<[^>]+>", " ", found[1]).split())


def test_a_server_that_is_killed_comes_back_at_the_same_step(
    client: TestClient, tmp_path: Path
) -> None:
    joint, there, codes = planned(client)
    coupon = steps.weld_coupon(client, joint, label=codes[0])
    asked = f"{coupon}/tear?splash=no&test-0=peel"
    steps.weld_coupon(client, joint)
    client.post(f"{joint}/weld", data={"number": "1", "note": "before"})
    session = opened(client)
    page = client.get(f"{session}/entry").text
    client.post(f"{session}/entry", data={**filled(page), "trainee": "Trainee A"})
    job = re.search(r'href="(/jobs/[^"/]+)"', client.get(joint).text)
    assert job
    pages = [joint, there, asked, f"{joint}/weld", f"{job[1]}/fire", session, f"/l/{codes[0]}"]
    server = Killable(tmp_path / "record.db")
    server.start()
    try:
        before = [heading(server.get(one)) for one in pages]
        assert "8 of 64 pieces are typed" in before
        assert "Fire watch: stay" in before
        server.kill()
        server.start()
        assert [heading(server.get(one)) for one in pages] == before
    finally:
        server.kill()


def test_a_page_that_slept_shows_both_versions_and_keeps_what_was_typed(
    client: TestClient,
) -> None:
    joint = steps.describe_joint(client, steps.open_job(client), old_spots="14")
    stale = steps.seen(client, joint)
    steps.cite_procedure(client, joint)  # somebody else went on meanwhile
    data = {**steps.SHEETS, "old_spots": "15", "note": "counted twice", "seen": stale}
    answer = client.post(f"{joint}/sheets", data=data)
    assert answer.status_code == 409
    assert "counted twice" in answer.text
    fresh = re.search(r'name="seen" value="([^"]+)"', answer.text)
    assert fresh
    assert fresh[1] != stale
    data["seen"] = fresh[1]
    assert client.post(f"{joint}/sheets", data=data, follow_redirects=False).status_code == 303
    assert "counted from 15 old ones" in client.get(joint).text


def test_a_plan_of_welds_from_a_page_that_slept_is_not_lost(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    stale = steps.seen(client, joint)
    steps.cite_procedure(client, joint)
    answer = client.post(f"{joint}/weld/plan", data={"seen": stale, "count": "21"})
    assert answer.status_code == 409
    fresh = re.search(r'name="seen" value="([^"]+)"', answer.text)
    assert fresh
    assert 'name="count" value="21"' in answer.text
    data = {"seen": fresh[1], "count": "21"}
    assert client.post(f"{joint}/weld/plan", data=data, follow_redirects=False).status_code == 303
