"""A stack, a weld and the papers about them, made up for the tests of drawings and papers."""

import math
from datetime import datetime, timedelta, timezone
from xml.etree import ElementTree as ET

import numpy as np

from buttonhole.paper.card import BayCard, Setting
from buttonhole.paper.coupon_sheet import (
    CouponSheet,
    Difference,
    SetAndRead,
    SheetReading,
    Signature,
)
from buttonhole.paper.figure import (
    DrawnArcJoint,
    DrawnArcSection,
    DrawnBack,
    DrawnBoundary,
    DrawnCap,
    DrawnCourse,
    DrawnCurve,
    DrawnCycle,
    DrawnFact,
    DrawnForce,
    DrawnGrowth,
    DrawnHidden,
    DrawnLimit,
    DrawnLobe,
    DrawnNugget,
    DrawnRing,
    DrawnScatter,
    DrawnSection,
    DrawnSheet,
    DrawnSpan,
    DrawnStack,
    DrawnWindow,
    SheetLevels,
)
from buttonhole.weld.spot.result import Section

SVG = "{http://www.w3.org/2000/svg}"
SHOP_TIME = timezone(timedelta(hours=1))
# As long as the desk makes it: kind, number, and the hash that stands witness.
CODE = "release 01928f3e-7c4b-7e9a-9d2f-3b1e6a5c4d21 " + "9f86d081" * 8
ISSUED = datetime(2026, 11, 25, 9, 5, tzinfo=SHOP_TIME)

SHEETS = (
    DrawnSheet(0.7e-3, "DC04", "GI"),
    DrawnSheet(1.2e-3, "HCT600X", "GI"),
    DrawnSheet(1.6e-3, "22MnB5", "AlSi"),
    DrawnSheet(2.0e-3, "HCT980X", "ZM"),
)
LIMITS = tuple(
    (DrawnLimit(4e-3 * math.sqrt(t), "4√t"), DrawnLimit(5e-3 * math.sqrt(t), "5√t"))
    for t in (0.7, 1.2, 1.6)
)

HOSTILE = (
    '#panic("x") $ * _ \\ [a](b) <script>alert(1)</script> & \' "'
    + "W" * 60
    + " שלום سلام 日本 \U0001f600 \u202e turned \x00 "
    + "x" * 500
)


def parsed(picture: str) -> ET.Element:
    """Read a drawing as XML."""
    return ET.fromstring(picture)  # noqa: S314 - drawn in this process, from nobody else


def drawn_stack(count: int) -> DrawnStack:
    """Two to four sheets between a flat and a radiused cap."""
    return DrawnStack(
        sheets=SHEETS[:count],
        cap_a=DrawnCap(6e-3),
        cap_b=DrawnCap(6e-3, 50e-3),
        limits=LIMITS[: count - 1],
    )


# The made-up peak temperature is a bell round the axis and the middle of the stack.
ROOM, PEAK = 20.0, 2000.0
REACH, DEPTH = 3.4e-3, 1.9e-3


def radius_at(level: float, z: float, middle: float) -> float:
    """Where the bell passes a level at one height [m]."""
    left = math.log((PEAK - ROOM) / (level - ROOM)) - ((z - middle) / DEPTH) ** 2
    return REACH * math.sqrt(left) if left > 0 else 0.0


def bell_section(
    thicknesses: tuple[float, ...], nr: int = 80, nz: int = 120, cap: float = 2e-3
) -> Section:
    """A half section without indentation whose isotherms are known in closed form."""
    total = sum(thicknesses)
    r_faces, z_faces = np.linspace(0, 8e-3, nr + 1), np.linspace(-cap, total + cap, nz + 1)
    r, z = np.meshgrid((r_faces[1:] + r_faces[:-1]) / 2, (z_faces[1:] + z_faces[:-1]) / 2)
    part = np.full(r.shape, -1)
    edges = np.concatenate(([0.0], np.cumsum(thicknesses)))
    for sheet in range(len(thicknesses)):
        part[(z >= edges[sheet]) & (z < edges[sheet + 1])] = sheet + 1
    part[(z < 0) & (r < 3e-3 - 1.5 * z)] = 0
    part[(z >= total) & (r < 3e-3 + 1.5 * (z - total))] = len(thicknesses) + 1
    peak = ROOM + (PEAK - ROOM) * np.exp(-((r / REACH) ** 2) - ((z - total / 2) / DEPTH) ** 2)
    return Section(r_faces, z_faces, peak, 0.9 * peak, part)


