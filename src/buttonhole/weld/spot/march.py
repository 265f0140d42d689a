"""Compiled kernel: one weld from the first current through hold until it has cooled.

Each step brings contacts to the present, solves the potential, lets the heat flow, lets the caps
sink, brings temperatures and properties to its end, and measures. The step follows the fastest
warming cell.

The arrays travel in bundles: ``grid`` is (part, r_faces, dr, dz, contact_of, rows, reach; see
``active``), ``material`` (step, tables by enthalpy, enthalpy, flow stress, solidus and liquidus),
``plan`` (segments, end of hold, frequency, what feeds the weld), ``joint`` (facts, caps, half,
law), ``work`` (contact, faces, ends, excess, ratio_r), ``found`` (record, findings, sums, radii,
seen), ``seen`` (cells of the points, weights, trace, faces).

Sources: numerical, our own.
"""

import math

import numba

from buttonhole.weld.heat.conduction import conduct, look_up
from buttonhole.weld.spot import (
    active,
    conductances,
    contacts,
    feeding,
    joule,
    nugget,
    potential,
    watch,
)
from buttonhole.weld.spot.current import BEGIN, END, FIRST, LAST, mean_square
from buttonhole.weld.spot.fields import (
    AT_500,
    AT_800,
    AT_LIMIT,
    AT_OFF,
    CAPACITY,
    CHANGE,
    CONDUCTANCE,
    CONDUCTIVITY,
    CROSSED,
    DEEPEST_A,
    DEEPEST_B,
    DONE,
    ENTHALPY,
    FILM,
    FORCE,
    GAIN,
    GIVEN,
    HEAT,
    HOTTEST,
    LAST_AXIS,
    LOAD,
    MELT,
    MELT_HEAT,
    MELTING_GROWTH,
    NOT_FINITE,
    OPENS_AT,
    OUTSIDE,
    PASSED,
    PEAK,
    POTENTIAL,
    R_CURRENT,
    R_NUGGET,
    R_RESISTANCE,
    R_TIME,
    RATIO,
    RELEASED,
    RESISTIVITY,
    SET,
    SHARE,
    SKIN_A,
    SKIN_B,
    SOLVER,
    TEMPERATURE,
    TOO_MANY_STEPS,
    TRIAL,
    VOLUME,
    WATER,
    WIDEST,
    WIDEST_IS_FULL,
    WORKED,
)  # fmt: skip
from buttonhole.weld.spot.sealing import LIQUID_GROWTH, interface_load

FIRST_STEP = 1e-4  # s
SHORTEST_STEP = 2e-5  # s
GROWTH = 1.5  # - of a step, at most
SETTLING = 3  # solves before the first step of a pulse: the films burn at once, not a step later
LARGEST_SHARE = 0.05  # - of a piece of the programme: a short weld has short steps
# Films burn at the crest of an alternating current; a step over crest and zero would miss it.
LARGEST_CYCLE = 0.05  # - of a cycle
HOLD_STEPS = 1.0  # - times the longest step while the caps quench: the 8/5 time hangs on it
AIR_STEPS = 2.5  # - the same once the caps have left
# With the current off a step counts its middle, all but a little that damps: then the 8/5 time does
# not hang on how long the steps are. Numerical.
COOLING_IMPLICIT = 0.55  # -
COLD_ENOUGH = 450.0  # degC; the 8/5 time is known below it


@numba.njit(cache=True)
def properties(cells, grid, material):
    """Bring temperatures and what hangs on them to the present enthalpies, in place."""
    step, tables, _, _, _ = material
    look_up(
        cells[ENTHALPY], grid[0], grid[6], step, tables[0], tables[1], tables[2],
        cells[TEMPERATURE], cells[CONDUCTIVITY], cells[RESISTIVITY],
    )  # fmt: skip


@numba.njit(cache=True)
def prepare(cells, grid, material, joint, work, opened, radii):
    """Bring contacts and conductances to the present temperatures, in place."""
    part, r_faces, _, dz, contact_of, rows, reach = grid
    flow_table = material[3]
    facts, caps, half, law = joint
    contact, faces, ends, _, _ = work
    t, k, rho = cells[TEMPERATURE], cells[CONDUCTIVITY], cells[RESISTIVITY]
    contacts.update(
        t, part, k, rho, dz, rows, caps, facts, r_faces, law, flow_table, opened, contact, radii
    )
    active.grow(t, part, r_faces, facts, radii, reach)
    share, rc, hc = contact[SHARE], contact[FILM], contact[CONDUCTANCE]
    conductances.across(
        part, reach, k, rho, r_faces, dz, contact_of, share, rc, hc, faces[0], faces[1]
    )
    conductances.along(part, reach, k, rho, r_faces, dz, faces[2], faces[3])
    conductances.end_planes(
        part, reach, k, rho, r_faces, dz, contact_of, law[WATER], half, share, rc, ends
    )


