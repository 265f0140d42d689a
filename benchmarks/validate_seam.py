"""Score the seam solver; write the page docs/validation/seam.md.

Run as ``python -m benchmarks.validate_seam``: closed forms, grids, speed, published fillets with a
baseline beside them, windows, and the trade's rules with the size of each effect.
"""

import dataclasses
import math
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.machine_map import ON_A_SEAM, operating_point
from buttonhole.weld.arc.seam import (
    DEFAULT,
    FINE,
    MODEL_VERSION,
    PREVIEW,
    JointKind,
    Resolution,
    SeamJoint,
    SeamSheet,
    predict_set_up,
    seam_set_up,
    simulate,
    skip,
)
from buttonhole.weld.arc.seam.ensemble import middle
from buttonhole.weld.arc.seam.reading import SeamReading, read
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire

PAGE = Path(__file__).resolve().parent.parent / "docs" / "validation" / "seam.md"
MM = 1e-3
REFERENCE = "1 + 1 mm DC04, 0.8 mm G 3Si1, M21, 5.6 m/min, 17.5 V, 13 mm tube to work"


def sheet(mm: float, coating: Coating = Coating.BARE) -> SeamSheet:
    """DC04 of ``mm``."""
    return SeamSheet.of_steel(Sheet(find_steel("DC04"), mm * MM, coating))


def lap(
    upper: float = 1.0, lower: float = 1.0, length: float = 40.0, gap: float = 0.0
) -> SeamJoint:
    """Lap of two sheets, all in mm."""
    return SeamJoint(JointKind.LAP, sheet(upper), sheet(lower), length * MM, gap=gap * MM)


def machine(
    work: float = 45.0, aim: float = 0.0, speed: float = 10.0, tube: float = 13.0, feed: float = 5.6
) -> ArcSetUp:
    """Machine of the reference, in degrees, mm, mm/s, m/min."""
    return ArcSetUp(
        find_wire("G 3Si1"), 0.8 * MM, find_gas("M21"), feed / 60.0, 17.5, tube * MM,
        travel_speed=speed * MM, work_angle=math.radians(work), aim_offset=aim * MM,
    )  # fmt: skip


def welded(joint: SeamJoint, set_up: ArcSetUp, grid: Resolution = DEFAULT) -> SeamReading:
    """One steady seam, read."""
    return read(simulate(joint, seam_set_up(joint, set_up), grid))


def figures(reading: SeamReading) -> list[str]:
    """Cells of a table, mm and s."""
    lower, upper = reading.sheets[:2]
    lengths = (
        lower.penetration, upper.penetration, lower.haz_edge, upper.haz_edge, lower.haz_band,
        upper.haz_band, lower.zinc_width, reading.leg_lower, reading.throat,
    )  # fmt: skip
    cells = [f"{middle(reading, each) / MM:.2f}" for each in lengths]
    return [*cells, f"{middle(reading, reading.cooling_t85):.1f}",
            f"{middle(reading, lower.outer_peak):.0f}"]  # fmt: skip


HEAD = (
    "| case | melted: lower | upper, from edge | zone edge: lower | upper | band: lower | upper "
    "| over 907 °C, back | leg | throat | t8/5 s | back °C |"
)


def line(name: str, reading: SeamReading) -> str:
    """Row of the table of cases."""
    return f"| {name} | " + " | ".join(figures(reading)) + " |"


def rules() -> Iterator[str]:
    """Lines of the table of the trade's rules."""
    yield HEAD
    yield "|" + "---|" * 12
    for work in (30.0, 45.0, 60.0, 90.0):
        yield line(f"{work:.0f}° into the joint", welded(lap(), machine(work)))
    for aim in (1.5, 3.0, -1.5, -3.0):
        side = "lower" if aim > 0 else "upper"
        yield line(f"90°, {abs(aim):g} mm on to the {side}", welded(lap(), machine(90.0, aim)))
    for speed in (6.0, 8.0, 13.0):
        yield line(f"45°, {speed:g} mm/s", welded(lap(), machine(speed=speed)))
    for gap in (0.3, 0.5, 1.0):
        yield line(f"45°, gap {gap:g} mm", welded(lap(gap=gap), machine()))
    for tube in (10.0, 15.0, 20.0):
        yield line(f"1 on 1.5 mm, tube {tube:g} mm", welded(lap(1.0, 1.5), machine(tube=tube)))


def grids() -> Iterator[str]:
    """Lines of the table of grids."""
    yield HEAD.replace("| case", "| grid, CPU s, cells x stages")
    yield "|" + "---|" * 12
    named = (
        ("preview", PREVIEW), ("default", DEFAULT), ("three cells a sheet", FINE),
        ("0.3 mm, four a sheet", Resolution(cell=0.3e-3, rows=4)),
        ("default, steps a third", Resolution(travel=0.08, longest_arc_step=4e-3,
                                              cooling_growth=0.006)),
    )  # fmt: skip
    for name, grid in named:
        begun = time.process_time()
        sim = simulate(lap(), seam_set_up(lap(), machine()), grid)
        took = time.process_time() - begun
        count = int((sim.part >= 0).sum())
        yield line(f"{name}, {took:.2f}, {count} x {sim.stages}", read(sim))


