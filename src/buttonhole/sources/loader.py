"""A published table as it was published, with where it came from."""

import csv
import io
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache
from pathlib import Path
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from buttonhole.sources import checksum
from buttonhole.units import BadInput


class TableError(RuntimeError):
    """A data file of the program is missing, changed or not what its header says."""


class Status(StrEnum):
    """How a number was come by."""

    READ = "read"  # seen in a published text
    MEMORY = "memory"  # known, source not opened: never a pass/fail line that can't be edited
    DERIVED = "derived"  # worked out from other numbers
    COMMON_PRACTICE = "common-practice"  # what the trade does; no source


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a table came from."""

    title: str
    source: str  # key in the bibliography
    edition: str
    place: str  # table, page or clause
    status: Status
    checked_by: str
    uncertainty: str
    valid_range: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under headers ``symbol [unit]`` (numbers) or ``name`` (words)."""

    name: str
    provenance: Provenance
    header: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]

    @property
    def status(self) -> Status:
        """How the table was come by; a column ``status`` may say otherwise for single rows."""
        return self.provenance.status

    def text(self, header: str) -> tuple[str, ...]:
        """Return one column as the words printed.

        Raises
        ------
        TableError
            No such column.
        """
        if header not in self.header:
            raise TableError(
                f"{self.name}: no column {header!r}; there are {', '.join(self.header)}"
            )
        at = self.header.index(header)
        return tuple(row[at] for row in self.cells)

    def column(self, header: str) -> NDArray[np.float64]:
        """Return one column of numbers, shape (rows,) [unit of the header]; blank is NaN.

        Raises
        ------
        TableError
            No such column, or a cell that is no number.
        """
        try:
            return np.array([float(cell) if cell else math.nan for cell in self.text(header)])
        except ValueError as error:
            raise TableError(f"{self.name}: column {header!r}: {error}") from error

    def rows(self) -> tuple[Mapping[str, float | str | None], ...]:
        """Return each row as header -> number [unit of the header], words, or None for a blank."""
        columns: list[list[float | str | None]] = [
            [None if math.isnan(value) else value for value in self.column(h).tolist()]
            if is_quantity(h)
            else list(self.text(h))
            for h in self.header
        ]
        return tuple(
            MappingProxyType(dict(zip(self.header, row, strict=True)))
            for row in zip(*columns, strict=True)
        )

    def row_status(self) -> tuple[Status, ...]:
        """Return for each row how it was come by."""
        if "status" in self.header:
            return tuple(Status(cell) for cell in self.text("status"))
        return (self.status,) * len(self.cells)

    def where(self, header: str, value: str) -> "Table":
        """Return the same table with only the rows whose cell under ``header`` is ``value``."""
        keep = tuple(
            row for row, cell in zip(self.cells, self.text(header), strict=True) if cell == value
        )
        return replace(self, cells=keep)

    def interpolate(self, x_header: str, y_header: str, x: float) -> float:
        """Interpolate linearly between rows; never beyond the first or last one.

        Parameters
        ----------
        x_header, y_header : str
            Columns to go from and to; ``x_header`` must rise from row to row.
        x : float
            Where [unit of ``x_header``].

        Returns
        -------
        float
            Value [unit of ``y_header``].

        Raises
        ------
        BadInput
            ``x`` lies outside the table, or is no number.
        """
        xs, ys = self.column(x_header), self.column(y_header)
        if len(xs) < 2 or not bool(np.all(np.diff(xs) > 0)):
            raise TableError(f"{self.name}: {x_header!r} does not rise from row to row")
        if not xs[0] <= x <= xs[-1]:  # also catches NaN
            raise BadInput(
                x_header,
                f"is {x:g}; the table {self.name!r} ({self.provenance.title}) covers "
                f"{xs[0]:g} to {xs[-1]:g} and says nothing beyond",
            )
        return float(np.interp(x, xs, ys))


def is_quantity(header: str) -> bool:
    """Say whether a header ``symbol [unit]`` stands over numbers."""
    return header.endswith("]")


def _verified(name: str, folder: Path) -> str:
    """Return a data file's text after comparing it with the manifest."""
    wanted = checksum.listed(folder).get(name)
    if wanted is None:
        raise TableError(f"{name}: not in the manifest of data files")
    try:
        content = (folder / name).read_bytes()
    except FileNotFoundError as error:
        raise TableError(f"{name}: data file is missing; install the program again") from error
    if checksum.digest(content) != wanted:
        raise TableError(
            f"{name}: changed since it was checked; install the program again, or after a "
            "deliberate change run: python -m buttonhole.sources.manifest"
        )
    return content.decode("utf-8")


def load(name: str, folder: Path = checksum.DATA) -> Table:
    """Read one table and its provenance from a folder.

    Raises
    ------
    TableError
        A file is missing, changed, not listed in the manifest, or a row is too long or short.
    """
    fields = tomllib.loads(_verified(f"{name}.toml", folder))
    lines = list(csv.reader(io.StringIO(_verified(f"{name}.csv", folder))))
    header, cells = tuple(lines[0]), tuple(tuple(line) for line in lines[1:])
    for number, line in enumerate(cells, start=2):
        if len(line) != len(header):
            raise TableError(f"{name}.csv: line {number} has {len(line)} cells, not {len(header)}")
    provenance = Provenance(**{**fields, "status": Status(fields["status"])})
    return Table(name, provenance, header, cells)


@cache
def table(name: str) -> Table:
    """Return a table by name.

    Raises
    ------
    BadInput
        There is no table of that name.
    TableError
        Its files are not as they were checked.
    """
    if f"{name}.csv" not in checksum.listed():
        raise BadInput("table", f"{name!r} is not there; there are: {', '.join(names())}")
    return load(name)


def names() -> tuple[str, ...]:
    """Return the names of all tables."""
    return tuple(file.removesuffix(".csv") for file in checksum.listed() if file.endswith(".csv"))


@dataclass(frozen=True, slots=True)
class Listed:
    """One line of the list of tables."""

    name: str
    title: str
    status: str
    source: str  # key in the bibliography


def tables() -> tuple[Listed, ...]:
    """Return name, title, status and source of every table."""
    return tuple(
        Listed(each.name, each.provenance.title, each.status.value, each.provenance.source)
        for each in (table(name) for name in names())
    )
