"""Long work: it goes on beside the pages, says how far it is, and can be stopped."""

import logging
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from itertools import count

from buttonhole.desk import Conflict
from buttonhole.units import BadInput
from buttonhole.web.fields import sentence

_log = logging.getLogger(__name__)
_KEPT = 40  # finished pieces of work that are remembered

Progress = Callable[[int, int], None]


class Stopped(Exception):
    """Somebody asked for the work to stop."""


@dataclass(slots=True)
class Work:
    """One piece of work; ``then`` is the page that shows what it made."""

    number: int
    name: str
    then: str
    back: str
    done: int = 0
    total: int = 0
    state: str = "waiting"  # waiting | running | done | stopped | failed
    said: str = ""
    halt: threading.Event = field(default_factory=threading.Event)

    def progress(self, done: int, total: int) -> None:
        """Note how far the work is; raises `Stopped` when it should stop."""
        self.done, self.total = done, total
        if self.halt.is_set():
            raise Stopped

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come."""
        return self.state in ("done", "stopped", "failed")


class Works:
    """The work under way. It is lost when the server stops; nothing was written until its end."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="work")
        self._works: dict[int, Work] = {}
        self._next = count(1)
        self._lock = threading.Lock()

    def start(self, name: str, do: Callable[[Progress], None], *, then: str, back: str) -> Work:
        """Begin a piece of work, or join the same one that is under way."""
        with self._lock:
            for work in self._works.values():
                if (work.name, work.then) == (name, then) and not work.is_over:
                    return work
            for old in [one.number for one in self._works.values() if one.is_over][:-_KEPT]:
                del self._works[old]
            work = Work(next(self._next), name, then, back)
            self._works[work.number] = work
        self._pool.submit(_run, work, do)
        return work

    def find(self, number: int) -> Work | None:
        """The piece of work with this number, if it is remembered."""
        return self._works.get(number)

    def close(self) -> None:
        """Stop all work."""
        for work in self._works.values():
            work.halt.set()
        self._pool.shutdown(wait=False, cancel_futures=True)


def _run(work: Work, do: Callable[[Progress], None]) -> None:
    if work.halt.is_set():
        work.state = "stopped"
        return
    work.state = "running"
    try:
        do(work.progress)
    except Stopped:
        work.state = "stopped"
    except (BadInput, Conflict) as told:
        work.state, work.said = "failed", sentence(getattr(told, "message", str(told)))
    except Exception as error:
        _log.exception("work %r broke", work.name)
        work.state = "failed"
        work.said = f"The calculation broke ({type(error).__name__}). Nothing was written."
    else:
        work.state = "done"
