"""The zones, times and thermal cycles of a predicted weld, as rows of a page."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.screen import between
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.cycle import Point, check_point
from buttonhole.weld.spot.result import SpotWeld

if TYPE_CHECKING:
    from buttonhole.weld.hardness.of_spot import SpotMetal
    from buttonhole.weld.hardness.zone import SoftZone

POINT_KEYS = ("cycle_radius", "cycle_depth")
_FIELDS = {"cycle radius": "cycle_radius", "cycle depth": "cycle_depth"}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: its name, then for each column a figure, or none, with its unit."""

    name: str
    figures: tuple[tuple[Estimate | None, str], ...]


def asked_point(form: Answers, stack: StackUp) -> tuple[Point, ...]:
    """Read the point whose thermal cycle is wanted; none, and a word beside the field, if wrong."""
    if not any(form.typed.get(key, "").strip() for key in POINT_KEYS):
        return ()
    radius = form.quantity("cycle_radius", "length", "mm", need="Give how far from the weld axis.")
    depth = form.quantity("cycle_depth", "length", "mm", need="Give how far below side A.")
    if radius is None or depth is None:
        return ()
    point = Point(radius, depth)
    try:
        check_point(point, stack.total_thickness)
    except BadInput as bad:
        form.blame(bad, _FIELDS)
        return ()
    return (point,)


def interface_rows(weld: SpotWeld) -> tuple[Row, ...]:
    """When each interface melts and freezes, how it cools, and what joined without melting."""
    rows = []
    for one in weld.interfaces:
        melting, corona = one.melting, one.corona
        if melting is None or corona is None:
            continue
        name = between(one.index)
        if melting.began_as_ring:
            centre = melting.centre_melted
            closed = (
                f"its centre melts at {centre.value * 1e3:.0f} ms"
                if centre is not None
                else "stays one"
            )
            name += f": begins as a ring, {closed}"
        times = (melting.began, melting.solid_after, one.cooling_t85)
        rows.append(Row(name, (*((time, "ms") for time in times), (corona.area, "mm2"))))
    return tuple(rows)


def sheet_rows(weld: SpotWeld, metal: "SpotMetal", stack: StackUp) -> tuple[Row, ...]:
    """The zones of each sheet, widest over its thickness, and how soft its softest place is."""
    return tuple(
        Row(
            f"{one.sheet}: {sheet.steel.designation}",
            (
                (one.austenitised_diameter, "mm1"),
                (one.haz_diameter, "mm1"),
                (one.softened_diameter, "mm1"),
                (_softest(soft), "HV"),
                (one.indentation, "mm"),
            ),
        )
        for one, sheet, soft in zip(weld.sheets, stack.sheets, metal.soft, strict=True)
    )


def _softest(zone: "SoftZone | None") -> Estimate | None:
    """Of a sheet that softens, as far as that is known."""
    if zone is None or not zone.softened.known:
        return None
    return zone.softened.softest


def hardness_words(metal: "SpotMetal") -> str:
    """What the figure of the hardest place rests on."""
    peak = metal.peak
    said = f"How the hardest place is known: {peak.relation}"
    return f"{said}; {peak.remark}." if peak.remark else f"{said}."


def point_rows(weld: SpotWeld) -> tuple[Row, ...]:
    """The thermal cycle at the points somebody asked for."""
    return tuple(
        Row(
            f"{one.point.radius * 1e3:g} mm out, {one.point.depth * 1e3:g} mm deep",
            ((one.peak, "degC"), (one.cooling_t85, "ms")),
        )
        for one in weld.cycles
        if one.interface is None
    )
