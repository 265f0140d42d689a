"""Where every number came from: tables with their provenance, and the bibliography."""

from buttonhole.sources.loader import (
    Listed,
    Provenance,
    Status,
    Table,
    TableError,
    is_quantity,
    names,
    table,
    tables,
)
from buttonhole.sources.reference import Reference, bibliography

__all__ = [
    "Listed",
    "Provenance",
    "Reference",
    "Status",
    "Table",
    "TableError",
    "bibliography",
    "is_quantity",
    "names",
    "table",
    "tables",
]
