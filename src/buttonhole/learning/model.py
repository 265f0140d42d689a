"""What coupons of one machine would show, for each guess of what is unknown.

A guess is a row of standard normal numbers: first what the machine gets wrong, then how far the
predicted sizes are off (together, and for each interface of each joint), last the logarithm of the
scatter. Because what a machine gets wrong moves the inputs of a joint's surrogate straight, each
set-up is again a polynomial of the guesses: it is worked out once, then read for all at once.

Splashed coupons are left out of it on purpose: metal that flew out says little of the current, and
a gap or a low force splash alike. They teach the splash alone, see ``splash``.

The terms of each kind of evidence are derived.

Sources: kennedy-ohagan-2001.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.beliefs import Beliefs, Unknown
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.surrogate import DEGREE, Surrogate, from_square, powers, terms
from buttonhole.units import BadInput

Array = NDArray[np.float64]

PARTS_AT, PARTS_OVER = 3.2, 0.15  # mm/sqrt(mm), -: about where a weld parts between the sheets
CHISEL_WORTH = 0.5  # -, of a chisel that did not open it, against a torn coupon
TINY = 1e-12  # -
LOG_ROOT = 0.5 * math.log(2.0 * math.pi)
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(9)


@dataclass(frozen=True, slots=True)
class LearnedJoint:
    """A joint as it is learned about.

    ``least`` [m]: smallest diameter that is good, and ``thinner`` [m]: thickness of the thinner
    sheet, at each interface. ``group``: of joints whose contact is alike. ``current`` [A]: that the
    surrogate was fitted round, 0 where there is none. ``strict``: of the strict class. ``scales``
    [-]: of a size that is not as large as others (a depth), how far it is off and scatters for its
    kind; ``names``: what the sizes are, where they are not diameters at interfaces.
    """

    key: str
    surrogate: Surrogate
    least: tuple[float, ...]  # m
    thinner: tuple[float, ...]  # m
    group: str = ""
    current: float = 0.0  # A
    strict: bool = False
    scales: tuple[float, ...] = ()  # -
    names: tuple[str, ...] = ()

    def scale(self, face: int) -> float:
        """How far one size is off and scatters, for its kind [-]."""
        return self.scales[face] if self.scales else 1.0

    @property
    def each_scale(self) -> Array:
        """``scale`` of all sizes, (interfaces,) [-]."""
        return np.array([self.scale(i) for i in range(self.surrogate.interfaces)])


@dataclass(frozen=True, slots=True)
class Setting:
    """One set-up of one joint as polynomials of the guesses; (terms, figures) [SI]."""

    joint: LearnedJoint
    coefficients: Array  # (terms, figures), SI


@dataclass(frozen=True, slots=True)
class Figures:
    """What each guess says of welds of one setting; scatter left out."""

    size: Array  # (n, interfaces), m
    melts: Array  # (n, interfaces), probability [-]
    spoil: Array  # (n,), standard normal score [-]
    others: Array  # (n, others), SI


class Model:
    """Unknowns and joints of one machine, and what they say of a setting."""

    def __init__(self, beliefs: Beliefs, joints: Sequence[LearnedJoint]) -> None:
        if not joints:
            raise BadInput("joints", "are missing; a machine is learned on at least one")
        self.beliefs = beliefs
        self.joints: Mapping[str, LearnedJoint] = {each.key: each for each in joints}
        groups = {each.group for each in joints}
        self.unknowns = tuple(
            one for one in beliefs.unknowns if not one.group or one.group in groups
        )
        self._off: dict[tuple[str, int], int] = {}
        for joint in self.joints.values():
            for face in range(joint.surrogate.interfaces):
                self._off[joint.key, face] = len(self.unknowns) + 1 + len(self._off)

    @property
    def size(self) -> int:
        """How many numbers a guess has."""
        return len(self.unknowns) + 1 + len(self._off) + 1

    def names(self) -> tuple[str, ...]:
        """What each number of a guess stands for."""
        off = (f"size off, {key}, interface {face + 1}" for key, face in self._off)
        return (*(one.name for one in self.unknowns), "size off, all", *off, "scatter")

    def scatter(self, z: Array) -> Array:
        """Scatter from weld to weld (n,) [m] of guesses ``z`` [-], (n, unknowns)."""
        own = self.beliefs
        found: Array = own.scatter * np.exp(own.scatter_width * z[:, -1])
        return found

    def unknown_values(self, z: Array) -> Array:
        """What the machine gets wrong (n, machine unknowns) [SI] by guesses ``z`` [-]."""
        found: Array = np.array([one.about for one in self.unknowns]) + z[
            :, : len(self.unknowns)
        ] * np.array([one.sd for one in self.unknowns])
        return found

    def share(self, one: Unknown, joint: LearnedJoint, current: float) -> float:
        """How far an unknown counts for a joint at a ``current`` [A], 0 to 1 or more [-]."""
        return _share(one, joint, current)

    def setting(self, joint: str, point: Sequence[float], current: float = 0.0) -> Setting:
        """Work out one set-up.

        Parameters
        ----------
        joint : str
            Key of the joint.
        point : sequence of float
            What is set, as inputs of its surrogate [SI].
        current : float
            Set [A], for an offset; else the joint's own.

        Returns
        -------
        Setting
            To be read by ``figures``.

        Raises
        ------
        BadInput
            An unknown joint, or not as many inputs as its surrogate has.
        """
        if joint not in self.joints:
            raise BadInput("joint", f"{joint!r} is not among those that are learned about")
        own = self.joints[joint]
        inputs = own.surrogate.inputs
        if len(point) != len(inputs):
            raise BadInput("point", f"has {len(point)} values; give {', '.join(inputs)}")
        base, moves = np.array(point, float), np.zeros((len(inputs), len(self.unknowns)))
        for i, one in enumerate(self.unknowns):
            share = _share(one, own, current)
            base[inputs.index(one.moves)] += share * one.about
            moves[inputs.index(one.moves), i] = share * one.sd
        nodes, solve = _nodes(len(self.unknowns))
        return Setting(own, solve @ own.surrogate.raw(base + nodes @ moves.T))

    def basis(self, z: Array) -> Array:
        """Products (n, terms) [-] of guesses ``z`` [-], shared by all settings."""
        return terms(z[:, : len(self.unknowns)])

    def figures(self, z: Array, setting: Setting, basis: Array | None = None) -> Figures:
        """Read one setting for all guesses.

        Parameters
        ----------
        z : Array
            (n, unknowns) [-].
        setting : Setting
            Of this model.
        basis : Array, optional
            Of the same guesses [-].

        Returns
        -------
        Figures
            For each guess [SI].
        """
        own = setting.joint
        found = (self.basis(z) if basis is None else basis) @ setting.coefficients
        count = own.surrogate.interfaces
        size = self.sizes(z, own, found[:, :count])
        melt = found[:, count : 2 * count] / own.surrogate.melt_spread
        return Figures(size, _phi(melt), found[:, 2 * count], found[:, 2 * count + 1 :])

    def sizes(self, z: Array, joint: LearnedJoint, raw: Array, face: int | None = None) -> Array:
        """Predicted sizes with what they are off [m]; of one interface, or of all.

        Parameters
        ----------
        z : Array
            (n, unknowns) [-].
        joint : LearnedJoint
            Whose they are.
        raw : Array
            As the surrogate holds them, (n, interfaces) or (n,) [SI].
        face : int, optional
            Which interface.

        Returns
        -------
        Array
            As ``raw`` [m].
        """
        size = from_square(raw) if joint.surrogate.squared else raw
        together = self.beliefs.common * z[:, len(self.unknowns)]
        own = math.hypot(self.beliefs.own, joint.surrogate.size_doubt)
        if face is not None:
            off = together + own * z[:, self._off[joint.key, face]]
            found: Array = size + joint.scale(face) * off
            return found
        at = [self._off[joint.key, i] for i in range(joint.surrogate.interfaces)]
        each: Array = size + joint.each_scale * (together[:, None] + own * z[:, at])
        return each


def _share(one: Unknown, joint: LearnedJoint, current: float) -> float:
    """How far an unknown counts at a setting [-]."""
    if one.group and one.group != joint.group:
        return 0.0
    if one.per_current:
        set_to = current or joint.current
        return one.per_current / set_to if set_to > 0.0 else 0.0
    return 1.0


@cache
def _nodes(unknowns: int) -> tuple[Array, Array]:
    """Points from which a polynomial is known exactly, and what makes its coefficients of them."""
    grid = np.zeros((len(powers(unknowns)), unknowns))
    for row, term in enumerate(powers(unknowns)):
        for one in term:
            grid[row, one] += 1.0
    grid = (grid - DEGREE / (unknowns + 1.0)) * 1.2
    solve = np.asarray(np.linalg.inv(terms(grid)), np.float64)
    return grid, solve


def _phi(x: Array) -> Array:
    from scipy.special import ndtr  # slow to load

    found: Array = ndtr(x)
    return found


def _log_phi(x: Array) -> Array:
    from scipy.special import log_ndtr

    found: Array = log_ndtr(x)
    return found


class CouponLikelihood:
    """Log likelihood of what coupons and meters showed, for many guesses at once."""

    def __init__(self, model: Model, coupons: Sequence[LearningCoupon]) -> None:
        self.model = model
        self.coupons = tuple(coupons)
        settings: dict[tuple[object, ...], Setting] = {}
        columns: list[Array] = []
        self._seen: list[tuple[int, Evidence, Setting, int]] = []
        self._meters: list[tuple[Evidence, Array]] = []
        for number, coupon in enumerate(coupons):
            key = (coupon.joint, coupon.point, coupon.current)
            if key not in settings:
                settings[key] = model.setting(coupon.joint, coupon.point, coupon.current)
            setting = settings[key]
            for one in coupon.evidence:
                if one.kind is Kind.METER:
                    self._meters.append((one, _reads(model, one, setting.joint, coupon.current)))
                elif not coupon.splashed and one.kind is not Kind.SHOWN:
                    self._seen.append((number, one, setting, len(columns)))
                    columns.extend(_columns(one, setting))
        self._coefficients = np.array(columns).T if columns else np.empty((0, 0))

    def __call__(self, z: Array) -> Array:
        """Return the log likelihood of each guess (n, unknowns) [-], (n,) [-]."""
        found = np.zeros(len(z))
        for _, fit in self._terms(z):
            found += fit
        for one, weights in self._meters:
            off = (self._machine(z) @ weights - one.value) / one.uncertainty
            found -= 0.5 * off**2
        return found

    @property
    def teaches(self) -> bool:
        """There is evidence that moves a guess; splashed coupons alone do not."""
        return bool(self._seen or self._meters)

    def by_coupon(self, z: Array) -> Array:
        """Return the log likelihood of each coupon and guess ``z`` [-], (coupons, n) [-]."""
        found = np.zeros((len(self.coupons), len(z)))
        for number, fit in self._terms(z):
            found[number] += fit
        return found

    def _machine(self, z: Array) -> Array:
        return self.model.unknown_values(z)

    def _terms(self, z: Array) -> list[tuple[int, Array]]:
        if not self._seen:
            return []
        read = self.model.basis(z) @ self._coefficients
        scatter = self.model.scatter(z)
        logs = np.log(scatter)
        return [
            (number, self._term(z, one, setting, read[:, at : at + 2], scatter, logs))
            for number, one, setting, at in self._seen
        ]

    def _term(
        self,
        z: Array,
        one: Evidence,
        setting: Setting,
        read: Array,
        scatter: Array,
        logs: Array,
    ) -> Array:
        own = setting.joint
        if one.kind is Kind.BACK_MARK:
            return _between(
                read[:, 0], one, float(own.surrogate.error[own.surrogate.place("back")])
            )
        size = self.model.sizes(z, own, read[:, 0], one.interface)
        melt = read[:, 1] / own.surrogate.melt_spread[one.interface]
        scale = own.scale(one.interface)
        least = scale * self.model.beliefs.least_button
        error = float(own.surrogate.error[one.interface])
        if scale != 1.0:
            scatter = scale * scatter
        if one.kind is Kind.MEASURED:
            fixed = one.uncertainty**2 + error**2
            square = scatter**2 + fixed
            return _log_phi(melt) - 0.5 * (one.value - size) ** 2 / square - 0.5 * np.log(square)
        wide = np.sqrt(scatter**2 + error**2)
        if one.kind is Kind.NO_BUTTON:
            torn = _phi(melt) * _phi((size - least) / wide)
            return np.log(np.maximum(1.0 - torn, TINY))
        if one.kind is Kind.INTERFACIAL:
            return _log_phi(melt) + _parted(size, wide, own.thinner[one.interface], least)
        reached = _log_phi(melt) + _log_phi((size - one.value) / wide)
        return CHISEL_WORTH * reached if one.kind is Kind.CHISEL_PASSED else reached


def _columns(one: Evidence, setting: Setting) -> tuple[Array, Array]:
    """The two figures a piece of evidence is about."""
    own = setting.joint.surrogate
    if not 0 <= one.interface < own.interfaces:
        raise BadInput("interface", f"is {one.interface}; this joint has 0 to {own.interfaces - 1}")
    if one.kind is Kind.BACK_MARK:
        if "back" not in own.others:
            raise BadInput("back_mark", "is not predicted for this weld; enter the torn coupon")
        back = setting.coefficients[:, own.place("back")]
        return back, back
    first = own.interfaces + one.interface
    return setting.coefficients[:, one.interface], setting.coefficients[:, first]


def _reads(model: Model, one: Evidence, joint: LearnedJoint, current: float) -> Array:
    """How far each machine unknown shows on a meter."""
    weights = np.array(
        [
            _share(each, joint, current) if each.meter == one.meter else 0.0
            for each in model.unknowns
        ]
    )
    if not weights.any():
        known = sorted({each.meter for each in model.unknowns if each.meter})
        raise BadInput("meter", f"{one.meter!r} teaches nothing here; give {', '.join(known)}")
    return weights


def _between(back: Array, one: Evidence, error: float) -> Array:
    width = max(math.hypot(one.uncertainty, error), 1.0)
    share = _phi((one.upper - back) / width) - _phi((one.value - back) / width)
    found: Array = np.log(np.maximum(share, TINY))
    return found


def parts_between(size: Array | float, thinner: float) -> Array:
    """Chance that a weld of a size parts between the sheets.

    Parameters
    ----------
    size : Array or float
        Diameter [m].
    thinner : float
        Thickness of the thinner sheet [m].

    Returns
    -------
    Array
        Chance [-].

    Sources
    -------
    common-practice (half of them at 3.2 times the root of the thickness; judged, no source)
    """
    at = PARTS_AT * math.sqrt(thinner * 1e3) * 1e-3
    over = np.clip((np.asarray(size, float) - at) / (PARTS_OVER * at), -50.0, 50.0)
    found: Array = 1.0 / (1.0 + np.exp(over))
    return found


def _parted(size: Array, wide: Array, thinner: float, least: float) -> Array:
    """Log chance that a weld is of a size that parts between the sheets, over all it may have."""
    total = np.zeros_like(size)
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        d = size + wide * node
        parts = parts_between(d, thinner)
        total += weight / math.sqrt(2.0 * math.pi) * np.where(d > least, parts, 0.0)
    found: Array = np.log(np.maximum(total, TINY))
    return found
