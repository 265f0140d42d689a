"""``buttonhole serve``, ``demo`` and ``warm``."""

from importlib import import_module
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import RecordOption, record_path
from buttonhole.cli.words import _

HostOption = Annotated[
    str, typer.Option(help=_("Address to listen at; 0.0.0.0 lets the shop's tablets in."))
]
PortOption = Annotated[int, typer.Option(help=_("Port to listen at."), min=1, max=65535)]


def serve(
    host: HostOption = "127.0.0.1", port: PortOption = 8047, record: RecordOption = None
) -> None:
    """Serve the pages of this record until Ctrl+C."""
    # by name: pages and command line stand side by side and know nothing of each other but this
    run_server = import_module("buttonhole.web.serving").serve

    path = record_path(record)
    say.give_lines([_("Open http://{}:{}/ (Ctrl+C stops it)").format(_shown(host), port)])
    run_server(host, port, str(path))


def warm() -> None:
    """Compile the solver once, so that the next prediction starts at once."""
    import time

    from buttonhole.weld import spot

    started = time.perf_counter()
    spot.warm()
    taken = time.perf_counter() - started
    say.give_lines([_("The solver is compiled and kept ({:.1f} s).").format(taken)])


def _shown(host: str) -> str:
    if host in ("0.0.0.0", "::"):  # noqa: S104 - compared with, not listened at
        return "localhost"
    return f"[{host}]" if ":" in host else host
