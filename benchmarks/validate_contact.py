"""The pressed contact by elastic-plastic finite elements against the reduced laws.

Run with ``./go bench validate_contact``; it writes ``docs/validation/contact.md`` and prints it.
Takes some minutes: two equal sheets, one by symmetry, under flat, radiused and domed caps, cold and
as hot as at moments of published welds.
"""

import math
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from benchmarks.elastic_plastic import DoesNotSettle
from benchmarks.hot_sheets import (
    Snapshot,
    heated_under_force,
    of_weld,
    pressed_hot,
    taken_from,
)
from benchmarks.pressed_sheets import CapShape, Pressed, give_metal, seen, sheet
from benchmarks.published_rows import published_welds
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.constants import CONTACT
from buttonhole.weld.spot.contact_mechanics import cap_radius, first_depth
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import cap_strength

PAGE = Path(__file__).resolve().parent.parent / "docs" / "validation" / "contact.md"
SOFT, STRONG = 190e6, 900e6  # Pa, flow stress of cold DC04 and of a strong sheet
COPPER = cap_strength()  # Pa
COLD = ((0.5e-3, 2.25e-3, 1.33e3), (0.8e-3, 2.5e-3, 2.0e3), (1.5e-3, 3.25e-3, 3.55e3),
        (3.2e-3, 4.5e-3, 8.04e3))  # fmt: skip # t, face [m], force [N]
HEATED = (0.5e-3, 1.5e-3)  # m, rows nearest to these
HOT_ROWS = (0.5e-3, 0.8e-3, 1.5e-3, 3.2e-3)  # m, rows nearest to these
SHARES = (0.25, 0.5, 0.75, 1.0)
DOME = 40e-3  # m
DOMED = (("DC04", 0.8e-3, 2.5e3, 7e3, 0.2), ("DP1180", 1.2e-3, 3.75e3, 6e3, 0.35),
         ("DC04", 1.5e-3, 3.5e3, 10e3, 0.3))  # fmt: skip # steel, t [m], N, A, s
DOME_SHARES = (0.05, 0.1, 0.15, 0.25, 0.5, 0.75, 1.0)
DEPTHS = (
    1e-4, 1e-3, 3e-3, 6e-3, 0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15, 0.18,
    0.22, 0.26, 0.3,
)  # fmt: skip # -, of the thickness
BODY = 8e-3  # m


def under(t: float, cap: CapShape, strength: float, forces: list[float], copper: float | None):
    """A cold sheet under growing forces [N]; stops where the elements do not settle."""
    press = sheet(t, cap, max(cap.face, 1.5e-3) + 1.5 * t, 10, copper=copper)
    give_metal(press, strength, copper=copper)
    press.press(1e-7)
    found = []
    for force in forces:
        try:
            press.load(force)
        except DoesNotSettle:
            break
        found.append(seen(press))
    return found


def law_radius(force: float, strength: float, cap: CapShape) -> float:
    """Radius [m] at which the program's cold cap rests."""
    depth = first_depth(force, min(strength, COPPER), cap.face, cap.dome)
    return float(cap_radius(depth, cap.face, cap.dome, BODY))


def cold_flat() -> Iterator[str]:
    """Lines on flat caps: radii and depth against force."""
    yield "| t mm | face mm | force kN | pressure over strength | faying gain over t | depth µm |"
    yield "|---|---|---|---|---|---|"
    for t, face, force in COLD:
        full = 2.4 * SOFT * math.pi * face**2
        for found in under(t, CapShape(face=face), SOFT, [force / 2, force, full / 2, full], None):
            over = found.force / (math.pi * face**2 * SOFT)
            gain = (found.faying_radius - face) / t
            yield (
                f"| {1e3 * t:.1f} | {2e3 * face:.1f} | {found.force / 1e3:.2f} | {over:.2f} "
                f"| {gain:.2f} | {1e6 * found.approach:.1f} |"
            )


