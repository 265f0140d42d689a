"""Turns a weld the solver can't follow into a refusal that says what to change."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from buttonhole.cli.words import _


@contextmanager
def solving(file: str | Path) -> Iterator[None]:
    """Name the file in every refusal of what is computed from it.

    Parameters
    ----------
    file : str or Path
        The weld file, or what the joint is called.

    Raises
    ------
    BadFile
        In place of a refusal of the model, and where the solver gave up.
    """
    from buttonhole.desk.weld_file import BadFile, named_file
    from buttonhole.weld.spot import SolverFailed

    try:
        with named_file(file):
            yield
    except SolverFailed as failed:
        message = _(
            "the solver can't follow this weld ({}); give current, time and force nearer to what "
            "such sheets are welded with"
        )
        raise BadFile(str(file), "set_up", message.format(failed)) from failed
