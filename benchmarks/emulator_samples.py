"""Welds that the emulator is taught with: where they are taken, and what the solver says of them.

A low-discrepancy sequence over the whole input space, its numbers turned into stack-ups and
set-ups. The welds are solved in chunks that are kept in the user's cache folder, so that the work
can be stopped and taken up again; nothing of it belongs into the repository.
"""

import dataclasses
import hashlib
import math
import os
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.stats import qmc

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import UNKNOWN_STEEL, steels
from buttonhole.weld.heat.tables import T_FIRST, T_STEP
from buttonhole.weld.spot import SolverFailed
from buttonhole.weld.spot.emulator.figures import Figures, expulsion_of, numbers_of
from buttonhole.weld.spot.emulator.fingerprint import code_of, fingerprint
from buttonhole.weld.spot.emulator.inputs import reference_current, views_of
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, Resolution, Simulation, simulate, tables_of
from buttonhole.weld.spot.zones import sheet_zones

Array = NDArray[np.float64]

SEED = 20
CHUNK = 256  # joints, a power of two
CURRENTS = 2  # welds of each joint
WORKERS = 2
FIRST = (0.6, 2.2)  # - of the reference current, of a joint's first weld
# Where the next current of a joint lies over the last, so that most welds fall into the window.
AFTER_COLD, AFTER_WELD, AFTER_SPLASH = (1.1, 1.7), (0.75, 1.3), (0.55, 0.9)
FIGURES = tuple(one.name for one in dataclasses.fields(Figures))
SPLASHED = 0.9  # -, probability from which a weld counts as splashed


@dataclass(frozen=True, slots=True)
class Space:
    """The input space; SI units. What is no plain quantity says over what it is counted."""

    thickness: tuple[float, float] = (0.5e-3, 3.2e-3)
    unlike: tuple[float, float] = (1 / 3.5, 3.5)  # - of the first sheet's thickness
    most_total: float = 9e-3
    current_over: tuple[float, float] = (0.45, 3.0)  # - the reference current
    current: tuple[float, float] = (1.5e3, 40e3)
    time: tuple[float, float] = (0.040, 1.2)
    force_over: tuple[float, float] = (1.0e6, 6.0e6)  # N/m, over the mean thickness
    force: tuple[float, float] = (0.8e3, 10e3)
    face_over: tuple[float, float] = (3.2, 10.0)  # mm/sqrt(mm), over the root of the outer sheet
    face: tuple[float, float] = (3.5e-3, 12e-3)
    radius: tuple[float, float] = (25e-3, 150e-3)
    body: tuple[float, float] = (12e-3, 20e-3)
    hold: tuple[float, float] = (0.02, 1.0)
    gap: float = 1.5e-3
    slope: float = 0.5  # - of the time


SPACE = Space()


def _log(share: float, ends: tuple[float, float]) -> float:
    low, high = ends
    return low * (high / low) ** share


def _part(share: float, other: float) -> float | None:
    """Nothing for a share of the numbers, else the rest of them spread over 0 to 1 again."""
    return None if share < other else (share - other) / (1.0 - other)


class _Numbers:
    """Hands out the coordinates of one point in order."""

    def __init__(self, point: Array) -> None:
        self._left = iter(point.tolist())

    def __call__(self) -> float:
        return float(next(self._left))


COATINGS = (
    (0.30, Coating.BARE), (0.50, Coating.GI), (0.60, Coating.GA), (0.70, Coating.EG),
    (0.80, Coating.ZM), (0.87, Coating.ALSI), (0.94, Coating.PRIMER), (1.0, Coating.UNKNOWN),
)  # fmt: skip
TYPES = ((0.5, CurrentType.MFDC), (0.8, CurrentType.AC50), (1.0, CurrentType.AC60))


def _sheets(take: _Numbers, count: int) -> tuple[Sheet, ...]:
    listed = (*steels(), UNKNOWN_STEEL)
    all_alike, one_steel, all_bare = take() < 0.3, take() < 0.45, take() < 0.35
    found: list[Sheet] = []
    for _ in range(count):
        thickness, steel, coat = take(), take(), take()
        if found and all_alike:
            size = found[0].thickness
        elif found:
            ends = [found[0].thickness * ratio for ratio in SPACE.unlike]
            ends = [float(np.clip(end, *SPACE.thickness)) for end in ends]
            size = _log(thickness, (ends[0], ends[1]))
        else:
            size = _log(thickness, SPACE.thickness)
        made = listed[min(int(steel * len(listed)), len(listed) - 1)]
        coating = next(one for edge, one in COATINGS if coat <= edge)
        found.append(
            Sheet(
                found[0].steel if found and one_steel else made,
                size,
                Coating.BARE if all_bare else coating,
            )
        )
    total = sum(sheet.thickness for sheet in found)
    if total > SPACE.most_total:  # thick stacks are made thinner all over, not left out
        shrink = SPACE.most_total / total
        found = [
            Sheet(one.steel, max(one.thickness * shrink, SPACE.thickness[0]), one.coating)
            for one in found
        ]
    return tuple(found)