@numba.njit(cache=True)
def electric(cells, grid, joint, work, square, wanted, feed, tolerance):
    """Set the heat of a set current: mean square [A2] over the step, rms [A] over a mains cycle.

    Returns the resistance [ohm] and the mean squares [A2] through the weld and from the machine.
    """
    part, r_faces, dr, dz, contact_of, rows, reach = grid
    contact, faces, ends, _, _ = work
    phi, heat, rho = cells[POTENTIAL], cells[HEAT], cells[RESISTIVITY]
    spare = cells[SOLVER : SOLVER + potential.FIELDS]
    potential.solve_potential(faces[1], faces[3], ends[2], ends[3], reach, phi, tolerance, spare)
    power = joule.joule_across(
        faces[1], ends, phi, reach, cells[CONDUCTIVITY], rho, dz, contact_of, contact[FILM],
        contact[CONDUCTANCE], heat,
    )  # fmt: skip
    power += joule.joule_along(faces[3], phi, reach, rho, dr, heat)
    last = joint[0].shape[0] - 1
    passing, drawn = feeding.through(
        phi, rho, part, r_faces, dz, last, joint[2], 1.0 / power, wanted, feed
    )
    given, square = square * drawn * drawn, square * passing * passing
    heat *= square / (power * power)
    volts = math.sqrt(square) / power
    contacts.current_densities(faces[1], ends, phi, rows, r_faces, volts, contact)
    return 1.0 / power, square, given


@numba.njit(cache=True)
def thermal(cells, grid, material, work, outside, dt, implicit):
    """Let the heat flow for ``dt`` [s]; the largest change [K] and the heat that came in [J]."""
    step, tables, h_table, _, _ = material
    _, faces, ends, _, ratio_r = work
    return conduct(
        cells[ENTHALPY], cells[TEMPERATURE], grid[0], grid[6], cells[VOLUME], faces[0], faces[2],
        ends[0], ends[1], outside, cells[HEAT], dt, step, tables[0], h_table, cells[CAPACITY],
        cells[GAIN], cells[TRIAL], cells[CHANGE], ratio_r, cells[RATIO], implicit,
    )  # fmt: skip


@numba.njit(cache=True)
def measure(cells, grid, material, work, half, findings, row):
    """Diameters into a row of the record; the widest and deepest melt kept."""
    part, r_faces, _, dz, _, rows, _ = grid
    melting, excess = material[4], work[3]
    t = cells[TEMPERATURE]
    nz, last = part.shape[0], findings.shape[0] - 1
    through = half and rows[last + 1] < nz  # the mirror plane runs through the middle sheet
    for f in range(findings.shape[0]):
        j = rows[f + 1]
        halved = through and f == last
        mirrored = j == nz
        nugget.interface_excess(t, part, j, mirrored, melting[0], melting[1], excess)
        outer, inner = nugget.melted_rim(excess, r_faces)
        wide = 2.0 * math.sqrt(outer * outer - inner * inner)
        row[R_NUGGET + f] = wide
        found = findings[f]
        if wide > found[WIDEST]:
            found[WIDEST] = wide
            found[WIDEST_IS_FULL] = 1.0 if inner == 0.0 else 0.0
        depth = nugget.melt_depth(t, part, j - 1, -1, melting[0], melting[1], dz)
        found[DEEPEST_A] = max(found[DEEPEST_A], depth)
        if not mirrored:
            depth = nugget.melt_depth(t, part, j, 1, melting[0], melting[1], dz)
            if halved:
                depth *= 2.0
        found[DEEPEST_B] = max(found[DEEPEST_B], depth)