def drawn_section() -> DrawnSection:
    """Three sheets with nuggets at both interfaces."""
    return DrawnSection(
        section=bell_section((0.7e-3, 1.2e-3, 1.6e-3)),
        levels=(
            SheetLevels(1509.0, 886.0, 721.0, 907.0),
            SheetLevels(1500.0, 850.0, 715.0, 907.0),
            SheetLevels(1478.0, 824.0, 721.0, None, 550.0),
        ),
        nuggets=(
            DrawnNugget(2.9e-3, 2.1e-3, 3.6e-3, LIMITS[0][0], (2.9e-3, 3.7e-3)),
            DrawnNugget(3.6e-3, 3.1e-3, 4.2e-3, LIMITS[1][0]),
        ),
        indentation=0.06e-3,
    )


def drawn_window() -> DrawnWindow:
    """A window with two interfaces, splash, a chosen point and its scatter."""
    currents = tuple(6000.0 + 250.0 * step for step in range(21))

    def curve(start: float, most: float, limits: tuple[DrawnLimit, ...]) -> DrawnCurve:
        rise = [most * (1 - math.exp(-max(0.0, a - start) / 1500.0)) for a in currents]
        low, high = (tuple(max(0.0, d + s * 0.4e-3) for d in rise) for s in (-1, 1))
        return DrawnCurve(tuple(rise), low, high, limits)

    return DrawnWindow(
        currents=currents,
        curves=(curve(6800.0, 5.6e-3, LIMITS[0]), curve(6200.0, 7e-3, LIMITS[1])),
        usable=(8200.0, 9900.0),
        expulsion_current=10100.0,
        chosen_current=9100.0,
        chosen_diameters=(4.4e-3, 6.0e-3),
        scatter=DrawnScatter(8700.0, 9500.0, (3.9e-3, 5.5e-3), (4.8e-3, 6.5e-3)),
        setting="240 ms, 3.5 kN, MFDC",
    )


def drawn_lobe() -> DrawnLobe:
    """Two forces, one without usable current at the shortest time, and a robust point."""
    times = tuple(0.08 + 0.04 * step for step in range(6))

    def force(newtons: float, shift: float) -> DrawnForce:
        low = tuple(5200.0 + shift + 300.0 / time for time in times)
        high = tuple(9500.0 + 2.0 * shift + 200.0 / time for time in times)
        splash = (math.nan, *high[1:])
        return DrawnForce(
            newtons,
            (math.nan, *low[1:]),
            (math.nan, *high[1:]),
            (
                DrawnBoundary("least weld", "1-2: 4.02 mm", low),
                DrawnBoundary("splash", "splash", splash),
                DrawnBoundary("dent", "dent A", tuple(one + 100.0 for one in high)),
            ),
            (0.16, 9e3),
            "widest 3.8 kA at 160 ms",
        )

    return DrawnLobe(times, (5e3, 13e3), (force(2.2e3, 0.0), force(2.75e3, 350.0)), "4.5 × √t")


def drawn_growth() -> DrawnGrowth:
    """A weld of 190 ms against time."""
    times = tuple(4e-3 * step for step in range(61))
    return DrawnGrowth(
        times=times,
        current=tuple(9100.0 if 0.01 < t < 0.2 else 0.0 for t in times),
        diameters=tuple(
            tuple(most * (1 - math.exp(-max(0.0, t - start) / 0.05)) for t in times)
            for start, most in ((0.06, 4.4e-3), (0.04, 6.0e-3))
        ),
        limits=(LIMITS[0][0], LIMITS[1][0]),
    )