def _cap(take: _Numbers, sheet: Sheet, body: float) -> ElectrodeCap:
    kind, face, radius = take(), take(), take()
    wide = _log(face, SPACE.face_over) * math.sqrt(sheet.thickness * 1e3) * 1e-3
    wide = float(np.clip(wide, SPACE.face[0], min(SPACE.face[1], body)))
    return ElectrodeCap(
        face_diameter=None if kind > 0.7 else wide,
        radius=None if kind < 0.4 else _log(radius, SPACE.radius),
        body_diameter=body,
    )


@dataclass(frozen=True, slots=True)
class Joint:
    """A stack-up and all that is set but the current; ``shares`` [-] choose the currents."""

    stack: StackUp
    set_up: SpotSetUp  # with the reference current
    shares: tuple[float, ...]  # -, one for each weld

    @property
    def reference(self) -> float:
        """The reference current [A]."""
        return self.set_up.pulses[0].current

    def at(self, current: float) -> SpotSetUp:
        """The set-up at a current [A], or at the nearest that was taught."""
        low, high = (self.reference * over for over in SPACE.current_over)
        kept = float(np.clip(np.clip(current, low, high), *SPACE.current))
        pulse = dataclasses.replace(self.set_up.pulses[0], current=kept)
        return dataclasses.replace(self.set_up, pulses=(pulse,))


def joint_at(point: Array, count: int) -> Joint:
    """The joint of one point of the unit cube.

    Parameters
    ----------
    point : Array
        ``dimensions(count)`` numbers from 0 to 1 [-].
    count : int
        Sheets.

    Returns
    -------
    Joint
        With as many choices of current as it has welds.
    """
    take = _Numbers(point)
    sheets = _sheets(take, count)
    time = _log(take(), SPACE.time)
    mean = sum(sheet.thickness for sheet in sheets) / count
    force = float(np.clip(_log(take(), SPACE.force_over) * mean, *SPACE.force))
    own_body = _part(take(), 0.6)
    body = 16e-3 if own_body is None else SPACE.body[0] + own_body * np.ptp(SPACE.body)
    cap_a, cap_b = _cap(take, sheets[0], body), _cap(take, sheets[-1], body)
    if take() < 0.6:
        cap_b = cap_a
    kind = take()
    current_type = next(one for edge, one in TYPES if kind <= edge)
    hold = _log(take(), SPACE.hold)
    gap, slope = _part(take(), 0.6), _part(take(), 0.7)
    stack = StackUp(sheets, gap=0.0 if gap is None else gap * SPACE.gap)
    up = 0.0 if slope is None else slope * SPACE.slope * time

    def with_current(current: float) -> SpotSetUp:
        pulse = Pulse(current, time, up_slope=up)
        return SpotSetUp((pulse,), current_type, force, cap_a, cap_b, 0.3, hold)

    reference = float(reference_current(views_of(stack, with_current(1e4)), time))
    return Joint(stack, with_current(reference), tuple(take() for _ in range(CURRENTS)))


def welds_of(joint: Joint) -> Iterator[tuple[SpotSetUp, Figures, Array]]:
    """Weld a joint up and down about its window, as one would who looks for it.

    Yields
    ------
    tuple
        Set-up, what the solver says, and how warm its interfaces became [-].
    """
    current, last = joint.reference, FIRST
    for share in joint.shares:
        current = _log(share, last) * current
        set_up = joint.at(current)
        found = solved(joint.stack, set_up)
        if found is None:
            return
        yield set_up, *found
        if expulsion_of(found[0], joint.stack)[0] >= SPLASHED:
            last = AFTER_SPLASH
        else:
            last = AFTER_WELD if (found[0].nugget > 0.0).all() else AFTER_COLD
        current = set_up.pulses[0].current


def dimensions(count: int) -> int:
    """How many numbers one joint of so many sheets takes."""
    return 3 * count + 17 + CURRENTS


def points(count: int, chunk: int, seed: int) -> Array:
    """One chunk of the sequence, (CHUNK, dimensions) [-]."""
    sequence = qmc.Sobol(dimensions(count), scramble=True, rng=seed + count)
    if chunk > 0:
        sequence.fast_forward(chunk * CHUNK)
    found: Array = sequence.random(CHUNK)
    return found


def solved(
    stack: StackUp, set_up: SpotSetUp, resolution: Resolution = COARSE
) -> tuple[Figures, Array] | None:
    """What the solver says of one weld, and how warm its interfaces became [-], see ``_warmth``."""
    try:
        weld = simulate(stack, set_up, resolution)
    except SolverFailed:
        return None
    zones = sheet_zones(weld, [], stack)
    known = weld.cooling_t85[np.isfinite(weld.cooling_t85)]
    endless = bool(np.isinf(weld.cooling_t85).any())
    found = Figures(
        nugget=weld.nugget[None],
        contact_radius=weld.contact_radius[None],
        penetration=weld.penetration[None],
        centre=np.isfinite(weld.faces.melted_at[:, 0])[None].astype(float),
        sunk=weld.sunk[None],
        load=weld.load[None],
        diameter_at_limit=weld.diameter_at_limit[None],
        skin=weld.skin[None],
        hottest=np.array([weld.peak.max()]),
        heat=np.array([weld.heat]),
        cooling_t85=np.array([known.max() if len(known) and not endless else math.nan]),
        haz_diameter=np.array([max(one.haz_diameter.value for one in zones)]),
    )
    return found, _warmth(weld, stack)[None]


