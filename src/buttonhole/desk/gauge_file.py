"""Readings of kept buttons by several people, from a CSV file."""

import csv
from pathlib import Path
from typing import Any

from buttonhole.coupon.gauge import GaugeKind
from buttonhole.coupon.gauge_study import GaugeStudy, gauge_study
from buttonhole.desk.keep_gauge import KeepGauge
from buttonhole.desk.weld_file import BadFile
from buttonhole.units import BadInput

HEADER = ("button", "reader", "mm")


def gauge_answer(path: Path) -> dict[str, Any]:
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
        readings = _readings(rows)
        count = {"buttons": len(readings), "people": len(readings[0]), "each": len(readings[0][0])}
        return {**_answer(gauge_study(readings)), "read": count}
    except BadInput as bad:
        raise BadFile(str(path), bad.key, bad.message) from bad


def keep_command(answer: dict[str, Any], name: str, kind: GaugeKind, whence: str) -> KeepGauge:
    """Say what is kept of a study: its two spreads, and how many buttons were read by whom.

    Parameters
    ----------
    answer : dict
        Of ``gauge_answer``.
    name : str
        What is written on the gauge.
    kind : GaugeKind
        What it is.
    whence : str
        Name of the file it came from.

    Returns
    -------
    KeepGauge
        For ``keep_gauge``.
    """
    read = answer["read"]
    study = (
        f"{read['buttons']} kept buttons, {read['people']} people, {read['each']} readings each "
        f"({whence})"
    )
    spreads = (1e-3 * answer["gauge_mm"]["value"], 1e-3 * answer["readers_mm"]["value"])
    return KeepGauge(name, kind, *spreads, study)


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


def _answer(found: GaugeStudy) -> dict[str, Any]:
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