def drawn_cycle(courses: int = 3) -> DrawnCycle:
    """Points of a weld of 200 ms held for 150 ms that heat up evenly and cool by Newton's law."""
    times = tuple(5e-3 * step for step in range(201))
    return DrawnCycle(
        courses=tuple(
            DrawnCourse(
                name=f"centre {n + 1}-{n + 2}",
                times=times,
                temperatures=tuple(
                    20.0 + most * (t / 0.2 if t < 0.2 else math.exp(-(t - 0.2) / 0.2))
                    for t in times
                ),
                cooling=(0.097, 0.08, 0.12) if most > 780.0 else None,
            )
            for n, most in enumerate((2000.0, 1500.0, 700.0)[:courses])
        ),
        current_off=0.2,
        release=0.35,
        levels=(("melts", 1509.0), ("Ac3", 930.0), ("Ac1", 775.0)),
    )


def bay_card_of(count: int = 3, settings: int = 6, *, demo: bool = False) -> BayCard:
    """A card with two to four sheets and up to nine numbers to set."""
    numbers = (
        Setting("Welding current", "9.1 kA", "rms, MFDC"),
        Setting("Electrode force", "3.5 kN", "350 daN"),
        Setting("Weld time", "240 ms", "12 cycles at 50 Hz"),
        Setting("Squeeze time", "300 ms", "15 cycles at 50 Hz"),
        Setting("Hold time", "200 ms", "10 cycles at 50 Hz"),
        Setting("Up-slope", "40 ms", "2 cycles at 50 Hz"),
        Setting("Pulse 2", "10.5 kA", "120 ms"),
        Setting("Cool time", "40 ms", "2 cycles at 50 Hz"),
        Setting("Down-slope", "60 ms", "3 cycles at 50 Hz"),
    )
    return BayCard(
        card_id="K7-03B",
        group="B",
        subject="Job 24-117, left sill, joints J1 and J4",
        method="SPOT WELD",
        stack=drawn_stack(count),
        settings=numbers[:settings],
        machine="Gun A, program 4.2, arms 250",
        outlet="W1",
        lead="L10",
        dress_after=20,
        valid_until=datetime(2026, 11, 25, 16, 30, tzinfo=SHOP_TIME),
        max_welds=40,
        procedure="Body repair book, sill outer, revision 7, read 2026-11-24",
        released_by="Ines Okoro",
        issued=ISSUED,
        qr=CODE,
        ends_when=("new shift", "any splash"),
        demo=demo,
    )


def coupon_sheet_of(count: int = 3, *, demo: bool = False) -> CouponSheet:
    """A sheet with every interface of two to four sheets torn."""
    return CouponSheet(
        coupon_id="K7-03B",
        subject="Job 24-117, left sill, joints J1 and J4",
        stack=drawn_stack(count),
        settings=(
            SetAndRead("Welding current", "9.1 kA", "8.7 kA"),
            SetAndRead("Electrode force", "3.5 kN", "3.4 kN"),
            SetAndRead("Weld time", "240 ms", "240 ms"),
            SetAndRead("Hold time", "200 ms"),
        ),
        readings=tuple(
            SheetReading(
                interface=f"{order + 1}-{order + 2}",
                test="peel",
                mode="full button",
                d_max=5.0e-3 + order * 1e-4,
                d_min=4.6e-3,
                limit=LIMITS[order][0].diameter,
                uncertainty=0.36e-3,
                guard_band=0.36e-3,
                verdict="accept",
                upper=6.3e-3,
                note="dent 0.11 mm",
            )
            for order in range(count - 1)
        ),
        qr=CODE,
        issued=ISSUED,
        made="2026-11-25 08:40, bay 2, 19 °C, by Tomas Veld",
        tested="2026-11-25 08:52 by Priya Marr, calliper V3, calibrated 2026-06-01",
        machine="Gun A, serial 0417, program 4.2, arms 250, 31 welds since dressing",
        supply="outlet W1, lead L10",
        differences=(
            Difference("outlet, lead", "W1, L10", "W3, L25", same=False),
            Difference("stack order", "0.7/1.2/1.6", "0.7/1.2/1.6", same=True),
            Difference("sealer", "none", "", same=None),
        ),
        criterion="4√t, thinner sheet of the interface; shop rule, status read",
        verdict="ACCEPT",
        reason="Every interface is over its limit and its guard band.",
        counting="Counting alone: 2 passed of 2 proves little.",
        next_step="Release the set-up.",
        signatures=(Signature("welder", "Tomas Veld"), Signature("examiner")),
        demo=demo,
    )


