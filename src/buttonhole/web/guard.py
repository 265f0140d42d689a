"""The gate every request passes: host, origin, size; and the headers every answer carries.

A page of a stranger, open in the same browser, must not be able to write into the shop's record.
On a shop's network by plain HTTP a browser sends no ``Sec-Fetch-Site``; then ``Origin`` has to be
the host the request is addressed to.
"""

import ipaddress
import logging
import re
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from buttonhole.web.faults import OUR_FAULT, refusal

_log = logging.getLogger(__name__)

BODY_LIMIT = 64 * 1024  # bytes; the longest form and the longest weld file are far shorter
UPLOAD_LIMIT = 24 * 1024 * 1024 + BODY_LIMIT  # bytes; a photo with the answers beside it
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
POLICY = (
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # "no-referrer" would make browsers send "Origin: null" with our own forms
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(), microphone=(), payment=(), usb=()",
}


class TooLong(Exception):
    """The body of a request is longer than any form of ours."""


class Guard:
    """ASGI middleware: refuses what no page of ours would send."""

    def __init__(self, app: ASGIApp, hosts: tuple[str, ...] = ()) -> None:
        self.app = app
        self.hosts = frozenset(name.casefold() for name in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it with a refusal."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._refused(scope, headers)
        if refused is not None:
            status, said, act = refused
            response = refusal(scope, status, said, act)
            await response(scope, receive, _with_headers(scope, send))
            return
        await self._limited(scope, receive, _with_headers(scope, send))

    def _refused(self, scope: Scope, headers: Headers) -> tuple[int, str, str] | None:
        host = headers.get("host", "")
        if not self._is_ours(host):
            return (
                400,
                "This server is not known by that name.",
                "Open the address that the program printed when it started.",
            )
        if scope["method"] not in SAFE_METHODS and not comes_from_us(headers, host):
            return (
                403,
                "This request came from another site and was refused. Nothing was written.",
                "Open the page here, in its own window, and send it again.",
            )
        limit = limit_of(scope)
        if _declared_length(headers) > limit:
            return _too_long(limit)
        return None

    async def _limited(self, scope: Scope, receive: Receive, send: Send) -> None:
        seen, limit = 0, limit_of(scope)
        started = False

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > limit:
                raise TooLong
            return message

        async def noted(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, counted, noted)
        except TooLong:
            if started:
                raise
            await refusal(scope, *_too_long(limit))(scope, receive, send)
        except Exception:
            # here, because the framework's own last resort stands outside and has no headers
            _log.exception("%s %s broke", scope["method"], scope["path"])
            if started:
                raise
            await refusal(scope, *OUR_FAULT)(scope, receive, send)

    def _is_ours(self, host: str) -> bool:
        """Whether a host name is one of this server: a foreign name that leads here is a trick."""
        name = _host_name(host)
        if name == "localhost" or name in self.hosts:
            return True
        try:
            ipaddress.ip_address(name)
        except ValueError:
            return False
        return True


def comes_from_us(headers: Headers, host: str) -> bool:
    """Whether a request that writes was sent by a page of this server, or by no browser at all."""
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    origin = headers.get("origin")
    if origin is not None:
        return urlsplit(origin).netloc.casefold() == host.casefold() != ""
    # No browser leaves out both when it sends a form; programs that send JSON may.
    return headers.get("content-type", "").partition(";")[0].strip() == "application/json"


def _host_name(host: str) -> str:
    bracketed = re.fullmatch(r"\[([0-9A-Fa-f:.]+)\](?::\d{1,5})?", host)
    if bracketed:
        return bracketed[1]
    return re.sub(r":\d{1,5}$", "", host).casefold()


def _declared_length(headers: Headers) -> int:
    text = headers.get("content-length", "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else UPLOAD_LIMIT + 1


def limit_of(scope: Scope) -> int:
    """How long the body of a request may be [-], in bytes: photos go to one kind of page only."""
    path = str(scope["path"])
    takes_photo = path.startswith("/joints/") and path.endswith("/photo")
    return UPLOAD_LIMIT if takes_photo and scope["method"] == "POST" else BODY_LIMIT


def _too_long(limit: int) -> tuple[int, str, str]:
    if limit == UPLOAD_LIMIT:
        return (
            413,
            f"That is more than {limit // 1048576} MiB; no photo may be that large.",
            "Choose a lower size or quality in the camera's settings. Nothing was written.",
        )
    return (
        413,
        f"That is more than {limit // 1024} KiB; no form of ours is that long.",
        "Shorten what was typed and send it again. Nothing was written.",
    )


def _with_headers(scope: Scope, send: Send) -> Send:
    fixed = scope["path"].startswith("/static/")

    async def with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            if not fixed:
                # what is shown must be what is in the record now, also after "back"
                headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return with_headers
