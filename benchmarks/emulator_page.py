"""What is known of the emulator, written: ``about.toml`` beside its nets, the page and its map."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.emulator_errors import (
    CURRENT_BINS,
    FIGURE_NAMES,
    SWEEP,
    THICKNESS_BINS,
    Compared,
    error_map,
    rms,
    within_90,
)
from buttonhole.paper.figure.svg import INK, Drawing
from buttonhole.weld.spot.emulator.stored import ABOUT

DOCS = Path(__file__).resolve().parent.parent / "docs" / "validation"
PAGE, PICTURE = DOCS / "emulator.md", DOCS / "emulator-error.svg"
FEWEST = 5  # welds in a cell of the map that is printed
CELL, TOP, LEFT = (96, 44), 70, 150  # drawing units
SHADES = (0.1, 0.2, 0.3, 0.5)  # mm, upper ends of the shades
HATCHES = (None, "sparse", "rising", "crossed", "dense")


@dataclass
class Report:
    """What was found for each number of sheets."""

    welds: dict[int, int]
    maps: dict[int, list[tuple[float, float, int, float, float]]] = field(default_factory=dict)
    rows: dict[int, dict[str, float]] = field(default_factory=dict)
    apart: dict[int, dict[str, float]] = field(default_factory=dict)
    errors: dict[int, dict[str, float]] = field(default_factory=dict)

    def add(
        self,
        sheets: int,
        inside: Compared,
        fine: Compared,
        share_inside: float,
        apart: dict[str, float],
    ) -> None:
        """Take what was found on the held-out welds inside the ground."""
        error, on_fine = inside.emulator - inside.solver, fine.emulator - fine.solver
        grown = inside.solver > 2e-3
        onset = (inside.over_onset > 0.85) & (inside.over_onset < 1.15)
        self.maps[sheets] = list(error_map(inside))
        self.apart[sheets] = apart
        self.errors[sheets] = {name: rms(inside.figure_errors[name]) for name in FIGURE_NAMES}
        self.rows[sheets] = {
            "welds": float(len(inside.joint)),
            "joints": float(len(np.unique(inside.joint))),
            "rms_mm": 1e3 * rms(error),
            "within_90_mm": 1e3 * within_90(error),
            "bias_mm": 1e3 * float(error.mean()),
            "grown_rms_percent": 100.0 * rms(error[grown] / inside.solver[grown]),
            "near_onset_rms_mm": 1e3 * rms(error[onset]),
            "default_grid_rms_mm": 1e3 * rms(on_fine),
            "default_grid_90_mm": 1e3 * within_90(on_fine),
            "share_inside": share_inside,
            "onset_rms_percent": 100.0 * rms(inside.window_errors["onset"]),
            "splash_rms_percent": 100.0 * rms(inside.window_errors["splash"]),
        }

    def tables(self) -> dict[str, Any]:
        """Everything as tables of ``about.toml``; lengths in mm where the key says so."""
        return {
            "apart": {str(k): values for k, values in self.apart.items()},
            "error": {str(k): {**self.errors[k], **self.rows[k]} for k in self.rows},
            "welds": {str(k): n for k, n in self.welds.items()},
            "map": [
                {
                    "sheets": sheets,
                    "thickness_from_mm": 1e3 * low,
                    "current_from": first,
                    "welds": count,
                    "rms_mm": 1e3 * one_rms,
                    "within_90_mm": 1e3 * within,
                }
                for sheets, cells in self.maps.items()
                for low, first, count, one_rms, within in cells
                if count >= FEWEST
            ],
        }


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, float):
        return f"{value:.6g}" if not value.is_integer() else f"{value:.1f}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_toml(one) for one in value) + "]"
    return str(value)


def _lines(known: dict[str, Any], name: str = "") -> Iterator[str]:
    tables = {key: value for key, value in known.items() if isinstance(value, dict)}
    lists = {
        key: value
        for key, value in known.items()
        if isinstance(value, list) and value and isinstance(value[0], dict)
    }
    if name:
        yield f"\n[{name}]"
    for key, value in known.items():
        if key not in tables and key not in lists:
            yield f"{key} = {_toml(value)}"
    for key, value in tables.items():
        yield from _lines(value, f"{name}.{key}" if name else key)
    for key, rows in lists.items():
        for row in rows:
            yield f"\n[[{key}]]"
            yield from (f"{each} = {_toml(value)}" for each, value in row.items())


def write_about(known: dict[str, Any]) -> None:
    """Write ``about.toml``."""
    head = "# Written by benchmarks/train_emulator.py, which says how; do not edit.\n"
    ABOUT.write_text(head + "\n".join(_lines(known)) + "\n", "utf-8")


def write_page(report: Report) -> None:
    """Write the page and its picture."""
    PICTURE.write_text(_picture(report), "utf-8")
    PAGE.write_text("\n".join(_page(report)) + "\n", "utf-8")


def _page(report: Report) -> Iterator[str]:
    yield "# Emulator"
    yield ""
    yield "Written by `./go bench train_emulator`. The emulator answers in place of the spot-weld"
    yield "solver where an answer is wanted at once. It was taught by the solver, so this page says"
    yield "how far it is from the solver, not from a weld; how far the solver is from published"
    yield "welds stands in [the validation report](spot.md)."
    yield ""
    yield f"Every held-out joint was welded with {len(SWEEP)} currents over its window; none of"
    yield "them was taught. Errors are of the nugget diameter, inside the ground. Welds without a"
    yield "nugget count as zero."
    yield ""
    yield (
        "| sheets | taught welds | held-out joints, welds | inside the ground | bias mm | rms mm "
        "| 90 % within mm | rms % over 2 mm | rms mm near the onset | default grid rms, 90 % mm |"
    )
    yield from _totals(report)
    yield ""
    yield "The nets were taught on a grid of 0.2 mm; the last column compares them with the grid of"
    yield "predictions, 0.1 mm, and so holds what the coarser grid costs too."
    yield ""
    yield "Near the onset a nugget begins with a jump, so a small error of the current is a large"
    yield "one of the diameter. In currents, root mean square over the held-out joints:"
    yield ""
    yield "| sheets | where a nugget begins % | where one in ten splashes % |"
    yield "|---|---|---|"
    for sheets, row in report.rows.items():
        yield (f"| {sheets} | {row['onset_rms_percent']:.1f} | {row['splash_rms_percent']:.1f} |")
    yield ""
    yield "## Error map"
    yield ""
    yield "![Rms error of the nugget over thickness and current](emulator-error.svg)"
    yield ""
    yield "Current is counted from the solver's own onset at that interface, thickness is the mean"
    yield "of the two sheets there."
    yield ""
    yield "| sheets | thickness mm | current over onset | welds | rms mm | 90 % within mm |"
    yield "|---|---|---|---|---|---|"
    for sheets, cells in report.maps.items():
        for low, first, count, one_rms, within in cells:
            if count >= FEWEST:
                yield (
                    f"| {sheets} | {_span(low, THICKNESS_BINS, 1e3)} "
                    f"| {_span(first, CURRENT_BINS, 1.0)} | {count} | {1e3 * one_rms:.2f} "
                    f"| {1e3 * within:.2f} |"
                )
    yield ""
    yield from _other_figures(report)


def _other_figures(report: Report) -> Iterator[str]:
    yield "## Other figures"
    yield ""
    yield "Root mean square against the solver: indentation, cooling time and heat relative, the"
    yield "heat-affected zone in mm; load is what presses the ring round a nugget open over what"
    yield "holds it."
    yield ""
    yield "| sheets | indentation % | heat-affected zone mm | 800 to 500 °C % | heat % | load % |"
    yield "|---|---|---|---|---|---|"
    for sheets, found in report.errors.items():
        yield (
            f"| {sheets} | {100 * found['indentation']:.1f} | {1e3 * found['haz_diameter']:.2f} "
            f"| {100 * found['cooling_t85']:.1f} | {100 * found['heat']:.1f} "
            f"| {100 * found['load']:.0f} |"
        )


def _totals(report: Report) -> Iterator[str]:
    yield "|---|---|---|---|---|---|---|---|---|---|"
    for sheets, row in report.rows.items():
        yield (
            f"| {sheets} | {report.welds[sheets]} | {row['joints']:.0f}, {row['welds']:.0f} "
            f"| {100 * row['share_inside']:.0f} % | {row['bias_mm']:+.3f} | {row['rms_mm']:.3f} "
            f"| {row['within_90_mm']:.3f} | {row['grown_rms_percent']:.1f} "
            f"| {row['near_onset_rms_mm']:.3f} "
            f"| {row['default_grid_rms_mm']:.3f}, {row['default_grid_90_mm']:.3f} |"
        )


def _span(low: float, bins: tuple[float, ...], factor: float) -> str:
    place = bins.index(low)
    if place == 0:
        return f"under {factor * bins[1]:g}"
    if place == len(bins) - 2:
        return f"over {factor * low:g}"
    return f"{factor * low:g} to {factor * bins[place + 1]:g}"


def _picture(report: Report) -> str:
    """The map as boxes: the figure in each, its ground the darker the larger."""
    columns, rows = len(CURRENT_BINS) - 1, len(THICKNESS_BINS) - 1
    block = rows * CELL[1] + TOP
    height = len(report.maps) * block + 20
    board = Drawing(
        "map",
        LEFT + columns * CELL[0] + 20,
        height,
        "Error of the emulator",
        "Rms error of the nugget diameter in millimetres against the solver, by sheets, thickness "
        "and current over the onset; the page lists the same figures.",
    )
    for order, (sheets, cells) in enumerate(report.maps.items()):
        top = order * block + TOP
        board.text((10, top - 42), f"{sheets} sheets: rms error in mm", 17, bold=True)
        board.text((10, top - 10), "sheet mm / current", 13)
        for j, first in enumerate(CURRENT_BINS[:-1]):
            middle = LEFT + (j + 0.5) * CELL[0]
            board.text((middle, top - 10), _span(first, CURRENT_BINS, 1.0), 13, anchor="middle")
        for index, (low, _first, count, one_rms, _within) in enumerate(cells):
            i, j = divmod(index, columns)
            if j == 0:
                board.text((10, top + (i + 0.6) * CELL[1]), _span(low, THICKNESS_BINS, 1e3), 13)
            _box(board, (LEFT + j * CELL[0], top + i * CELL[1]), count, 1e3 * one_rms)
    return board.finish()


def _box(board: Drawing, corner: tuple[float, float], count: int, error: float) -> None:
    known = count >= FEWEST and math.isfinite(error)
    name = HATCHES[sum(error > edge for edge in SHADES)] if known else None
    fill = board.hatch(name, ground="#ffffff", ink="#8899aa") if name else "#ffffff"
    board.box(corner, *CELL, fill=fill, ink=INK, stroke=1.0)
    words = f"{error:.2f}" if known else "few"
    place = (corner[0] + CELL[0] / 2, corner[1] + 0.62 * CELL[1])
    board.text(place, words, 16, anchor="middle", halo=True)
