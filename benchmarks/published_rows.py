"""Published spot welds with every setting stated, and which of them the constants were fitted to.

A source serves one purpose as a whole: its rows are all for calibration or all for validation.
Sources: the tables of ``buttonhole.sources`` named in ``SOURCES``. Assumed where a table is silent:
the steel "low carbon" is SAE 1010, "18/8" is 1.4301, cycles of a European table are 20 ms, current
is alternating, faces are flat, hold is 0.1 s; sheets under 0.45 mm are left out, as thinner than
any the solver's grid is meant for.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

ROLE = {
    "schedule_class_a": "calibration",
    "schedule_stainless_18_8": "calibration",
    "schedule_sae1010": "calibration",
    "schedule_class_c": "validation",
    "schedule_class_b": "validation",
    "schedule_stainless_301_347": "validation",
}
THINNEST = 0.45e-3  # m
KGF, DAN, LBF, INCH = 9.80665, 10.0, 4.4482216, 25.4e-3
HOLD = 0.1  # s


@dataclass(frozen=True, slots=True)
class PublishedWeld:
    """One row: two equal bare sheets; SI units."""

    source: str
    thickness: float  # m
    steel: str
    face: float  # m
    force: float  # N
    current: float  # A
    time: float  # s
    current_type: CurrentType
    nugget: float  # m

    @property
    def role(self) -> str:
        """Calibration or validation."""
        return ROLE[self.source]

    @property
    def stack(self) -> StackUp:
        """The two sheets."""
        sheet = Sheet(find_steel(self.steel), self.thickness)
        return StackUp((sheet, sheet))

    def set_up(self, hold: float = HOLD) -> SpotSetUp:
        """What was set; the shank is wide enough for the face."""
        cap = ElectrodeCap(face_diameter=self.face, body_diameter=max(16e-3, 2.0 * self.face))
        pulse = Pulse(self.current, self.time)
        return SpotSetUp((pulse,), self.current_type, self.force, cap, cap, 0.3, hold)


def traded(row: PublishedWeld) -> PublishedWeld:
    """Return the row with less force and current for longer, which is to give the same nugget.

    The trade between schedule classes as common practice has it, no source for the exact factors:
    0.7 of the force, 0.8 of the current, 1.8 of the time.
    """
    return replace(row, force=0.7 * row.force, current=0.8 * row.current, time=1.8 * row.time)


def published_welds() -> tuple[PublishedWeld, ...]:
    """Return every row that serves, source by source."""
    found = [
        *_metric_class("schedule_class_a"),
        *_stainless(),
        *_inch("schedule_sae1010", "SAE 1010", "I [A]"),
        *_class_c(),
        *_metric_class("schedule_class_b"),
        *_inch("schedule_stainless_301_347", "1.4301", "I_soft [A]"),
    ]
    return tuple(weld for weld in found if weld.thickness >= THINNEST)


def _columns(name: str, *headers: str) -> Iterator[tuple[float, ...]]:
    rows = table(name)
    yield from zip(*(rows.column(header).tolist() for header in headers), strict=True)


def _metric_class(name: str) -> Iterator[PublishedWeld]:
    headers = ("t [mm]", "face_max [mm]", "force [kgf]", "I [kA]", "weld_time [cycle50]")
    ac = CurrentType.AC50
    for t, face, force, current, cycles, d in _columns(name, *headers, "nugget_diameter [mm]"):
        yield PublishedWeld(
            name, t * 1e-3, "SAE 1010", face * 1e-3, force * KGF, current * 1e3, cycles / 50.0, ac,
            d * 1e-3,
        )  # fmt: skip


def _stainless() -> Iterator[PublishedWeld]:
    headers = ("t [mm]", "face [mm]", "force [daN]", "I_soft [kA]", "weld_time [cycle50]")
    name, ac = "schedule_stainless_18_8", CurrentType.AC50
    for t, face, force, current, cycles, d in _columns(name, *headers, "nugget_diameter [mm]"):
        yield PublishedWeld(
            name, t * 1e-3, "1.4301", face * 1e-3, force * DAN, current * 1e3, cycles / 50.0, ac,
            d * 1e-3,
        )  # fmt: skip


def _inch(name: str, steel: str, current_header: str) -> Iterator[PublishedWeld]:
    headers = ("t [in]", "face_max [in]", "force [lbf]", current_header, "weld_time [cycle60]")
    ac = CurrentType.AC60
    for t, face, force, current, cycles, d in _columns(name, *headers, "fused_diameter [in]"):
        if t < 0.14:  # thicker than the solver takes part by part: over 3.5 mm
            yield PublishedWeld(
                name, t * INCH, steel, face * INCH, force * LBF, current, cycles / 60.0, ac,
                d * INCH,
            )  # fmt: skip


def _class_c() -> Iterator[PublishedWeld]:
    headers = ("t [mm]", "face [mm]", "force [kN]", "I [kA]", "weld_time [ms]")
    name, ac = "schedule_class_c", CurrentType.AC60
    for t, face, force, current, ms, d in _columns(name, *headers, "nugget_diameter [mm]"):
        yield PublishedWeld(
            name, t * 1e-3, "SAE 1010", face * 1e-3, force * 1e3, current * 1e3, ms * 1e-3, ac,
            d * 1e-3,
        )  # fmt: skip
