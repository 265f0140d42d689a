"""Opens the record for one verb, and finds jobs, joints and coupons by what people call them."""

import os
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.desk import Desk
    from buttonhole.desk.view import CouponView, JobView, JointView

RecordOption = Annotated[
    Path | None,
    typer.Option(
        "--record",
        metavar="FILE",
        envvar="BUTTONHOLE_RECORD",
        help=_("The shop's record; in your data folder unless you say where."),
    ),
]
ByOption = Annotated[
    str,
    typer.Option("--by", metavar="NAME", envvar="BUTTONHOLE_BY", help=_("Who does this.")),
]
SeenOption = Annotated[
    str | None,
    typer.Option(
        "--seen",
        metavar="ID",
        help=_("Last entry you saw of this joint; refused if somebody wrote since."),
    ),
]
JobArgument = Annotated[str, typer.Argument(metavar="JOB", help=_("Title or id of the job."))]
JointArgument = Annotated[
    str,
    typer.Argument(
        metavar="JOINT", help=_("Name or id of the joint; JOB/NAME where two jobs use one name.")
    ),
]


def record_path(given: Path | None) -> Path:
    """Where the record is: as given, else in the user's data folder."""
    if given is not None:
        return given
    home = os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share"
    return Path(home) / "buttonhole" / "record.db"


def _server(path: Path) -> str:
    """Give the address of a server back its second stroke, which a path has lost; else nothing."""
    scheme, stroke, rest = str(path).partition(":/")
    return f"{scheme}://{rest}" if stroke and scheme == "postgresql" else ""


@contextmanager
def desk_at(
    record: Path | None, by: str, *, must_exist: bool = True, read_only: bool = False
) -> "Iterator[Desk]":
    """Open the record and sit one person down at it.

    Parameters
    ----------
    record : Path or None
        The record's file.
    by : str
        Who acts.
    must_exist : bool
        Whether a record that is not there is refused instead of begun.
    read_only : bool
        Whether nothing may be written.

    Yields
    ------
    Desk
        The desk.

    Raises
    ------
    BadInput
        In place of every refusal of the desk and the record, with its words.
    """
    from buttonhole.desk.conflict import Conflict, NotThere
    from buttonhole.desk.desk import Desk
    from buttonhole.procedure.release import ReleaseRefused
    from buttonhole.record.store import StoreTrouble, open_store

    path = record_path(record)
    where = _server(path) or path
    if must_exist and where is path and not path.exists():
        raise BadInput(
            str(path),
            _("there is no record; begin one with `buttonhole job open` or give --record FILE"),
        )
    try:
        with open_store(where, read_only=read_only) as store:
            yield Desk(store, lambda: datetime.now(UTC), by)
    except (StoreTrouble, NotThere, ReleaseRefused) as refused:
        raise BadInput("", str(refused)) from refused
    except Conflict as conflict:
        lines = "; ".join(f"{name}: {theirs} / {mine}" for name, theirs, mine in conflict.rows)
        raise BadInput(
            "",
            _("{} Theirs / yours: {}. Look at it and give --seen {} to save yours.").format(
                conflict, lines, conflict.seen
            ),
        ) from conflict


def reading(record: Path | None) -> "AbstractContextManager[Desk]":
    """Open the record only to look at it."""
    return desk_at(record, "reader", read_only=True)


def find_job(desk: "Desk", called: str) -> "JobView":
    """Find a job by its id or its title.

    Parameters
    ----------
    desk : Desk
        Where to look.
    called : str
        What the person calls it.

    Returns
    -------
    JobView
        The job.

    Raises
    ------
    BadInput
        No such job, or more than one of this title.
    """
    from buttonhole.desk.read_job import list_jobs, read_job

    lines = list_jobs(desk)
    found = [one for one in lines if called == one.id]
    found = found or [one for one in lines if called.casefold() == one.title.casefold()]
    if len(found) != 1:
        raise BadInput("JOB", _not_one(called, len(found), [one.title for one in lines]))
    return read_job(desk, found[0].id)


def find_joint(desk: "Desk", called: str) -> "JointView":
    """Find a joint by its id, its name, or JOB/NAME.

    Parameters
    ----------
    desk : Desk
        Where to look.
    called : str
        What the person calls it.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        No such joint, or more than one of this name.
    """
    from buttonhole.desk.read_job import list_jobs, read_job

    title, slash, name = called.rpartition("/")
    jobs = [find_job(desk, title)] if slash else [read_job(desk, one.id) for one in list_jobs(desk)]
    joints = [joint for job in jobs for joint in job.joints]
    found = [one for one in joints if one.id == name]
    found = found or [one for one in joints if one.name.casefold() == name.casefold()]
    if len(found) != 1:
        raise BadInput("JOINT", _not_one(called, len(found), [one.name for one in joints]))
    return found[0]


def find_coupon(joint: "JointView", number: int | None) -> "CouponView":
    """Find a coupon of a joint by its number; the last one without a number.

    Parameters
    ----------
    joint : JointView
        The joint.
    number : int or None
        As counted from 1 [-].

    Returns
    -------
    CouponView
        The coupon.

    Raises
    ------
    BadInput
        There is none, or none of this number.
    """
    if not joint.coupons:
        raise BadInput(
            "JOINT", _("{} has no coupon yet; weld one with `coupon weld`").format(joint.name)
        )
    if number is None:
        return joint.coupons[-1]
    for one in joint.coupons:
        if one.number == number:
            return one
    numbers = ", ".join(str(one.number) for one in joint.coupons)
    raise BadInput("--coupon", _("is {}; {} has {}").format(number, joint.name, numbers))


def _not_one(called: str, count: int, names: list[str]) -> str:
    if count > 1:
        return _("{!r} is the name of {}; give the id or JOB/NAME").format(called, count)
    shown = ", ".join(dict.fromkeys(names[:8])) or _("none yet")
    return _("there is no {!r}; there are: {}").format(called, shown)
