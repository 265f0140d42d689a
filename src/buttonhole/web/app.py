"""Puts the application together."""

from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from starlette.middleware import Middleware
from starlette.staticfiles import StaticFiles

from buttonhole.web.api import router as api_router
from buttonhole.web.faults import add_fault_pages
from buttonhole.web.guard import Guard
from buttonhole.web.pages import ROUTERS
from buttonhole.web.sent import add_sent_twice
from buttonhole.web.settings import WebSettings
from buttonhole.web.shop import Shop
from buttonhole.web.spoken import Spoken
from buttonhole.web.steel_api import router as steel_router


def create_app(settings: WebSettings) -> FastAPI:
    """Build the application over one record.

    Parameters
    ----------
    settings : WebSettings
        Where the record is and by which names the server may be called.

    Returns
    -------
    FastAPI
        The application; it holds no state that the record does not hold, besides work under way.
    """
    shop = Shop(settings)

    @asynccontextmanager
    async def life(_app: FastAPI):  # type: ignore[no-untyped-def] # the framework's own protocol
        yield
        shop.close()

    app = FastAPI(
        title="Buttonhole",
        docs_url=None,  # the framework's pages load scripts from elsewhere
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=life,
        middleware=[Middleware(Guard, hosts=settings.hosts), Middleware(Spoken)],
    )
    app.state.shop = shop
    app.mount("/static", StaticFiles(directory=Path(__file__).with_name("static")), name="static")
    app.include_router(api_router)
    app.include_router(steel_router)
    for router in ROUTERS:
        app.include_router(router, include_in_schema=False)
    add_fault_pages(app)
    add_sent_twice(app)
    return app
