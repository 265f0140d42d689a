from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from buttonhole.web.app import create_app
from buttonhole.web.settings import WebSettings

HOME = "http://127.0.0.1:8047"


@pytest.fixture
def app(tmp_path: Path) -> FastAPI:
    return create_app(WebSettings(str(tmp_path / "record.db")))


@pytest.fixture
def client(app: FastAPI) -> Iterator[TestClient]:
    with TestClient(app, base_url=HOME, headers={"Origin": HOME}) as opened:
        yield opened