def skipping() -> Iterator[str]:
    """Lines of the table of sequences over 60 mm."""
    joint = lap(length=60.0)
    base = seam_set_up(joint, machine())
    yield "| sequence | pause s | hottest, 15 mm beside the seam °C | 25 mm |"
    yield "|---|---|---|---|"
    cases: list[tuple[str, tuple[int, ...], float]] = [("in one go", (0,), 0.0)]
    for order in ((0, 2, 1), (0, 2, 4, 1, 3, 5)):
        said = "-".join(str(n + 1) for n in order)
        cases += [(said, order, pause) for pause in (0.0, 10.0, 30.0)]
    for name, order, pause in cases:
        runs = skip(60 * MM, order, 10 * MM, pause)
        sim = simulate(joint, dataclasses.replace(base, runs=runs))
        near = slice(1, sim.layout.high[1])
        peaks = [
            max(float(np.interp(-off * MM, sim.y[near], row)) for row in sim.peak[1:-1, 1, near])
            for off in (15, 25)
        ]
        yield f"| {name} | {pause:g} | {peaks[0]:.0f} | {peaks[1]:.0f} |"


def printed(row: dict[str, float | str | None], feed: float) -> ArcSetUp:
    """Set-up of a row of the manuals at the middle of what is printed, with a wire feed [m/s]."""

    def mean(name: str, unit: str, other: float = 0.0) -> float:
        low, high = row[f"{name}_min [{unit}]"], row[f"{name}_max [{unit}]"]
        return 0.5 * (float(low) + float(high)) if low and high else other

    return ArcSetUp(
        find_wire("G 3Si1"), min((0.8, 1.0, 1.2), key=lambda d: abs(d - mean("wire", "mm"))) * MM,
        find_gas("M21" if row["gas"] == "M21" else "C1"), feed, mean("U", "V"),
        mean("CTWD", "mm", 12.0) * MM, travel_speed=mean("speed", "cm/min") / 6000.0,
        work_angle=math.radians(45.0),
    )  # fmt: skip


def fed(row: dict[str, float | str | None]) -> ArcSetUp:
    """The set-up whose current is the middle of what is printed."""
    wanted = 0.5 * (float(row["I_min [A]"] or 0.0) + float(row["I_max [A]"] or 0.0))
    low, high = 0.02, 0.4
    for _ in range(40):
        feed = 0.5 * (low + high)
        current = operating_point(printed(row, feed)).current.value
        low, high = (feed, high) if current < wanted else (low, feed)
    return printed(row, low)


def fillets() -> Iterator[str]:
    """Lines of the tables of published fillets and laps."""
    rows = [dict(row) for row in table("arc_settings_published").rows()]
    steel = [row for row in rows if row["gas"] != "I1" and float(row["t [mm]"] or 0.0) <= 3.2]
    yield "| source | t mm | leg printed mm | computed, lower sheet | root of twice the area |"
    yield "|---|---|---|---|---|"
    pairs = []
    for row in steel:
        if row["joint"] != "fillet horizontal":
            continue
        t, set_up = float(row["t [mm]"] or 0.0), fed(row)
        want = 0.5 * (float(row["leg_min [mm]"] or 0.0) + float(row["leg_max [mm]"] or 0.0))
        joint = lap(t, t, 30.0)
        area = operating_point(set_up).fill_rate / float(set_up.travel_speed or 1.0)
        reading = welded(joint, set_up)
        have, simple = middle(reading, reading.leg_lower) / MM, math.sqrt(2.0 * area) / MM
        pairs.append((want, have, simple))
        yield f"| {row['source']} | {t:g} | {want:.2f} | {have:.2f} | {simple:.2f} |"
    want, have, simple = np.array(pairs).T
    rms = [100 * math.sqrt(float(((each / want - 1) ** 2).mean())) for each in (have, simple)]
    flat = 100 * math.sqrt(float(((want.mean() / want - 1) ** 2).mean()))
    yield ""
    yield (
        f"Root mean square error: computed {rms[0]:.0f} %, root of twice the area {rms[1]:.0f} %, "
        f"the mean of all printed legs {flat:.0f} %. The printed legs are of T fillets, where both "
        "legs are free; in a lap the upper one ends at the sheet's thickness."
    )
    yield ""
    yield (
        "| lap, source | t mm | heat J/mm | melted: lower mm | probability both fuse | of a hole "
        "| t8/5 s | EN 1011-2, long seam s |"
    )
    yield "|---|---|---|---|---|---|---|---|"
    for row in steel:
        if row["joint"] == "lap fillet":
            t = float(row["t [mm]"] or 0.0)
            weld = predict_set_up(lap(t, t), fed(row))
            depth = weld.sheets[0].penetration
            cooling = weld.cooling_t85.value if weld.cooling_t85 else math.nan
            reference = weld.long_seam.governing if weld.long_seam else math.nan
            yield (
                f"| {row['source']} | {t:g} | {weld.heat_per_length / 1e3:.0f} "
                f"| {depth.value / MM:.2f} ({depth.low / MM:.2f} to {depth.high / MM:.2f}) "
                f"| {weld.fusion_probability:.2f} | {weld.burn_through_probability:.2f} "
                f"| {cooling:.1f} | {reference:.1f} |"
            )


