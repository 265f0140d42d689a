"""Readings of kept buttons by several people, from a CSV file."""

import csv
from pathlib import Path

from buttonhole.coupon.gauge_study import GaugeStudy, gauge_study
from buttonhole.desk.weld_file import BadFile
from buttonhole.units import BadInput

HEADER = ("button", "reader", "mm")


def gauge_answer(path: Path) -> dict[str, object]:
    """Judge gauge and readers by a file.

    Parameters
    ----------
    path : Path
        Columns ``button``, ``reader`` and ``mm``; everybody reads every button equally often.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadFile
        Another header, a cell that is no number, or readings that are missing.
    """
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
    except UnicodeDecodeError:
        raise BadFile(str(path), "file", "is no text; save it as CSV in UTF-8") from None
    if not rows or set(rows[0]) != set(HEADER):
        raise BadFile(str(path), "header", f"give the columns {', '.join(HEADER)}")
    try:
        return _answer(gauge_study(_readings(rows)))
    except BadInput as bad:
        raise BadFile(str(path), bad.key, bad.message) from bad


def _readings(rows: list[dict[str, str]]) -> list[list[list[float]]]:
    found: dict[str, dict[str, list[float]]] = {}
    for number, row in enumerate(rows, start=2):
        try:
            value = float(row["mm"]) * 1e-3
        except (TypeError, ValueError):
            raise BadInput(f"line {number}", f"{row['mm']!r} is no number of mm") from None
        found.setdefault(row["button"], {}).setdefault(row["reader"], []).append(value)
    readers = sorted({reader for each in found.values() for reader in each})
    return [[each.get(reader, []) for reader in readers] for each in found.values()]


def _answer(found: GaugeStudy) -> dict[str, object]:
    spreads = {
        name: {"value": 1e3 * one.value, "low": 1e3 * one.low, "high": 1e3 * one.high}
        for name, one in (
            ("gauge_mm", found.gauge),
            ("readers_mm", found.readers),
            ("both_mm", found.both),
            ("buttons_mm", found.parts),
        )
    }
    share = {"value": found.share.value, "low": found.share.low, "high": found.share.high}
    return {**spreads, "share": share, "sizes_told_apart": found.classes,
            "readers_interact": found.interacts, "words": found.words}  # fmt: skip
