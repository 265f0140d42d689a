"""How a seam is welded: heat of the arc, torch, and the way it goes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.arc.metal import ThermalMetal
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint

Array = NDArray[np.float64]

MOST_POWER = 8e3  # W; more is no thin sheet's arc
SLOWEST, FASTEST = 1e-3, 50e-3  # m/s
AIM_CORRELATION = 5e-3  # m along the seam over which a hand keeps its error; no source
KNOT = 1.5e-3  # m between points of a hand's path


@dataclass(frozen=True, slots=True)
class ArcHeat:
    """What reaches the work: by the arc, with the droplets, and how much metal.

    ``current`` [A] is used for the arc's pressure only; without it 100 A is taken.
    """

    arc_power: float  # W, into the work, the droplets' heat not in it
    droplet_power: float  # W
    deposition_rate: float  # m3/s
    current: float = 100.0  # A

    def __post_init__(self) -> None:
        for key, value in (("arc_power", self.arc_power), ("droplet_power", self.droplet_power)):
            if not 0.0 <= value <= MOST_POWER:
                raise BadInput(key, f"is {value:g} W; give 0 to {MOST_POWER:g} W")
        if not 0.0 <= self.deposition_rate <= 5e-7:
            raise BadInput(
                "deposition_rate",
                f"is {self.deposition_rate * 1e9:g} mm3/s; give 0 to 500 mm3/s",
            )
        if self.deposition_rate == 0.0 and self.droplet_power > 0.0:
            raise BadInput("deposition_rate", "is 0, but droplets carry heat; give their volume")

    @property
    def power(self) -> float:
        """All heat into the work [W]."""
        return self.arc_power + self.droplet_power

    def scaled(self, factor: float) -> "ArcHeat":
        """Return the same droplets with the whole heat times ``factor`` [-] (at least theirs)."""
        arc = max(self.power * factor - self.droplet_power, 0.0)
        return ArcHeat(arc, self.droplet_power, self.deposition_rate, self.current)


@dataclass(frozen=True, slots=True)
class Torch:
    """How the wire points.

    ``work_angle`` [deg] from the face of the lower sheet: 90 stands square on it, 45 looks into the
    joint of a lap. ``travel_angle`` [deg] is positive when the arc is pushed, negative if dragged.
    ``aim_offset`` [m] is where the wire points, from the joint: positive on to the lower sheet of a
    lap (or to the torch's left of a butt), negative on to the upper one. ``stray`` [m] is how far a
    hand holds the wire beside that, square to the wire, positive to the lower sheet's side.
    """

    work_angle: float = 45.0  # deg
    travel_angle: float = 0.0  # deg
    aim_offset: float = 0.0  # m
    stray: float = 0.0  # m

    def __post_init__(self) -> None:
        if not 20.0 <= self.work_angle <= 110.0:
            raise BadInput("work_angle", f"is {self.work_angle:g} deg; give 20 to 110 deg")
        if not -50.0 <= self.travel_angle <= 50.0:
            raise BadInput("travel_angle", f"is {self.travel_angle:g} deg; give -50 to 50 deg")
        if not -6e-3 <= self.aim_offset <= 6e-3:
            raise BadInput(
                "aim_offset", f"is {self.aim_offset * 1e3:g} mm; give -6 to 6 mm from the joint"
            )
        if not -6e-3 <= self.stray <= 6e-3:
            raise BadInput("stray", f"is {self.stray * 1e3:g} mm; give -6 to 6 mm")

    def axis(self) -> Array:
        """Direction the wire points in, shape (3,): along, across, up [-]."""
        work, travel = math.radians(self.work_angle), math.radians(self.travel_angle)
        return np.array(
            [
                math.sin(travel),
                math.cos(work) * math.cos(travel),
                -math.sin(work) * math.cos(travel),
            ]
        )


@dataclass(frozen=True, slots=True)
class Run:
    """One length welded without stopping, from ``start`` to ``end`` [m] along the seam."""

    start: float  # m
    end: float  # m; smaller than start: welded backwards
    speed: float  # m/s
    pause: float = 0.0  # s before the arc starts

    def __post_init__(self) -> None:
        if not SLOWEST <= self.speed <= FASTEST:
            raise BadInput(
                "travel_speed",
                f"is {self.speed * 1e3:g} mm/s; give {SLOWEST * 1e3:g} to {FASTEST * 1e3:g} mm/s",
            )
        if not 0.0 <= self.pause <= 600.0:
            raise BadInput("pause", f"is {self.pause:g} s; give 0 to 600 s")
        if abs(self.end - self.start) < 1e-3:
            raise BadInput("length", "of one run is under 1 mm; give a run that can be welded")

    @property
    def arc_time(self) -> float:
        """How long the arc burns [s]."""
        return abs(self.end - self.start) / self.speed


def continuous(length: float, speed: float) -> tuple[Run, ...]:
    """Weld ``length`` [m] in one go at ``speed`` [m/s]."""
    return (Run(0.0, length, speed),)


def stitches(
    length: float, stitch: float, space: float, speed: float, pause: float
) -> tuple[Run, ...]:
    """Weld stitches of ``stitch`` [m] with ``space`` [m] between over ``length`` [m].

    ``speed`` [m/s] is that of each, ``pause`` [s] lies between two of them.
    """
    if not 1e-3 <= stitch <= length or space < 0.0:
        raise BadInput(
            "stitch", "must be at least 1 mm, no longer than the seam; space not under 0"
        )
    runs: list[Run] = []
    at = 0.0
    while at + stitch <= length + 1e-9:
        runs.append(Run(at, at + stitch, speed, pause if runs else 0.0))
        at += stitch + space
    return tuple(runs)


def skip(
    length: float, order: Sequence[int], speed: float, pause: float, backwards: bool = False
) -> tuple[Run, ...]:
    """Weld ``length`` [m] in as many equal parts as ``order`` names, in that order.

    Parameters
    ----------
    length : float
        Of the whole seam [m].
    order : sequence of int
        0 is the part at the start; each part once.
    speed : float
        Of every part [m/s].
    pause : float
        Between parts [s].
    backwards : bool
        Weld each part against the direction of the seam (back-step).

    Returns
    -------
    tuple of Run
        In the order they are welded.
    """
    if sorted(order) != list(range(len(order))) or not order:
        raise BadInput("order", f"is {list(order)}; name each part once, counted from 0")
    part = length / len(order)
    runs: list[Run] = []
    for number in order:
        ends = (number * part, (number + 1) * part)
        start, end = ends[::-1] if backwards else ends
        runs.append(Run(start, end, speed, pause if runs else 0.0))
    return tuple(runs)


@dataclass(frozen=True, slots=True)
class Hand:
    """How far a hand strays, as standard deviations; common practice, no source.

    ``aim`` [m], square to the wire, and ``speed`` [-] are those of a whole seam; while welding the
    hand wanders by as much about it.
    """

    aim: float = 0.7e-3  # m
    speed: float = 0.10  # -


STEADY = Hand(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class SeamSetUp:
    """Everything that is set and done for one seam.

    ``filler`` is the wire's metal where it melts lower than the sheets (arc brazing); without it
    the deposit counts as the lower sheet's metal.
    """

    heat: ArcHeat
    torch: Torch
    runs: tuple[Run, ...]
    hand: Hand = Hand()
    filler: ThermalMetal | None = None

    def __post_init__(self) -> None:
        if not self.runs:
            raise BadInput("length", "no run is given; a seam has at least one")

    @property
    def arc_time(self) -> float:
        """How long the arc burns in all runs [s]."""
        return sum(run.arc_time for run in self.runs)

    @property
    def energy_per_length(self) -> float:
        """Heat into the work over the length of weld [J/m]."""
        return self.heat.power * self.arc_time / sum(abs(r.end - r.start) for r in self.runs)


def strayed(joint: SeamJoint, torch: Torch, stray: float) -> tuple[float, float]:
    """Point on the axis of a torch held ``stray`` [m] beside where it is meant to point [m]."""
    y, z = aim_point(joint, torch.aim_offset)
    work = math.radians(torch.work_angle)
    return y - stray * math.sin(work), z - stray * math.cos(work)


def aim_point(joint: SeamJoint, offset: float) -> tuple[float, float]:
    """Where a wire points that is ``offset`` [m] off the joint: across and up [m]."""
    base = joint.lower.thickness
    if joint.kind is JointKind.LAP:
        return -offset, base if offset >= 0.0 else base + joint.gap + joint.upper.thickness
    closed = joint.root_opening == 0.0
    over_sheet = closed or abs(offset) > 0.5 * joint.root_opening
    return -offset, base + (joint.upper.thickness if over_sheet else 0.0)


def path(joint: SeamJoint, set_up: SeamSetUp, rng: np.random.Generator | None = None) -> Array:
    """Points the arc goes through.

    Parameters
    ----------
    joint, set_up
        What is welded, and how.
    rng : numpy.random.Generator, optional
        Draws how this one hand wanders in aim and speed; without it the hand is steady.

    Returns
    -------
    array, shape (points, 5)
        Time [s], along, across, up [m], and 1 where the arc burns until the next point [-].
    """
    rows: list[tuple[float, float, float, float, float]] = []
    now = 0.0
    for run in set_up.runs:
        now += run.pause
        count = 1 if rng is None else max(1, round(abs(run.end - run.start) / KNOT))
        knots = np.linspace(run.start, run.end, count + 1)
        aims, speeds = np.zeros(count + 1), np.full(count + 1, run.speed)
        if rng is not None:
            aims = set_up.hand.aim * _wander(count + 1, rng)
            speeds = run.speed * np.exp(set_up.hand.speed * _wander(count + 1, rng))
        for i, x in enumerate(knots):
            beside = strayed(joint, set_up.torch, set_up.torch.stray + float(aims[i]))
            rows.append((now, float(x), *beside, 1.0 if i < count else 0.0))
            if i < count:
                mean = 0.5 * float(speeds[i] + speeds[i + 1])
                now += abs(float(knots[i + 1] - x)) / mean
    return np.array(rows)


def _wander(count: int, rng: np.random.Generator) -> Array:
    """Errors of a hand at points ``KNOT`` apart, unit variance, that die away slowly."""
    keep = math.exp(-KNOT / AIM_CORRELATION)
    drawn = rng.standard_normal(count)
    for i in range(1, count):
        drawn[i] = keep * drawn[i - 1] + math.sqrt(1.0 - keep * keep) * drawn[i]
    return drawn