@numba.njit(cache=True)
def watch_seal(cells, grid, material, joint, contact, radii, findings, row, dt):
    """Keep the greatest load on the ring round each nugget, and the diameter when it opens."""
    part, _, _, dz, _, rows, _ = grid
    facts, _, half, _ = joint
    melting, t = material[4], cells[TEMPERATURE]
    last = findings.shape[0] - 1
    through = half and rows[last + 1] < part.shape[0]
    for f in range(findings.shape[0]):
        halved = through and f == last
        found, j, wide = findings[f], rows[f + 1], row[R_NUGGET + f]
        if wide <= 0.0:
            found[MELT], found[MELT_HEAT] = 0.0, 0.0
            continue
        deep = nugget.melt_depth(t, part, j - 1, -1, melting[0], melting[1], dz)
        if j < part.shape[0]:
            below = nugget.melt_depth(t, part, j, 1, melting[0], melting[1], dz)
            deep += 2.0 * below if halved else below
        else:
            deep *= 2.0
        # a lens: two thirds of the cylinder round it
        melt = math.pi * (0.5 * wide) ** 2 * deep * 2.0 / 3.0
        over = max(t[j - 1, 0] - melting[1][part[j - 1, 0]], 0.0)
        grown = MELTING_GROWTH * (melt - found[MELT]) + LIQUID_GROWTH * melt * (
            over - found[MELT_HEAT]
        )
        first = found[MELT] <= 0.0
        found[MELT], found[MELT_HEAT] = melt, over
        if first or melt <= 0.0:
            continue
        # molten coating round the contact carries current but seals nothing in
        solid = radii[f + 1] - contacts.halo(facts[f + 1], contact[HOTTEST, f + 1, 0])
        now = interface_load(
            cells, grid, material, facts[f + 1], solid, j, wide, deep, grown / melt / dt
        )
        if now >= OPENS_AT and found[LOAD] < OPENS_AT:
            found[AT_LIMIT] = wide
        found[LOAD] = max(found[LOAD], now)


@numba.njit(cache=True)
def watch_skin(t, rows, half, row, sums):
    """Keep the hottest the faces under the caps have been with melt inside [degC], in place.

    A face that flashes on a small cold contact before anything melts inside is left out: a crust
    it leaves holds the melt in later.
    """
    if row[R_NUGGET:].max() <= 0.0:
        return
    first, final = rows[0], rows[rows.shape[0] - 1] - 1
    for i in range(t.shape[1]):
        sums[SKIN_A] = max(sums[SKIN_A], nugget.face_temperature(t, first, i, 1))
        if not half:
            sums[SKIN_B] = max(sums[SKIN_B], nugget.face_temperature(t, final, i, -1))
    if half:
        sums[SKIN_B] = sums[SKIN_A]


@numba.njit(cache=True)
def keep_peak(cells, reach):
    """Keep the hottest each cell has been [degC], in place."""
    for j in range(cells.shape[1]):
        for i in range(reach[j]):
            cells[PEAK, j, i] = max(cells[PEAK, j, i], cells[TEMPERATURE, j, i])


@numba.njit(cache=True)
def watch_cooling(cells, rows, findings, before, after):
    """Note when the axis of each interface falls through 800 and 500 degC; true once all are cold.

    The temperatures are those at ``after`` [s], the last ones those at ``before`` [s].
    """
    t, nz = cells[TEMPERATURE], cells.shape[1]
    cold = True
    for f in range(findings.shape[0]):
        j = rows[f + 1]
        now = t[j - 1, 0] if j == nz else 0.5 * (t[j - 1, 0] + t[j, 0])
        was = findings[f, LAST_AXIS]
        for mark, level in ((AT_800, 800.0), (AT_500, 500.0)):
            if was >= level > now:
                findings[f, mark] = watch.passed(was, now, level, before, after)
        findings[f, LAST_AXIS] = now
        cold = cold and now < COLD_ENOUGH
    return cold


@numba.njit(cache=True)
def ask(segment, begin, end, frequency):
    """Mean square [A2] of the set current over a step, and its rms [A] over a mains cycle."""
    square = mean_square(segment, begin, end, frequency)
    level = square if frequency == 0.0 else mean_square(segment, begin, end, 0.0)
    return square, math.sqrt(level)


@numba.njit(cache=True)
def one_step(cells, grid, material, joint, work, found, asked, feed, opened, now, dt, tolerance):
    """Advance by ``dt`` [s] with a current ``asked`` for: mean square [A2], rms [A].

    Returns the largest change [K], the resistance [ohm] and the mean square through the weld [A2].
    """
    _, r_faces, _, dz, _, rows, _ = grid
    facts, caps, half, law = joint
    sums, radii = found[2], found[3]
    prepare(cells, grid, material, joint, work, opened, radii)
    resistance, square = 0.0, 0.0
    if asked[0] > 0.0:
        resistance, square, given = electric(
            cells, grid, joint, work, asked[0], asked[1], feed, tolerance
        )
        sums[RELEASED] += square * resistance * dt
        sums[SET] += asked[0] * dt
        sums[GIVEN] += given * dt
        sums[PASSED] += square * dt
    else:
        cells[HEAT, :, :] = 0.0
    implicit = 1.0 if square > 0.0 else COOLING_IMPLICIT
    largest, crossed = thermal(cells, grid, material, work, feed[OUTSIDE], dt, implicit)
    sums[CROSSED] += crossed
    sums[WORKED] += grid[6].sum()
    if not opened:
        for side in range(1 if half else 2):
            force = facts[0 if side == 0 else facts.shape[0] - 1, FORCE]
            contacts.sink(
                cells[TEMPERATURE], grid[0], rows, side, caps[side], force, r_faces, dz,
                material[3], law, dt,
            )  # fmt: skip
        if half:
            caps[1] = caps[0]
    return largest, resistance, square