def drawn_arc_section() -> DrawnArcSection:
    """A plug made up by a formula: hottest in the middle, a hole of 6 mm in the upper sheet."""
    x_faces = np.linspace(-10e-3, 10e-3, 81)
    z_faces = np.linspace(0.0, 3.5e-3, 15)
    x, z = (x_faces[:-1] + x_faces[1:]) / 2, (z_faces[:-1] + z_faces[1:]) / 2
    part = np.full((14, 80), -1, dtype=np.int64)
    part[4:8, np.abs(x) > 3e-3] = 0
    part[8:14] = 1
    part[2:8, np.abs(x) < 3e-3] = 2
    peak = 1900.0 * np.exp(-((x[None, :] / 5e-3) ** 2) - (z[:, None] / 5e-3) ** 2)
    return DrawnArcSection(
        x_faces=x_faces,
        z_faces=z_faces,
        peak=np.where(part < 0, np.nan, peak),
        part=part,
        levels=(SheetLevels(1500.0, 900.0, 750.0, softened=600.0), SheetLevels(1500.0, None, None)),
        spans=(DrawnSpan("fused 1-2", 4.8e-3, 0.6e-3, 7.0e-3, 2e-3, 5e-3),),
        facts=(
            DrawnFact("depth into sheet 2", 1.48e-3, 0.0, 1.5e-3),
            DrawnFact("hottest on the back", 1522.0, 1323.0, 1655.0, is_length=False),
        ),
        has_axis=True,
        zinc=True,
    )


def drawn_back(length: float = 0.0) -> DrawnBack:
    """Tint, zinc ring and a molten spot."""
    rings = (
        DrawnRing("tint", "straw tint", 18.1e-3, 16.4e-3, 20.0e-3),
        DrawnRing("zinc", "zinc ring", 8.0e-3, 6.7e-3, 9.3e-3),
        DrawnRing("molten", "molten through", 1.8e-3, 0.0, 5.2e-3),
    )
    return DrawnBack(rings, "a raised mark: molten through and held", length)


def drawn_arc_joint(kind: str = "plug") -> DrawnArcJoint:
    """A plug, a lap or a backed butt."""
    if kind == "plug":
        return DrawnArcJoint("plug", SHEETS[:3], (9e-3, 7e-3), 0.3e-3, torch="wire G 3Si1")
    sheets = SHEETS[:2] if kind == "lap" else SHEETS[:3]
    return DrawnArcJoint(kind, sheets, (), 0.5e-3, math.radians(45.0), 1.5e-3, 40e-3, "gas M21")


def drawn_hidden() -> DrawnHidden:
    """How surely an interface is fused, made up by a formula."""
    radii = tuple(0.1e-3 * step for step in range(41))
    now = tuple(1.0 / (1.0 + math.exp((r - 2.4e-3) / 0.3e-3)) for r in radii)
    before = tuple(1.0 / (1.0 + math.exp((r - 2.2e-3) / 0.7e-3)) for r in radii)
    return DrawnHidden("Sheet 1 to 2", radii, before, now, 4.8e-3, 3.1e-3, 6.5e-3, 5e-3)
