"""Sheets as hot as in a weld, for the pressed contact: snapshots of the solver, or a smooth field.

Flow stress from the steel's curves, with a floor for melt; the modulus falls as EN 1993-1-2 says.
Melt keeps the stiffness of steel against pressure from all sides.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchmarks.elastic_plastic import DoesNotSettle, Press
from benchmarks.pressed_sheets import YOUNG, CapShape, Pressed, give_metal, seen, sheet
from benchmarks.published_rows import PublishedWeld
from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import simulate

Array = NDArray[np.float64]
Temperature = Callable[[Array, Array], Array]  # degC at radii and heights over the mirror [m]

MELT = 1e6  # Pa, strength left in melt, so that it can be computed
LEAST_PART = 1e-3  # - of the warming from one moment to the next
LEAST_YOUNG = 0.01  # - of the cold modulus
# EN 1993-1-2 table 3.1, kE; the last value is held, the standard's is zero at 1200 degC
MODULUS_AT = (20, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200)  # degC
MODULUS = (1.0, 1.0, 0.9, 0.8, 0.7, 0.6, 0.31, 0.13, 0.09, 0.0675, 0.045, 0.0225, LEAST_YOUNG)


@dataclass(frozen=True, slots=True)
class Snapshot:
    """A weld at one moment: two equal sheets under equal caps; SI units, temperatures in degC."""

    thickness: float
    face: float  # m, radius of the caps' face
    force: float
    temperature: Temperature
    nugget: float  # m, diameter
    sunk: float  # m, as the solver has it
    steel: str = "DC04"

    def flow_stress(self, r: Array, z: Array) -> Array:
        """Flow stress [Pa] at radii and heights [m], never less than that of melt."""
        found = curves(find_steel(self.steel))
        at = np.interp(self.temperature(r, z), found.temperature, found.flow_stress)
        return np.maximum(at, MELT)

    def mean(self, low: float, high: float, bottom: float = 0.0) -> float:
        """Mean flow stress [Pa] from radius ``low`` to ``high``, from height ``bottom`` up [m]."""
        r, z = np.meshgrid(np.linspace(low, high, 60), np.linspace(bottom, self.thickness, 40))
        return float((self.flow_stress(r, z) * r).sum() / r.sum())

    def borne(self, radius: float) -> float:
        """Force [N] of the flow stress over the faying face out to a radius [m]."""
        r = np.linspace(0.0, radius, 400)
        return float(np.trapezoid(2 * np.pi * r * self.flow_stress(r, 0.0 * r), r))


def of_weld(row: PublishedWeld, share: float) -> Snapshot:
    """A published weld when a share of its time has gone, by the program's own solver."""
    cap = ElectrodeCap(face_diameter=row.face, body_diameter=max(16e-3, 2 * row.face))
    pulse = Pulse(row.current, share * row.time)
    return taken_from(
        row.stack, SpotSetUp((pulse,), CurrentType.MFDC, row.force, cap, cap, 0.3, 0.0)
    )


def taken_from(stack: StackUp, set_up: SpotSetUp) -> Snapshot:
    """Two equal sheets when the current goes off, by the program's own solver."""
    found = simulate(stack, set_up)
    sheet_a, face = stack.sheets[0], set_up.cap_a.face_diameter
    layout, (first, middle) = found.layout, found.layout.contact_rows[:2]
    r = 0.5 * (layout.r_faces[1:] + layout.r_faces[:-1])
    z = layout.z_faces[middle] - 0.5 * (layout.z_faces[1:] + layout.z_faces[:-1])[first:middle]
    field = found.at_off[first:middle]

    def temperature(radius: Array, height: Array) -> Array:
        return _between(r, z[::-1], field[::-1], radius, height)

    return Snapshot(
        sheet_a.thickness, 0.0 if face is None else face / 2, set_up.electrode_force, temperature,
        float(found.nugget[0]), float(found.sunk[0]), sheet_a.steel.designation,
    )  # fmt: skip


