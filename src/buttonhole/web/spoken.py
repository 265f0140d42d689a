"""Makes everything a request does speak the language and the units of who sent it."""

from starlette.requests import Request
from starlette.types import ASGIApp, Receive, Scope, Send

from buttonhole.language.display import displayed
from buttonhole.web.render import display_of


class Spoken:
    """ASGI middleware: sets the display for the drawings and the words of one request."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        with displayed(display_of(Request(scope))):
            await self.app(scope, receive, send)
