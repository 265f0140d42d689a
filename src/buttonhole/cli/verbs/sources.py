"""``buttonhole sources show``: where the program's numbers came from."""

from typing import Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _

NameArgument = Annotated[
    str | None, typer.Argument(metavar="NAME", help=_("A table; without one all are listed."))
]


def show(name: NameArgument = None, json: JsonOption = False) -> None:
    """List the tables of the program, or show one with its source."""
    if name is None:
        _list_all(json)
    else:
        _show_one(name, json)


def _list_all(json: bool) -> None:
    from buttonhole.sources import tables

    listed = tables()
    if json:
        keys = ("name", "title", "status", "source")
        told = [{key: getattr(one, key) for key in keys} for one in listed]
        say.give_json({"tables": told})
        return
    lines = []
    for one in listed:
        lines.append(f"{one.name}  ({one.status})")
        lines += say.wrapped(one.title, first="    ")
    note = _("One table with its figures: buttonhole sources show NAME")
    say.give_lines([*lines, "", note])


def _show_one(name: str, json: bool) -> None:
    from buttonhole.sources import bibliography, table

    found = table(name)
    where = found.provenance
    source = str(bibliography()[where.source]) if where.source in bibliography() else where.source
    told: dict[str, Any] = {
        "name": found.name,
        "title": where.title,
        "source": source,
        "edition": where.edition,
        "place": where.place,
        "status": where.status,
        "checked_by": where.checked_by,
        "uncertainty": where.uncertainty,
        "valid_range": where.valid_range,
        "note": where.note,
    }
    if json:
        say.give_json(told | {"rows": [dict(row) for row in found.rows()]})
        return
    lines = []
    for key, text in told.items():
        if text:
            lines += say.wrapped(str(text), first=f"{key.replace('_', ' '):<13}")
    say.give_lines([*lines, "", *_columns(found.header, found.cells)])


def _columns(header: tuple[str, ...], cells: tuple[tuple[str, ...], ...]) -> list[str]:
    """The table in aligned columns, or cell by cell where it is too wide for the terminal."""
    widths = [max(len(row[at]) for row in (header, *cells)) for at in range(len(header))]
    if sum(widths) + 2 * len(widths) <= say.width():
        rows = (header, *cells)
        return ["  ".join(c.ljust(w) for c, w in zip(r, widths, strict=True)) for r in rows]
    lines = []
    for row in cells:
        pairs = (f"{name}: {cell}" for name, cell in zip(header, row, strict=True) if cell)
        lines += say.wrapped("; ".join(pairs), first="- ")
    return lines