def brazes() -> Iterator[str]:
    """Lines of the table of the published brazing window."""
    yield "| arc energy J/mm | hottest steel °C | wetted: lower mm | upper | over 907 °C, back mm |"
    yield "|---|---|---|---|---|"
    zinc = sheet(0.8, Coating.GI)
    joint = SeamJoint(JointKind.LAP, zinc, zinc, 30 * MM)
    wire, argon = find_wire("S Cu 6560"), find_gas("I1")
    for energy in (45.0, 58.5, 75.0, 93.6, 120.0):
        low, high = 0.01, 0.3  # m/s of wire, 1.0 mm, 13.5 V, 80 cm/min
        for _ in range(40):
            feed = 0.5 * (low + high)
            set_up = ArcSetUp(
                wire, 1e-3, argon, feed, 13.5, 12 * MM, travel_speed=0.8 / 60.0,
                work_angle=math.radians(60.0),
            )  # fmt: skip
            power = operating_point(set_up).arc_power.value
            low, high = (feed, high) if power / (0.8 / 60.0) < energy * 1e3 else (low, feed)
        sim = simulate(joint, seam_set_up(joint, set_up))
        reading = read(sim)
        hot = max(float(sim.peak[sim.part == code].max()) for code in (0, 1))
        widths = [middle(reading, each.wetted_width) / MM for each in reading.sheets]
        back = middle(reading, reading.sheets[0].zinc_width) / MM
        yield f"| {energy:g} | {hot:.0f} | {widths[0]:.2f} | {widths[1]:.2f} | {back:.2f} |"


NOTES = """
What the model explains, in part and not at all stands in the docstring of the prediction. In short:
aim, tube distance, gap, speed and pauses are explained. A wider heat zone from a torch at 90
degrees is **not**: turned about the same aim point the band stays or shrinks, and what widens it is
an arc that dwells. So a wide zone does not prove a wrong angle. The travel angle is a rule without
a source. Order alone does not keep the neighbourhood cool: short parts with pauses do.

Where it loses: legs of published fillets come out short, worse than the plain root of twice the
area, because metal stops where the sheet is not hot enough to be wetted. For the same reason
published lap settings for 2 to 3 mm sheet, which surely fuse in the hands of their makers, get a
probability of a third. Nothing was moved to mend that: there is no section to hold it to.

Nothing here has been compared with a sectioned seam of ours. Melted depth in thin sheet is close to
all or nothing: read its probability, not its digits.
""".strip()


def page() -> str:
    """Return the whole page."""
    lines = [
        "# Seams: solver against closed forms, published settings and the trade's rules",
        "",
        f"Model {MODEL_VERSION}. Written by `python -m benchmarks.validate_seam`. Lengths in mm, "
        f"in the middle of the seam. Reference: {REFERENCE}, 40 mm at 10 mm/s, efficiency "
        f"{ON_A_SEAM.value:g}.",
        "",
        NOTES,
        "",
        "## The trade's rules, with sizes",
        "",
        *rules(),
        "",
        "## Sequences over 60 mm",
        "",
        *skipping(),
        "",
        "## Published settings",
        "",
        "From operating manuals, at the middle of what is printed, wire feed by the melting law.",
        "",
        *fillets(),
        "",
        "## Arc brazing, zinc-coated 0.8 + 0.8 mm, CuSi3",
        "",
        "A published window for pore-free brazed laps is 58.5 to 93.6 J/mm; its sheet thickness "
        "was not seen.",
        "",
        *brazes(),
        "",
        "## Grids and speed",
        "",
        "CPU seconds on one core, kernels loaded. The tests hold the default grid to the moving "
        "disc on a plate within 0.5 % of the peak, cooling time to the thin plate's within 0.5 %, "
        "the books of energy to 1e-10.",
        "",
        *grids(),
    ]
    return "\n".join(lines).rstrip() + "\n"


def main() -> None:
    """Write the page and print it."""
    simulate(lap(length=10.0), seam_set_up(lap(length=10.0), machine()), PREVIEW)
    text = page()
    PAGE.write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