def _between(r: Array, z: Array, field: Array, radius: Array, height: Array) -> Array:
    """Straight between the middles of cells, held beyond them."""
    x = np.clip(np.interp(radius, r, np.arange(len(r))), 0, len(r) - 1.001)
    y = np.clip(np.interp(height, z, np.arange(len(z))), 0, len(z) - 1.001)
    i, j = x.astype(int), y.astype(int)
    u, v = x - i, y - j
    low = (1 - u) * field[j, i] + u * field[j, i + 1]
    high = (1 - u) * field[j + 1, i] + u * field[j + 1, i + 1]
    return (1 - v) * low + v * high


def smooth(thickness: float, face: float, force: float, middle: float, skin: float) -> Snapshot:
    """A field like that of a growing nugget: ``middle`` and ``skin`` [degC] on the axis.

    It falls to a half at 1.15 of the face's radius, as in the solver's snapshots.
    """

    def temperature(r: Array, z: Array) -> Array:
        along = 1.0 / (1.0 + (r / (1.15 * face)) ** 6)
        return 20.0 + (middle - (middle - skin) * (z / thickness) ** 2 - 20.0) * along

    r = np.linspace(0.0, 2 * face, 2000)
    molten = r[temperature(r, 0.0 * r) > curves(find_steel("DC04")).liquidus]
    nugget = 2 * float(molten.max()) if len(molten) else 0.0
    return Snapshot(thickness, face, force, temperature, nugget, 0.0)


def pressed_hot(
    snapshot: Snapshot,
    depths: tuple[float, ...],
    sticks: bool = False,
    layers: int = 8,
    dome: float = 0.0,
) -> list[Pressed]:
    """A cap sunk into a hot sheet to depths [-] of its thickness, while elements settle.

    ``dome`` [m] is the curvature of its face, 0 for a flat one.
    """
    t, a = snapshot.thickness, snapshot.face
    press = sheet(t, CapShape(face=a, dome=dome), a + 1.5 * t, layers, sticks)
    heat(press, snapshot)
    found = []
    for depth in depths:
        try:
            press.press(depth * t - press.approach)
        except DoesNotSettle:
            break
        found.append(seen(press))
    return found


def expansion(temperature: Array) -> Array:
    """Free strain [-] at temperatures [degC] by EN 1993-1-2 clause 3.4.1.1, continued."""
    t = temperature
    below = 1.2e-5 * t + 0.4e-8 * t * t - 2.416e-4
    found = np.where(t < 750.0, below, np.where(t < 860.0, 1.1e-2, 2e-5 * t - 6.2e-3))
    return np.maximum(found, 0.0)


def heated_under_force(moments: tuple[Snapshot, ...], layers: int = 8) -> list[Pressed]:
    """Flat cap pressed cold, then heated from moment to moment, the metal swelling as it warms.

    Ends early where the elements do not settle.
    """
    first = moments[0]
    t, a = first.thickness, first.face
    press = sheet(t, CapShape(face=a), a + 1.5 * t, layers)
    r, z = (press.nodes[k][press.quads].mean(axis=1) for k in (0, 1))
    before = np.full(len(r), 20.0)
    steel = curves(find_steel(first.steel))
    give_metal(press, np.interp(before, steel.temperature, steel.flow_stress))
    press.press(1e-7)
    press.load(first.force)
    found = []
    for moment in moments:
        after, done, part = moment.temperature(r, z), 0.0, 0.125
        while done < 1.0 - 1e-9:
            part = min(part, 1.0 - done)
            now = before + (after - before) * (done + part)
            strength = np.interp(now, steel.temperature, steel.flow_stress)
            young = YOUNG * np.interp(now, MODULUS_AT, MODULUS)
            give_metal(press, np.maximum(strength, MELT), young, expansion(now))
            if press.step(0.0, first.force):
                done, part = done + part, min(1.5 * part, 0.125)
            elif part < LEAST_PART:
                return found
            else:
                part *= 0.5
        before = after
        found.append(seen(press))
    return found


def heat(press: Press, snapshot: Snapshot) -> None:
    """Give the sheet the flow stress and the modulus of a snapshot where its elements now are."""
    r, z = (press.nodes[k][press.quads].mean(axis=1) for k in (0, 1))
    young = YOUNG * np.interp(snapshot.temperature(r, z), MODULUS_AT, MODULUS)
    give_metal(press, snapshot.flow_stress(r, z), young)
