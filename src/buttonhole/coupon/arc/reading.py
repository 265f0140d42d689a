"""What somebody measured on a torn, bent or sectioned arc weld, and saw on it."""

import math
from dataclasses import dataclass

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.imperfection import Seen
from buttonhole.coupon.reading import CALLIPER_BUTTON, CALLIPER_FACE, READER
from buttonhole.coupon.test import TestKind
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.marks import BackMark

# Against slips of the unit; our own.
LARGEST_PLUG = 40e-3  # m
LONGEST_SEAM = 0.3  # m
THICKEST = 20e-3  # m, of leg, throat, penetration and head

CLEAN = frozenset({ArcFracture.HOLE_PULLED, ArcFracture.UNBROKEN, None})  # read sharply


def usual_gauge_uncertainty(fracture: ArcFracture | None) -> float:
    """Return the standard uncertainty of a calliper or weld gauge [m] unless the shop has its own.

    Sources
    -------
    assumption, no source; as for spots.
    """
    return CALLIPER_BUTTON if fracture in CLEAN else CALLIPER_FACE


@dataclass(frozen=True, slots=True)
class ArcReading:
    """One arc weld of one coupon at one interface; None: not measured, or nobody looked.

    ``fracture`` is None for a macro section only. Torn hole or fused area ``d_max``, ``d_min``, the
    smooth bright face left out (``smooth_left_out``); head ``head_max``, ``head_min``,
    ``head_height``; hole as drilled ``hole_max``, ``hole_min`` [m]. Of a seam ``tested_length``,
    ``fused_length``, ``leg`` (the smaller), ``throat``, ``wetted_width`` [m]. ``penetrations`` [m]:
    in a section, of each sheet from the side welded; of a plug of the sheet below. ``back``: what
    shows on the back, ``zinc_ring`` [m] round it, ``back_picture`` the SHA-256 of its picture.
    ``bend_angle``, ``twist_angle`` [deg]; ``force`` [N]. The two uncertainties are standard ones
    (one sigma) [m], also those that a gauge study found.

    Raises
    ------
    BadInput
        A value no weld can have, or diameters the wrong way round.
    """

    interface: int  # from the side welded, from 0
    test: TestKind
    fracture: ArcFracture | None
    d_max: float | None = None  # m
    d_min: float | None = None  # m
    head_max: float | None = None  # m
    head_min: float | None = None  # m
    head_height: float | None = None  # m
    hole_max: float | None = None  # m
    hole_min: float | None = None  # m
    tested_length: float | None = None  # m
    fused_length: float | None = None  # m
    leg: float | None = None  # m
    throat: float | None = None  # m
    wetted_width: float | None = None  # m
    penetrations: tuple[float, ...] = ()  # m
    back: BackMark | None = None
    zinc_ring: float | None = None  # m
    back_picture: str = ""
    imperfections: tuple[Seen, ...] = ()
    bend_angle: float | None = None  # deg
    twist_angle: float | None = None  # deg
    force: float | None = None  # N
    force_uncertainty: float | None = None  # N
    smooth_left_out: bool = True
    instrument_uncertainty: float = CALLIPER_BUTTON  # m
    reader_uncertainty: float = READER  # m

    def __post_init__(self) -> None:
        """Refuse what no weld can be."""
        if self.interface < 0:
            raise BadInput("interface", f"is {self.interface}; count from the side welded, from 0")
        if self.fracture is None and self.test is not TestKind.MACRO:
            raise BadInput("fracture", f"say how the weld let go: {', '.join(ArcFracture)}")
        for pair in ("d", "head", "hole"):
            self._check_pair(pair)
        self._check_sizes()
        self._check_others()

    def _check_pair(self, pair: str) -> None:
        large, small = getattr(self, f"{pair}_max"), getattr(self, f"{pair}_min")
        if (large is None) != (small is None):
            missing = f"{pair}_{'max' if large is None else 'min'}"
            raise BadInput(missing, "is missing; give the largest and the smallest diameter")
        if large is None:
            return
        _within(f"{pair}_max", large, LARGEST_PLUG)
        _within(f"{pair}_min", small, LARGEST_PLUG)
        if small > large:
            raise BadInput(
                f"{pair}_min",
                f"{small * 1e3:g} mm is more than the largest diameter {large * 1e3:g} mm; give "
                "the largest first",
            )

    def _check_sizes(self) -> None:
        for key in ("head_height", "leg", "throat"):
            _within(key, getattr(self, key), THICKEST)
        for key in ("tested_length", "fused_length"):
            _within(key, getattr(self, key), LONGEST_SEAM)
        for key in ("zinc_ring", "wetted_width"):
            _within(key, getattr(self, key), 0.1)
        for depth in self.penetrations:
            _within("penetrations", depth, THICKEST)
        tested, fused = self.tested_length, self.fused_length
        if tested is not None and tested <= 0.0:
            raise BadInput("tested_length", "is 0 mm; give the length that was torn or bent")
        if fused is not None and tested is None:
            raise BadInput("tested_length", "is missing beside fused_length; give both")
        if fused is not None and tested is not None and fused > tested:
            raise BadInput(
                "fused_length",
                f"{fused * 1e3:g} mm is more than the length tested, {tested * 1e3:g} mm",
            )

    def _check_others(self) -> None:
        for key in ("bend_angle", "twist_angle"):
            value = getattr(self, key)
            if value is not None and not 0.0 <= value <= 360.0:
                raise BadInput(key, f"is {value:g} deg; give 0 to 360 deg")
        for key in ("force", "force_uncertainty"):
            value = getattr(self, key)
            if value is not None and not (value >= 0.0 and math.isfinite(value)):
                raise BadInput(key, f"is {value:g} N; give zero or more, or none")
        for key in ("instrument_uncertainty", "reader_uncertainty"):
            value = getattr(self, key)
            if not 0.0 <= value <= 2e-3:
                raise BadInput(
                    key, f"is {value * 1e3:g} mm; give one standard deviation, 0 to 2 mm"
                )

    @property
    def mean_diameter(self) -> float | None:
        """Mean of the largest and the smallest torn diameter [m]; None where not measured."""
        return _mean(self.d_max, self.d_min)

    @property
    def mean_head(self) -> float | None:
        """Mean diameter of the head [m]; None where not measured."""
        return _mean(self.head_max, self.head_min)

    @property
    def mean_hole(self) -> float | None:
        """Mean diameter of the hole as drilled [m]; None where not measured."""
        return _mean(self.hole_max, self.hole_min)

    @property
    def burnt_through(self) -> bool:
        """The arc fell through: it teaches nothing about sizes."""
        return self.fracture is ArcFracture.BURNT_THROUGH or self.back is BackMark.HOLE

    @property
    def figures(self) -> tuple[tuple[str, float], ...]:
        """What was measured, by name, in the order it is shown [m]."""
        named = (
            ("torn diameter, largest", self.d_max),
            ("torn diameter, smallest", self.d_min),
            ("head, largest", self.head_max),
            ("head, smallest", self.head_min),
            ("head height", self.head_height),
            ("hole, largest", self.hole_max),
            ("hole, smallest", self.hole_min),
            ("length tested", self.tested_length),
            ("length that held", self.fused_length),
            ("leg", self.leg),
            ("throat", self.throat),
            ("wetted width", self.wetted_width),
            ("zinc ring on the back", self.zinc_ring),
        )
        found = [(name, value) for name, value in named if value is not None]
        found += [(f"melted in sheet {i}", d) for i, d in enumerate(self.penetrations, start=1)]
        return tuple(found)


def _within(key: str, value: float | None, largest: float) -> None:
    if value is not None and not 0.0 <= value <= largest:  # also catches NaN
        raise BadInput(key, f"is {value * 1e3:g} mm; give 0 to {largest * 1e3:g} mm")


def _mean(large: float | None, small: float | None) -> float | None:
    return None if large is None or small is None else 0.5 * (large + small)