def cold_round() -> Iterator[str]:
    """Lines on domed and radiused caps of copper that yields."""
    yield (
        "| t mm | cap | strength MPa | force kN | radius at the cap mm | law mm | if fully plastic "
        "| pressure over strength | faying gain over t |"
    )
    yield "|---|---|---|---|---|---|---|---|---|"
    cases = [
        (*COLD[1], 50e-3, SOFT), (*COLD[1], 50e-3, STRONG), (*COLD[1], 100e-3, SOFT),
        (*COLD[1], 100e-3, STRONG), (*COLD[2], 50e-3, SOFT), (*COLD[3], 50e-3, SOFT),
        (*COLD[3], 50e-3, STRONG),
    ]  # fmt: skip
    for t, face, force, dome, strength in cases:
        for cap, word in (
            (CapShape(dome=dome), f"dome R{1e3 * dome:.0f}"),
            (CapShape(face=face, dome=dome), f"R{1e3 * dome:.0f}, face {2e3 * face:.1f}"),
        ):
            if cap.face > 0.0 and (strength, dome) != (SOFT, 50e-3):
                continue
            found = under(t, cap, strength, [force / 4, force / 2, force], COPPER)
            if len(found) < 3:
                yield f"| {1e3 * t:.1f} | {word} | does not settle |"
                continue
            last, plastic = found[-1], math.sqrt(force / (3 * math.pi * strength))
            over = force / (math.pi * last.cap_radius**2 * strength)
            yield (
                f"| {1e3 * t:.1f} | {word} | {strength / 1e6:.0f} | {force / 1e3:.2f} "
                f"| {1e3 * last.cap_radius:.2f} | {1e3 * law_radius(force, strength, cap):.2f} "
                f"| {1e3 * plastic:.2f} | {over:.2f} "
                f"| {(last.faying_radius - last.cap_radius) / t:.2f} |"
            )


def sinking(snapshot: Snapshot) -> list[Pressed]:
    """As far as the elements settle and no force falls, which is the mesh giving way."""
    found = pressed_hot(snapshot, DEPTHS)
    forces = np.array([one.force for one in found])
    fallen = np.flatnonzero(np.diff(forces) < -0.03 * forces[:-1])
    return found[: int(fallen[0]) + 1] if len(fallen) else found


def at(found: list[Pressed], force: float, name: str) -> float:
    """A figure at a force [N], straight between those computed; NaN where never reached."""
    forces = [one.force for one in found]
    if not found or max(forces) < force:
        return math.nan
    last = int(np.argmax(np.array(forces) >= force)) + 1
    return float(np.interp(force, forces[:last], [getattr(one, name) for one in found[:last]]))


def borne_at(found: list[Pressed], depth: float) -> float:
    """Force [N] at a depth [m]; NaN where never reached."""
    if not found or found[-1].approach < depth * (1 - 1e-9):
        return math.nan
    return float(np.interp(depth, [one.approach for one in found], [one.force for one in found]))


def hot_tables() -> tuple[list[str], list[str]]:
    """Lines on what resists a sinking cap, and on the faying contact at the force of the weld."""
    rows = [row for row in published_welds() if row.source == "schedule_class_a"]
    resisting = [
        "| t mm | of the weld time | radius over t | mean under the cap MPa | ring beside it MPa "
        "| pressure at 2 % of t MPa | over the mean | over the ring | at 5 % MPa "
        "| on the face MPa |",
        "|---|---|---|---|---|---|---|---|---|---|",
    ]
    faying = [
        "| t mm | of the weld time | nugget mm | depth over t | solver's | radius at the cap mm "
        "| faying mm | gain over t | centre over mean | over the flow stress | apart µm "
        "| thickest over t |",
        "|---|---|---|---|---|---|---|---|---|---|---|---|",
    ]
    for thickness in HOT_ROWS:
        row = min(rows, key=lambda one: abs(one.thickness - thickness))
        for share in SHARES:
            hot = of_weld(row, share)
            found = sinking(hot)
            resisting.append(_resisting(hot, share, found))
            faying.append(_faying(hot, share, found))
            print(resisting[-1], faying[-1], sep="\n", flush=True)
    return resisting, faying


def _resisting(hot: Snapshot, share: float, found: list[Pressed]) -> str:
    t, a = hot.thickness, hot.face
    area = math.pi * a * a * 1e6
    mean, ring = hot.mean(0.0, a, t / 2) / 1e6, hot.mean(a, a + t / 2) / 1e6
    early, late = borne_at(found, 0.02 * t) / area, borne_at(found, 0.05 * t) / area
    return (
        f"| {1e3 * t:.2f} | {share:.2f} | {a / t:.1f} | {mean:.1f} | {ring:.1f} | {early:.0f} "
        f"| {early / mean:.1f} | {early / ring:.2f} | {late:.0f} | {hot.force / area:.0f} |"
    )


