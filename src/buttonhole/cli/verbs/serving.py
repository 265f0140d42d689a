"""``buttonhole serve``, ``demo`` and ``warm``."""

import errno
import socket
from importlib import import_module
from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import RecordOption, record_path
from buttonhole.cli.words import _
from buttonhole.units import BadInput

HostOption = Annotated[
    str, typer.Option(help=_("Address to listen at; 0.0.0.0 lets the shop's tablets in."))
]
PortOption = Annotated[int, typer.Option(help=_("Port to listen at."), min=1, max=65535)]


def serve(
    host: HostOption = "127.0.0.1", port: PortOption = 8047, record: RecordOption = None
) -> None:
    """Serve the pages of this record until Ctrl+C."""
    _check_free(host, port)
    # by name: pages and command line stand side by side and know nothing of each other but this
    run_server = import_module("buttonhole.web.serving").serve

    path = record_path(record)
    say.give_lines([_("Open http://{}:{}/ (Ctrl+C stops it)").format(_shown(host), port)])
    run_server(host, port, str(path))


def demo(
    host: HostOption = "127.0.0.1",
    port: PortOption = 8047,
    record: Annotated[
        Path | None,
        typer.Option("--record", metavar="FILE", help=_("Keep the demonstration in this record.")),
    ] = None,
    no_serve: Annotated[
        bool, typer.Option("--load-only", help=_("Load it, tell where it is, and stop."))
    ] = False,
) -> None:
    """Load the demonstration and serve it; your own record is not touched."""
    from datetime import UTC, datetime

    from buttonhole.desk.load_demo import load_demo
    from buttonhole.record.store import open_store

    if not no_serve:
        _check_free(host, port)
    # a record of its own: nothing of a demonstration may stand among a shop's jobs
    path = record or record_path(None).with_name("demo.db")
    with open_store(path) as store:
        job = load_demo(store, datetime.now(UTC))
    say.give_lines([_("The demonstration {!r} is in {}").format(job.title, path)])
    if not no_serve:
        serve(host, port, path)


def warm() -> None:
    """Compile the solver once, so that the next prediction starts at once."""
    import time

    from buttonhole.weld import spot

    started = time.perf_counter()
    spot.warm()
    taken = time.perf_counter() - started
    say.give_lines([_("The solver is compiled and kept ({:.1f} s).").format(taken)])


def _check_free(host: str, port: int) -> None:
    """Refuse an address nobody can listen at before anything is written or told."""
    try:
        family, kind, protocol, _name, address = socket.getaddrinfo(
            host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
    except (OSError, UnicodeError) as error:
        raise BadInput(
            "--host", _("is {}; give an address of this machine").format(host)
        ) from error
    with socket.socket(family, kind, protocol) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(address)
        except OSError as error:
            if error.errno == errno.EADDRINUSE:
                text = _("is {}; another program listens there already, give another port")
                raise BadInput("--port", text.format(port)) from error
            reason = (error.strerror or str(error)).lower()
            text = _("can't listen at {} port {}: {}; give another address or port")
            raise BadInput("--host", text.format(host, port, reason)) from error


def _shown(host: str) -> str:
    if host in ("0.0.0.0", "::"):  # noqa: S104 - compared with, not listened at
        return "localhost"
    return f"[{host}]" if ":" in host else host
