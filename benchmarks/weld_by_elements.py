"""One spot weld by a general-purpose finite-element library, as the program itself marches it.

It solves the potential and the heat in the same half section with the same properties, contact
laws, sinking caps and step control, through weld and hold. Written for scikit-fem as well as could
be: bilinear elements on the same lines, element matrices integrated once, matrices filled by one
gather into a cached pattern, contacts as springs between doubled nodes at places found once,
lumped heat capacity, and systems solved as LAPACK solves a band. A sparse factorisation is there
to compare: it is what a mesh that is no grid would need.
"""

import inspect
import math

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix

from benchmarks.elements import Band, Sparse, section
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot import Resolution
from buttonhole.weld.spot import contacts as contact_kernels
from buttonhole.weld.spot import fields as f
from buttonhole.weld.spot import simulation as ours
from buttonhole.weld.spot.conductances import WATER_RADIUS
from buttonhole.weld.spot.constants import CONTACT
from buttonhole.weld.spot.contact_law import AIR
from buttonhole.weld.spot.layout import lay_out, mirrored
from buttonhole.weld.spot.march import (
    FIRST_STEP,
    GROWTH,
    HOLD_STEPS,
    LARGEST_SHARE,
    SETTLING,
    SHORTEST_STEP,
)
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

Array = NDArray[np.float64]

CAP = ElectrodeCap(face_diameter=5e-3)
STACK = StackUp((Sheet(find_steel("DC04"), 0.8e-3),) * 2)
SET_UP = SpotSetUp((Pulse(8e3, 0.16),), CurrentType.MFDC, 2e3, CAP, CAP, 0.3, 0.1)