def _faying(hot: Snapshot, share: float, found: list[Pressed]) -> str:
    t = hot.thickness
    start = f"| {1e3 * t:.2f} | {share:.2f} | {1e3 * hot.nugget:.2f} "
    depth = at(found, hot.force, "approach") / t
    if math.isnan(depth):
        return start + f"| not borne | {hot.sunk / t:.3f} | | | | | | | |"
    cap, edge = (at(found, hot.force, name) for name in ("cap_radius", "faying_radius"))
    near = next(one for one in found if one.force >= hot.force)
    r, pressure = near.faying_pressure
    even = near.force / (math.pi * near.faying_radius**2)
    apart = float(np.interp(edge + 0.5 * t, r, near.apart))
    return start + (
        f"| {depth:.3f} | {hot.sunk / t:.3f} | {1e3 * cap:.2f} | {1e3 * edge:.2f} "
        f"| {(edge - cap) / t:.2f} | {pressure[0] / even:.2f} | {hot.force / hot.borne(edge):.1f} "
        f"| {1e6 * apart:.0f} | {near.thickness.max() / t:.2f} |"
    )


def swelling() -> Iterator[str]:
    """Lines on sheets heated under the force of the weld."""
    yield (
        "| t mm | of the weld time | cap moved µm | radius at the cap mm | faying mm | gain over t "
        "| centre over mean | apart µm |"
    )
    yield "|---|---|---|---|---|---|---|---|"
    rows = [row for row in published_welds() if row.source == "schedule_class_a"]
    shares = (0.15, 0.25, 0.35, 0.5, 0.75, 1.0)
    for thickness in HEATED:
        row = min(rows, key=lambda one: abs(one.thickness - thickness))
        t = row.thickness
        found = heated_under_force(tuple(of_weld(row, share) for share in shares))
        for share, one in zip(shares, found, strict=False):
            even = one.force / (math.pi * one.faying_radius**2)
            apart = float(np.interp(one.faying_radius + 0.5 * t, one.faying_pressure[0], one.apart))
            yield (
                f"| {1e3 * t:.2f} | {share:.2f} | {1e6 * one.approach:+.0f} "
                f"| {1e3 * one.cap_radius:.2f} | {1e3 * one.faying_radius:.2f} "
                f"| {(one.faying_radius - one.cap_radius) / t:.2f} "
                f"| {one.faying_pressure[1][0] / even:.2f} | {1e6 * apart:.0f} |"
            )


def hot_domes() -> Iterator[str]:
    """Lines on what a hot sheet bears under a dome that is still on its curve."""
    yield (
        "| steel | t mm | of the weld time | radius at rest mm | solver's | pressure MPa "
        "| quarter of the sheet MPa | whole sheet MPa | ring beside it MPa | over the quarter "
        "| over the whole | over the ring |"
    )
    yield "|---|---|---|---|---|---|---|---|---|---|---|---|"
    for steel, t, force, current, time in DOMED:
        cap = ElectrodeCap(face_diameter=6e-3, radius=DOME)
        sheet_of = Sheet(find_steel(steel), t)
        for share in DOME_SHARES:
            hot = taken_from(
                StackUp((sheet_of, sheet_of)),
                SpotSetUp(
                    (Pulse(current, share * time),), CurrentType.MFDC, force, cap, cap, 0.3, 0
                ),
            )
            found = pressed_hot(hot, tuple(2e-6 / t * n for n in range(1, 61)), dome=DOME)
            yield f"| {steel} | {1e3 * t:.1f} | {share:.2f} " + _under_dome(hot, found)


def _under_dome(hot: Snapshot, found: list[Pressed]) -> str:
    t, a = hot.thickness, at(found, hot.force, "cap_radius")
    own = 1e3 * float(cap_radius(hot.sunk, hot.face, DOME, BODY))
    if math.isnan(a):
        return f"| over the face | {own:.2f} | | | | | | | |"
    p = hot.force / (math.pi * a * a)
    skin, whole = hot.mean(0.0, a, 0.75 * t), hot.mean(0.0, a)
    ring = hot.mean(a, a + t / 2)
    return (
        f"| {1e3 * a:.2f} | {own:.2f} | {p / 1e6:.0f} | {skin / 1e6:.0f} | {whole / 1e6:.0f} "
        f"| {ring / 1e6:.0f} | {p / skin:.1f} | {p / whole:.1f} | {p / ring:.2f} |"
    )


