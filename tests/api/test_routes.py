"""Every route: what it declares, what it answers to strangers and to nonsense."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from fastapi.routing import APIRoute
from starlette.testclient import TestClient

from buttonhole.web.api import router as api_router
from buttonhole.web.pages import ROUTERS
from buttonhole.web.steel_api import router as steel_router

NONSENSE = ["x", "0", "-1", "%00", "..%2F..%2Fetc%2Fpasswd", "a" * 3000, "%F0%9F%94%A9", "' OR 1=1"]


def every_route() -> Iterator[APIRoute]:
    for router in (api_router, steel_router, *ROUTERS):
        for route in router.routes:
            assert isinstance(route, APIRoute)
            yield route


def test_every_route_declares_what_it_may_answer() -> None:
    routes = list(every_route())
    assert len(routes) > 30
    for route in routes:
        assert {400, 404, 409, 422} <= set(route.responses), route.path


def test_no_route_changes_anything_on_get() -> None:
    for route in every_route():
        assert route.methods in ({"GET"}, {"POST"}), route.path
        if route.methods == {"GET"}:
            dependencies = {one.call.__name__ for one in route.dependant.dependencies if one.call}
            assert "writing_desk" not in dependencies, route.path


@pytest.mark.parametrize("nonsense", NONSENSE)
def test_nonsense_in_an_address_is_answered_calmly(client: TestClient, nonsense: str) -> None:
    for route in every_route():
        names = route.param_convertors
        path = route.path
        for name in names:
            path = path.replace(f"{{{name}}}", nonsense)
        answer = client.request(next(iter(route.methods)), path)
        assert answer.status_code < 500, path
        if names:
            assert answer.status_code in (400, 404, 405, 409, 413, 422, 303), path


def test_only_the_api_is_described_for_programs(app: FastAPI, client: TestClient) -> None:
    described = client.get("/api/openapi.json").json()
    assert sorted(described["paths"]) == [
        "/api/method",
        "/api/predict",
        "/api/predict/quick",
        "/api/rules",
        "/api/steels",
        "/api/steels/curves",
        "/api/steels/found",
        "/api/steels/unknown",
        "/api/strength",
    ]
    assert client.get("/docs").status_code == 404


def test_static_files_keep_to_their_folder(client: TestClient) -> None:
    assert client.get("/static/look.css").status_code == 200
    for path in ("/static/../app.py", "/static/%2e%2e/app.py", "/static/..%2fapp.py"):
        assert client.get(path).status_code == 404
