"""How the command line speaks: plain lines, one JSON object, or progress on standard error."""

import json
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import Any

Progress = Callable[[int, int], None]

NARROW, WIDE = 60, 100  # columns; longer lines are hard to read


def width() -> int:
    """How many columns to fill."""
    return max(NARROW, min(WIDE, shutil.get_terminal_size((80, 24)).columns))


def draws_blocks() -> bool:
    """Whether the output can show the block letters of a picture."""
    try:
        "█▓░─▏".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def give_lines(lines: Iterable[str]) -> None:
    """Print plain lines; what the output can't show becomes a question mark."""
    text = "".join(f"{line.rstrip()}\n" for line in lines)
    coding = sys.stdout.encoding or "ascii"
    sys.stdout.write(text.encode(coding, "replace").decode(coding))
    sys.stdout.flush()  # an address is of use while the server runs, in a log file too


def give_json(answer: Any, *, exact: bool = False) -> None:
    """Print one JSON object; floats with six digits unless every digit is asked for."""
    from buttonhole.desk.plain_answer import plain_answer

    plain = answer if exact else plain_answer(answer)
    sys.stdout.write(json.dumps(plain, ensure_ascii=True, allow_nan=False) + "\n")


def wrapped(text: str, *, first: str = "", rest: str | None = None) -> list[str]:
    """Lines of a text that fit the terminal, with a lead for the first and the other lines."""
    import textwrap

    indent = " " * len(first) if rest is None else rest
    return textwrap.wrap(text, width(), initial_indent=first, subsequent_indent=indent) or [first]


@contextmanager
def progress(title: str) -> Iterator[Progress]:
    """Show how far a long piece of work is, on standard error and only to a person."""
    if not sys.stderr.isatty():
        yield lambda _done, _total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn, TimeRemainingColumn
    from rich.progress import Progress as Bar

    columns = (TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn())
    with Bar(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(title, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