def hot_part() -> list[str]:
    """Lines on hot sheets."""
    resisting, faying = hot_tables()
    return [
        "## Hot: what resists a sinking cap",
        "",
        "Temperatures from the program's own solver, at moments of the class A welds. The "
        "pressure on the face at which a flat cap has sunk 2 and 5 % of the sheet, over the mean "
        "flow stress under the cap (half of the sheet next to it), and over that of the ring "
        "beside the cap, half a thickness wide, as deep as the sheet. A soft core is shut in and "
        "bears as much as what lies round it; the ring beside the cap decides.",
        "",
        *resisting,
        "",
        "## Hot: what a dome rests on",
        "",
        f"Domes of {1e3 * DOME:.0f} mm with a face of 6 mm, pressed to the force of the weld at "
        "the temperatures of the program's own welds; the pressure they rest with, over the mean "
        "flow stress under them, down to a quarter of the sheet and through all of it, and over "
        "that of the ring beside them. *Over the face*: it is past its curve before it rests.",
        "",
        *hot_domes(),
        "",
        "## Hot: the faying contact at the force of the weld",
        "",
        "*Depth* is where the cap comes to rest under the force, loaded in one go at these "
        "temperatures; *solver's* is what the program let it sink by then. *Centre over mean*: "
        "pressure in the middle over force by area, 1 is even. *Over the flow stress*: force "
        "over the flow stress summed over the contact. *Apart*: gap of the sheets half a "
        "thickness beyond the contact. *Not borne*: the elements were crushed before the force "
        "was reached.",
        "",
        *faying,
        "",
        "## Heated under the force, swelling",
        "",
        "The cap pressed cold, then the sheets heated from moment to moment. Minus: the swelling "
        "core pushes the cap out, and the sheets apart. Ends where the elements do not settle.",
        "",
        *swelling(),
        "",
    ]


def page() -> str:
    """Return the whole page."""
    lines = [
        "# Pressed contact: reduced laws against finite elements",
        "",
        "Written by `python -m benchmarks.validate_contact`. Two equal sheets under equal caps, "
        "one sheet by symmetry, axisymmetric, elastic-plastic at finite movements, on scikit-fem "
        "(`benchmarks/elastic_plastic.py`). The sheets may lift off each other. The model is "
        "held against closed solutions in `tests/oracle/test_pressed_contact.py`: Hertz's "
        "contact, Hill's hollow sphere with a plastic zone, the pressure under a ball and a "
        "punch, a disc between platens. Flow stresses are the program's own and do not grow with "
        "strain or rate; caps slide freely in these tables, and the tests find the same within "
        "15 % where they stick.",
        "",
        "## Cold, flat caps",
        "",
        f"Rigid cap, edge rounded, soft sheet ({SOFT / 1e6:.0f} MPa). The law gains "
        f"{CONTACT.spread:g} of the thickness and does not sink at all when cold.",
        "",
        *cold_flat(),
        "",
        "## Cold, domed and radiused caps",
        "",
        f"Cap of copper that yields at {COPPER / 1e6:.0f} MPa. *Law* is what the program starts a "
        "weld with; *if fully plastic* is three times the strength all over the contact. One "
        "cell is a tenth of the thickness and a radius is known to half a cell. No sheet is "
        "thick enough for three times its strength, and a strong one stays elastic: the copper "
        "gives way.",
        "",
        *cold_round(),
        "",
        *hot_part(),
        "## What it leaves out",
        "",
        "Creep and the work of rates: metal near melting resists a fast cap more than these flow "
        "stresses. Hot caps of copper. Unlike sheets, three sheets, tilted caps. Melt has a "
        "strength of 1 MPa here so that it can be computed; deep in it the elements are crushed "
        "and the tables end.",
    ]
    return "\n".join(lines).rstrip() + "\n"


def main() -> None:
    """Write the page and print it."""
    text = page()
    PAGE.write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
