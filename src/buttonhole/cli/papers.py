"""Writes a printed paper to a file."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from buttonhole.cli import say
from buttonhole.cli.words import _
from buttonhole.units import BadInput


class Paper(Protocol):
    """A finished PDF and its SHA-256."""

    @property
    def pdf(self) -> bytes:
        """The pages."""

    @property
    def sha256(self) -> str:
        """Their hash."""


def write_paper(target: Path, printing: Callable[[], Paper], json: bool) -> None:
    """Print a paper and put it where the person wants it.

    Parameters
    ----------
    target : Path
        The file; one that is there is not replaced.
    printing : callable
        Makes the paper and writes its hash into the record.
    json : bool
        How to tell it.

    Raises
    ------
    BadInput
        The file is there already, or the folder is not.
    """
    if target.exists():
        raise BadInput(str(target), _("is there already; give another name"))
    if not target.absolute().parent.is_dir():
        raise BadInput(str(target), _("its folder is not there; make it first"))
    paper = printing()
    target.write_bytes(paper.pdf)
    if json:
        say.give_json({"file": str(target), "sha256": paper.sha256, "bytes": len(paper.pdf)})
        return
    say.give_lines([_("{}: written, SHA-256 {}").format(target, paper.sha256)])
