"""Runs the server."""

import socket
import threading


def serve(host: str = "127.0.0.1", port: int = 8047, store: str = "buttonhole.db") -> None:
    """Serve a record until the process is told to stop.

    Parameters
    ----------
    host : str
        Address to listen at; ``0.0.0.0`` lets the tablets of the shop in.
    port : int
        Port to listen at [-].
    store : str
        Path or address of the record.
    """
    # here, not above: the command line imports this module, and most of its verbs serve nothing
    import uvicorn

    from buttonhole.web.app import create_app
    from buttonhole.web.settings import WebSettings

    threading.Thread(target=_warm, name="warm", daemon=True).start()
    name = socket.gethostname().casefold()
    app = create_app(WebSettings(store=str(store), hosts=(name, f"{name}.local")))
    uvicorn.run(app, host=host, port=port, log_level="warning", server_header=False)


def _warm() -> None:
    """Load the solver beside the first pages, so that the first prediction need not wait."""
    from buttonhole.weld import spot

    spot.warm()