@numba.njit(cache=True)
def begin(cells, grid, material, joint, work, asked, feed, first, radii, record, tolerance):
    """Settle the contacts with the current that is ``asked`` for, before the first step of it.

    The first row of the record takes the cold resistance, measured with one ampere: films burn in
    the first instant, and what they were before is seen there alone.
    """
    if first:
        prepare(cells, grid, material, joint, work, False, radii)
        record[0, R_RESISTANCE] = electric(
            cells, grid, joint, work, 1.0, 1.0, feed, tolerance
        )[0]  # fmt: skip
        # the first current meets the contacts as new: no heat of a film before it
        work[0][FILM, :, :] = 0.0
        work[0][CONDUCTANCE, :, :] = 0.0
        facts, caps, _, law = joint
        start = math.sqrt(asked[0]) * (feeding.given(asked[1], 0.0, feed) / asked[1])
        contacts.spread_evenly(start, facts, caps, law, work[0])
    for _ in range(SETTLING):
        prepare(cells, grid, material, joint, work, False, radii)
        electric(cells, grid, joint, work, asked[0], asked[1], feed, tolerance)


@numba.njit(cache=True, nogil=True)
def march(cells, grid, material, joint, plan, work, found, target, longest, tolerance):
    """Run the whole weld. Returns what it ended with and how many rows of the record are filled.

    ``target`` [K] is the change of the fastest cell aimed at in one step, ``longest`` [s] a step.
    """
    segments, hold_until, frequency, feed = plan
    record, findings, _, radii, seen = found
    last_on = segments.shape[0] - 2  # the last segment is hold and cooling
    count, steps, dt, last = 0, 0, FIRST_STEP, 0.0
    properties(cells, grid, material)
    for s in range(segments.shape[0]):
        segment = segments[s]
        now, after = segment[BEGIN], s > last_on
        on = segment[FIRST] > 0.0 or segment[LAST] > 0.0
        dt = FIRST_STEP if on else 3.0 * FIRST_STEP
        if on:
            asked = ask(segment, now, min(now + dt, segment[END]), frequency)
            begin(cells, grid, material, joint, work, asked, feed, s == 0, radii, record, tolerance)
            count = max(count, 1)
        while now < segment[END] - 1e-9:
            if count >= record.shape[0] or steps > 4 * record.shape[0]:
                return TOO_MANY_STEPS, count
            opened = now >= hold_until - 1e-9
            stretch = AIR_STEPS if opened else HOLD_STEPS if after else 1.0
            dt = min(dt, stretch * longest)
            if on:
                dt = min(dt, LARGEST_SHARE * (segment[END] - segment[BEGIN]))
                dt = min(dt, LARGEST_CYCLE / frequency) if frequency > 0.0 else dt
            until = hold_until if now < hold_until - 1e-9 else segment[END]
            until = min(until, segment[END])
            this = (until - now) / math.ceil((until - now) / dt - 1e-9)
            asked = ask(segment, now, now + this, frequency) if on else (0.0, 0.0)
            largest, resistance, square = one_step(
                cells, grid, material, joint, work, found, asked, feed, opened, now, this, tolerance
            )
            if not math.isfinite(largest):
                return NOT_FINITE, count
            # what the step began from: the temperatures are looked up at its beginning
            cold = watch_cooling(cells, grid[5], findings, last, now)
            watch.note(cells, grid, joint, material, radii, seen, not opened, last, now, steps)
            last = now
            now += this
            steps += 1
            # what the step led to: one step late, diameters would be too small by its length
            properties(cells, grid, material)
            keep_peak(cells, grid[6])
            if not after:
                row = record[count]
                row[R_TIME], row[R_CURRENT], row[R_RESISTANCE] = now, math.sqrt(square), resistance
                measure(cells, grid, material, work, joint[2], findings, row)
                watch_seal(cells, grid, material, joint, work[0], found[3], findings, row, this)
                watch_skin(cells[TEMPERATURE], grid[5], joint[2], row, found[2])
                cells[AT_OFF] = cells[TEMPERATURE]
                count += 1
            elif cold and now >= hold_until - 1e-9:
                return DONE, count
            wish = this * target / max(largest, 1e-3)
            dt = max(min(wish, GROWTH * this), 0.3 * this, SHORTEST_STEP)
    return DONE, count
