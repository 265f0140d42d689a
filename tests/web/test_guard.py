import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from starlette.testclient import TestClient

from buttonhole.web.guard import BODY_LIMIT, HEADERS, Guard

HOME = "http://127.0.0.1:8047"


async def _echo(request: Request) -> PlainTextResponse:
    return PlainTextResponse(str(len(await request.body())))


@pytest.fixture
def client() -> TestClient:
    app = Starlette(
        routes=[Route("/", _echo, methods=["GET", "POST"])],
        middleware=[Middleware(Guard, hosts=("bay-pc",))],
    )
    return TestClient(app, base_url=HOME)


def test_every_answer_carries_the_headers(client: TestClient) -> None:
    for answer in (client.get("/"), client.get("/nowhere"), client.post("/", content=b"x")):
        for name, value in HEADERS.items():
            assert answer.headers[name] == value


def test_the_policy_allows_nothing_inline_and_nothing_from_elsewhere() -> None:
    policy = HEADERS["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec-Fetch-Site": "same-origin"},
        {"Sec-Fetch-Site": "none"},
        {"Origin": HOME},
        {"Content-Type": "application/json"},
    ],
)
def test_our_own_pages_and_programs_may_write(client: TestClient, headers: dict[str, str]) -> None:
    assert client.post("/", content=b"abc", headers=headers).text == "3"


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec-Fetch-Site": "cross-site", "Origin": HOME},
        {"Sec-Fetch-Site": "same-site"},
        {"Origin": "http://elsewhere.example"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "null"},
        {"Origin": ""},
        {},
        {"Content-Type": "application/json", "Sec-Fetch-Site": "cross-site"},
        {"Content-Type": "text/plain"},
    ],
)
def test_a_strangers_page_may_not_write(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.post("/", content=b"abc", headers=headers)
    assert answer.status_code == 403
    assert "Nothing was written" in answer.text


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("127.0.0.1:8047", 200),
        ("192.168.1.20:8047", 200),
        ("[::1]:8047", 200),
        ("localhost:8047", 200),
        ("BAY-PC:8047", 200),
        ("bay-pc.elsewhere.example", 400),
        ("elsewhere.example:8047", 400),
        ("", 400),
    ],
)
def test_a_foreign_name_that_leads_here_is_refused(
    client: TestClient, host: str, status: int
) -> None:
    assert client.get("/", headers={"Host": host}).status_code == status


def test_a_long_body_is_refused_by_its_declared_length(client: TestClient) -> None:
    answer = client.post("/", content=b"x" * (BODY_LIMIT + 1), headers={"Origin": HOME})
    assert answer.status_code == 413


def test_a_long_body_of_unknown_length_is_refused_while_it_is_read(client: TestClient) -> None:
    def parts():  # type: ignore[no-untyped-def] # a plain generator
        for _ in range(10):
            yield b"x" * 16 * 1024

    answer = client.post("/", content=parts(), headers={"Origin": HOME})
    assert answer.status_code == 413


def test_the_longest_body_is_read(client: TestClient) -> None:
    answer = client.post("/", content=b"x" * BODY_LIMIT, headers={"Origin": HOME})
    assert answer.text == str(BODY_LIMIT)