def _warmth(weld: Simulation, stack: StackUp) -> Array:
    """Heat in the hottest place of each interface over what half melts it, less one [-].

    Counted in heat and not in degrees, it goes on growing where the melting holds the temperature.
    """
    found, tables = [], tables_of(stack)
    halfway = 0.5 * (tables.solidus + tables.liquidus)
    for number, row in enumerate(weld.layout.contact_rows[1:-1], start=1):
        shares = []
        for sheet, peak in ((number, weld.peak[row - 1]), (number + 1, weld.peak[row])):
            heat = np.interp(
                np.stack([peak, np.full_like(peak, halfway[sheet])]),
                T_FIRST + T_STEP * np.arange(tables.enthalpy.shape[1]),
                tables.enthalpy[sheet],
            )
            shares.append(heat[0] / heat[1])
        found.append(float((0.5 * (shares[0] + shares[1])).max()) - 1.0)
    return np.array(found)


def folder() -> Path:
    """Where the chunks of this solver and of this sampling are kept."""
    base = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    law = hashlib.sha256(code_of(Path(__file__)).encode()).hexdigest()[:8]
    found = base / "buttonhole" / "emulator" / f"{fingerprint()[:16]}-{law}"
    found.mkdir(parents=True, exist_ok=True)
    return found


def solve_chunk(task: tuple[int, int, int], where: Path) -> Path:
    """Solve one chunk, or find it solved; ``task``: sheets, chunk, seed."""
    count, chunk, seed = task
    path = where / f"{count}-sheets-seed-{seed}-{chunk:04d}.npz"
    if path.exists():
        return path
    kept: dict[str, list[Array]] = {name: [] for name in ("order", "current", "warmth", *FIGURES)}
    for order, point in enumerate(points(count, chunk, seed)):
        for set_up, found, warmth in welds_of(joint_at(point, count)):
            kept["order"].append(np.array([order]))
            kept["current"].append(np.array([set_up.pulses[0].current]))
            kept["warmth"].append(warmth)
            for name in FIGURES:
                kept[name].append(getattr(found, name))
    part = path.with_suffix(f".{os.getpid()}.part")
    with part.open("wb") as file:
        np.savez(file, **{name: np.concatenate(values) for name, values in kept.items()})
    part.rename(path)
    return path


def read_chunk(task: tuple[int, int, int], path: Path) -> tuple[Array, Array]:
    """Views and numbers of a solved chunk, (welds, interfaces, columns or numbers) [-]."""
    count, chunk, seed = task
    joints = [joint_at(point, count) for point in points(count, chunk, seed)]
    views, numbers = [], []
    with np.load(path) as file:
        kept = {name: file[name] for name in file.files}
    for i, order in enumerate(kept["order"]):
        joint = joints[int(order)]
        found = Figures(**{name: kept[name][i : i + 1] for name in FIGURES})
        views.append(views_of(joint.stack, joint.at(float(kept["current"][i]))).numbers)
        numbers.append(numbers_of(found, kept["warmth"][i : i + 1], joint.stack)[0])
    return np.array(views), np.array(numbers)


def solve_all(
    chunks: dict[int, int], seed: int = SEED, *, workers: int = WORKERS
) -> dict[int, tuple[Array, Array]]:
    """Views and numbers of so many chunks for each number of sheets.

    Parameters
    ----------
    chunks : dict
        Sheets to chunks of ``CHUNK`` joints.
    seed : int
        Of the sequence.
    workers : int
        Processes, all with little claim on the machine.

    Returns
    -------
    dict
        Sheets to views and numbers as ``read_chunk`` gives them [-].
    """
    where = folder()
    tasks = [(count, chunk, seed) for count, n in chunks.items() for chunk in range(n)]
    tasks.sort(key=lambda task: (task[1], task[0]))
    with ProcessPoolExecutor(workers, initializer=os.nice, initargs=(10,)) as pool:
        for done, _ in enumerate(pool.map(partial(solve_chunk, where=where), tasks), start=1):
            print(f"\rchunk {done} of {len(tasks)}", end="", flush=True)
    print()
    found = {}
    for count, n in chunks.items():
        tables = []
        for chunk in range(n):
            task = (count, chunk, seed)
            tables.append(read_chunk(task, solve_chunk(task, where)))
        found[count] = tuple(np.concatenate(each) for each in zip(*tables, strict=True))
    return found
