import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from buttonhole.web.app import create_app
from buttonhole.web.settings import WebSettings

HOME = "http://127.0.0.1:"
CHROMIUM = "/usr/bin/chromium"
SWITCHES = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


class RunningServer:
    """Our server over one record, on a port of its own."""

    def __init__(self, store: Path) -> None:
        self.store = store
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        self.address = f"{HOME}{port}"
        app = create_app(WebSettings(str(store)))
        config = uvicorn.Config(app, host="127.0.0.1", port=port, log_level="warning")
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, daemon=True)
        self._thread.start()
        until = time.monotonic() + 30
        while not self._server.started:
            if time.monotonic() > until or not self._thread.is_alive():
                raise RuntimeError("the server did not start")
            time.sleep(0.02)

    def stop(self) -> None:
        self._server.should_exit = True
        self._thread.join(20)


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Callable[[], RunningServer]]:
    """Start a server; started again it serves the same record."""
    running: list[RunningServer] = []

    def begin() -> RunningServer:
        running.append(RunningServer(tmp_path / "record.db"))
        return running[-1]

    yield begin
    for server in running:
        server.stop()


@pytest.fixture
def server(start: Callable[[], RunningServer]) -> RunningServer:
    return start()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=SWITCHES)
        yield opened
        opened.close()


class Watch:
    """What a browser complained of, and where its requests went."""

    def __init__(self, context: BrowserContext) -> None:
        self.complaints: list[str] = []
        self.requests: list[str] = []
        context.on("request", lambda request: self.requests.append(request.url))
        context.on("console", lambda message: self._note(message.type, message.text))
        context.on("weberror", lambda error: self.complaints.append(str(error.error)))

    def _note(self, kind: str, text: str) -> None:
        # the browser reports every answer of 4xx as an error; the tests ask for those on purpose
        if kind in ("error", "warning") and "Failed to load resource" not in text:
            self.complaints.append(text)


@pytest.fixture
def window(browser: Browser, server: RunningServer) -> Iterator[Callable[..., Page]]:
    """Open a browser of its own: other cookies, other person."""
    contexts: list[BrowserContext] = []
    watches: list[Watch] = []

    def opened(**options: object) -> Page:
        settings = {"viewport": {"width": 1280, "height": 800}, **options}
        context = browser.new_context(base_url=server.address, **settings)  # type: ignore[arg-type] # passed on
        context.set_default_timeout(20_000)
        contexts.append(context)
        watches.append(Watch(context))
        return context.new_page()

    yield opened
    for context in contexts:
        context.close()
    for watch in watches:
        assert watch.complaints == []
        assert [url for url in watch.requests if not url.startswith(HOME)] == []