class Weld:
    """One weld by scikit-fem; SI units, temperatures in degC."""

    def __init__(self, resolution: Resolution, current: float, solver: type[Band | Sparse]) -> None:
        self.resolution, self.current = resolution, current
        self.layout = mirrored(lay_out(STACK, CAP, CAP, resolution.cell))
        self.s = section(self.layout)
        self.tables = ours._tables(tuple(sheet.steel for sheet in STACK.sheets))
        self.facts = ours._contact_facts(STACK, SET_UP, CONTACT, 1.0)
        self.caps = ours._cap_facts(STACK, SET_UP, self.tables)
        self.law = CONTACT.array()
        nr, self.rows = self.layout.part.shape[1], self.layout.contact_rows
        self.contact = np.zeros((f.CONTACT_FIELDS, len(self.rows), nr))
        self.contact[f.HOTTEST] = ours.ROOM
        self.radii = np.zeros(len(self.rows))
        self.temperature = np.full(len(self.s.part), ours.ROOM)
        self.phi = np.zeros(len(self.s.part))
        self.share = self.s.shares / self.s.shares.sum(axis=1, keepdims=True)
        self.mass = np.bincount(self.s.nodes.ravel(), self.s.shares.ravel(), len(self.s.part))
        self.of_part = [np.flatnonzero(self.s.part == p) for p in np.unique(self.s.part)]
        everywhere = np.arange(len(self.s.part))
        self.electric = solver(self.s, np.setdiff1d(everywhere, self.s.top))
        self.thermal = solver(self.s, everywhere)
        self.by_t = self.tables_by_temperature()
        self.dz = np.diff(self.layout.z_faces)
        names = inspect.signature(contact_kernels.update.py_func).parameters
        self.update_takes = tuple(names)
        shape = self.layout.part.shape
        self.t, self.k, self.rho = np.full(shape, ours.ROOM), np.ones(shape), np.ones(shape)
        self.widest = 0.0

    def of(self, table: Array, temperature: Array, parts: NDArray[np.int64]) -> Array:
        """Look up a table spaced 1 K from 20 degC by the part of each entry."""
        x = np.clip(temperature - 20.0, 0.0, table.shape[1] - 1.001)
        n = x.astype(np.int64)
        low = table[parts, n]
        return low + (x - n) * (table[parts, n + 1] - low)

    def matrix(self, by_element: Array) -> Array:
        """Entries of the pattern for one coefficient in each element."""
        entries: Array = self.s.gather @ (by_element[None, :] * self.s.element.T).ravel()
        return entries

    def properties(self, opened: bool) -> tuple[Array, Array]:
        """Bring elements and contacts to the present; conductivity and resistivity by element."""
        s, layout = self.s, self.layout
        mean = self.temperature[s.nodes].mean(axis=1)
        parts = layout.part[s.cells]
        self.t[s.cells] = mean
        self.k[s.cells] = self.of(self.by_t[0], mean, parts)
        self.rho[s.cells] = self.of(self.by_t[1], mean, parts)
        given = {
            "t": self.t, "part": layout.part, "k": self.k, "rho": self.rho,
            "dz": self.dz, "rows": self.rows, "caps": self.caps,
            "facts": self.facts, "r_faces": layout.r_faces, "law": self.law,
            "flow_table": self.tables.flow_stress, "opened": opened, "contact": self.contact,
            "radii": self.radii,
        }  # fmt: skip
        contact_kernels.update(*(given[name] for name in self.update_takes))
        return self.k[s.cells], self.rho[s.cells]

    def tables_by_temperature(self) -> tuple[Array, Array]:
        """Conductivity and resistivity spaced 1 K from 20 degC."""
        t = np.arange(self.tables.enthalpy.shape[1]) + 20.0
        by_enthalpy = self.tables.conductivity, self.tables.resistivity
        conductivity, resistivity = (
            np.array(
                [
                    np.interp(t, at, row)
                    for at, row in zip(self.tables.temperature, table, strict=True)
                ]
            )
            for table in by_enthalpy
        )
        return conductivity, resistivity

    def join(self, entries: Array, q: int, by_ring: Array) -> Array:
        """Add a contact, from its conductance in each ring per area, to entries of the pattern.

        Returns the conductance of each node, to its twin or to what lies beyond the mirror.
        """
        g: Array = (self.s.ring @ by_ring)[: len(self.s.planes[q][0])]
        places = self.s.places[q]
        entries[places[0]] += g
        if len(places) > 1:
            entries[places[1]] += g
            entries[places[2]] -= g
            entries[places[3]] -= g
        return g

    def product(self, entries: Array, x: Array) -> Array:
        """The matrix of these entries times x."""
        s, n = self.s, len(x)
        matrix = csr_matrix((entries, s.pattern.indices, s.pattern.indptr), shape=(n, n))
        found: Array = matrix @ x
        return found

    def release(self, square: float, rho: Array) -> Array:
        """Solve the potential; heat at each node [W] for a mean squared current [A2]."""
        s, springs = self.s, []
        entries = self.matrix(1.0 / rho)
        for q, (_, b) in enumerate(s.planes):
            film = self.contact[f.FILM, q] * (0.5 if b is None else 1.0)
            touching = np.where(self.contact[f.SHARE, q] > 0, 1.0 / film, 0.0)
            springs.append(self.join(entries, q, touching))
        self.phi[:] = 0.0
        self.phi[s.top] = 1.0
        self.phi[self.electric.order] = self.electric.solve(
            entries, -self.product(entries, self.phi)
        )
        volts = self.phi[s.nodes]
        product = (volts[:, None, :] @ s.element.reshape(-1, 4, 4))[:, 0]
        grown = (product * volts).sum(axis=1) / rho
        heat = np.bincount(s.nodes.ravel(), (self.share * grown[:, None]).ravel(), len(s.part))
        power = grown.sum()
        drops = []
        for (a, b), g in zip(s.planes, springs, strict=True):
            drop = self.phi[a] - (0.0 if b is None else self.phi[b])
            w = g * drop * drop
            power += w.sum()
            if b is None:
                heat[a] += w  # the other half of the film lies beyond the mirror
            else:
                heat[a] += 0.5 * w
                heat[b] += 0.5 * w
            drops.append(drop)
        self.densities(drops, math.sqrt(square) / power)
        scaled: Array = heat * square / power**2
        return scaled

    def densities(self, drops: list[Array], volts: float) -> None:
        """Current density of each ring of each contact [A/m2], for the films."""
        for q, ((_, b), drop) in enumerate(zip(self.s.planes, drops, strict=True)):
            mean = np.zeros(self.contact.shape[2])
            mean[: len(drop) - 1] = 0.5 * (drop[1:] + drop[:-1])
            film = self.contact[f.FILM, q] * (0.5 if b is None else 1.0)
            touching = self.contact[f.SHARE, q] > 0
            self.contact[f.DENSITY, q] = np.where(touching, np.abs(mean) * volts / film, 0.0)

    def warm(self, heat: Array, k: Array, dt: float) -> float:
        """One implicit step, capacity by the secant as ours; the largest change [K]."""
        s = self.s
        entries = self.matrix(k)
        for q, (_, b) in enumerate(s.planes):
            if b is not None:
                self.join(entries, q, self.contact[f.CONDUCTANCE, q] + AIR)
        wet = np.where(self.layout.r_faces[1:] < WATER_RADIUS + 1e-9, self.law[f.WATER], 0.0)
        water = (s.ring @ wet)[: len(s.top)]
        entries[s.diagonal[s.top]] += water
        t = self.temperature
        right = heat - self.product(entries, t)
        right[s.top] += water * 20.0
        before = self.of(self.tables.enthalpy, t, s.part)
        capacity = self.of(self.tables.enthalpy, t + 0.5, s.part) - self.of(
            self.tables.enthalpy, t - 0.5, s.part
        )
        capacity = np.maximum(capacity, 2e6)
        change = np.zeros_like(t)
        for attempt in range(2):
            if attempt:
                large = np.abs(change) > 0.5
                over = self.of(self.tables.enthalpy, t + change, s.part) - before
                capacity = np.where(large, over / np.where(large, change, 1.0), capacity)
            system = entries.copy()
            system[s.diagonal] += self.mass * capacity / dt
            change[self.thermal.order] = self.thermal.solve(system, right)
        after = before + capacity * change
        for nodes in self.of_part:
            row = self.tables.enthalpy[s.part[nodes[0]]]
            t[nodes] = np.interp(after[nodes], row, np.arange(len(row)) + 20.0)
        return float(np.abs(change).max())

    def measure(self) -> None:
        """Keep the widest melt on the mirror [m]."""
        a, _ = self.s.planes[-1]
        melting = 0.5 * (self.tables.solidus[1] + self.tables.liquidus[1])
        over = self.temperature[a] - melting
        hot = np.flatnonzero(over >= 0.0)
        if len(hot) and hot[-1] + 1 < len(a):
            i = int(hot[-1])
            r = self.layout.r_faces
            edge = r[i] + (r[i + 1] - r[i]) * over[i] / (over[i] - over[i + 1])
            self.widest = max(self.widest, 2.0 * edge)

    def run(self) -> float:
        """Weld and hold; the nugget diameter [m]."""
        pulse, layout = SET_UP.pulses[0], self.layout
        square = self.current**2
        contact_kernels.spread_evenly(self.current, self.facts, self.caps, self.law, self.contact)
        for _ in range(SETTLING):
            _, rho = self.properties(False)
            self.release(square, rho)
        now, end, dt = 0.0, pulse.time + SET_UP.hold_time, FIRST_STEP
        while now < end - 1e-9:
            on = now < pulse.time - 1e-9
            dt = min(dt, self.resolution.longest_step * (1.0 if on else HOLD_STEPS))
            dt = min(dt, LARGEST_SHARE * pulse.time) if on else dt
            until = pulse.time if on else end
            this = (until - now) / math.ceil((until - now) / dt - 1e-9)
            k, rho = self.properties(False)
            heat = self.release(square, rho) if on else np.zeros(len(self.s.part))
            largest = self.warm(heat, k, this)
            contact_kernels.sink(
                self.t, layout.part, self.rows, 0, self.caps[0], self.facts[0, f.FORCE],
                layout.r_faces, self.dz, self.tables.flow_stress, self.law, this,
            )  # fmt: skip
            self.caps[1] = self.caps[0]
            now += this
            if on:
                self.measure()
            wish = this * self.resolution.t_step / max(largest, 1e-3)
            dt = max(min(wish, GROWTH * this), 0.3 * this, SHORTEST_STEP)
            if on and now >= pulse.time - 1e-9:
                dt = 3.0 * FIRST_STEP
        return self.widest
