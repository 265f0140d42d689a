"""What a server is told at its start."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WebSettings:
    """Where the record is, and by which names the server may be called.

    ``store`` is the path or address of the record. ``hosts`` are the names of this server in the
    shop's network; addresses in figures and ``localhost`` are always allowed.
    """

    store: str
    hosts: tuple[str, ...] = ()
    secure_cookies: bool = False  # with TLS only: by plain HTTP a browser would drop them
