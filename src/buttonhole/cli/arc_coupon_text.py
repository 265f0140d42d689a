"""Judged arc welds in plain words for a terminal, and as JSON with units in the key names."""

from typing import Any

from buttonhole.coupon.arc.imperfection import imperfection
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.verdict import Verdict


def arc_reading_lines(reading: ArcReading) -> list[str]:
    """What was measured and seen on an arc weld, one line each."""
    how = "section" if reading.fracture is None else reading.fracture.words.name.lower()
    sizes = "; ".join(f"{name} {value * 1e3:.2f} mm" for name, value in reading.figures)
    back = "not looked at" if reading.back is None else reading.back.value
    lines = [f"    {reading.test.value.replace('_', ' ')}, {how}; back {back}"]
    if sizes:
        lines.append(f"    {sizes}")
    for one in reading.imperfections:
        size = "" if one.size is None else f" {one.size * 1e3:.2f} mm"
        lines.append(f"    seen: {imperfection(one.key).name}{size}")
    return lines


def arc_size_line(verdict: Verdict) -> str:
    """The size that was judged, against its limit."""
    if verdict.measured <= 0.0:
        return f"    {verdict.quantity.value} not measured; limit {verdict.limit * 1e3:.2f} mm"
    return (
        f"    {verdict.quantity.value} {verdict.measured * 1e3:.2f} mm "
        f"(U = {verdict.expanded_uncertainty * 1e3:.2f} mm), limit {verdict.limit * 1e3:.2f} mm, "
        f"with guard band {verdict.guarded_limit * 1e3:.2f} mm, margin "
        f"{verdict.margin * 1e3:+.2f} mm"
    )


def arc_reading_answer(reading: ArcReading) -> dict[str, Any]:
    """What was measured and seen, lengths in mm; what was not measured is null."""
    return {
        "interface": reading.interface + 1,
        "test": reading.test.value,
        "fracture": None if reading.fracture is None else reading.fracture.value,
        "torn_largest_mm": _mm(reading.d_max),
        "torn_smallest_mm": _mm(reading.d_min),
        "head_largest_mm": _mm(reading.head_max),
        "head_smallest_mm": _mm(reading.head_min),
        "head_height_mm": _mm(reading.head_height),
        "hole_largest_mm": _mm(reading.hole_max),
        "hole_smallest_mm": _mm(reading.hole_min),
        "tested_length_mm": _mm(reading.tested_length),
        "fused_length_mm": _mm(reading.fused_length),
        "leg_mm": _mm(reading.leg),
        "throat_mm": _mm(reading.throat),
        "wetted_width_mm": _mm(reading.wetted_width),
        "penetrations_mm": [_mm(one) for one in reading.penetrations],
        "back_mark": None if reading.back is None else reading.back.value,
        "zinc_ring_diameter_mm": _mm(reading.zinc_ring),
        "back_picture_sha256": reading.back_picture,
        "bend_angle_deg": reading.bend_angle,
        "twist_angle_deg": reading.twist_angle,
        "imperfections": [
            {
                "key": one.key,
                "name": imperfection(one.key).name,
                "iso_6520_1": imperfection(one.key).number,
                "size_mm": _mm(one.size),
            }
            for one in reading.imperfections
        ],
    }


def arc_size_answer(verdict: Verdict) -> dict[str, Any]:
    """The sizes that were judged, in mm; the first is null where it was not measured."""
    return {
        "quantity": verdict.quantity.value,
        "measured_mm": verdict.measured * 1e3 if verdict.measured > 0.0 else None,
        "minimum_mm": verdict.limit * 1e3,
        "beside": [
            {
                "quantity": one.quantity.value,
                "measured_mm": one.value * 1e3,
                "minimum_mm": one.limit * 1e3,
                "minimum_rule": one.criterion,
                "reached": one.outcome.accepted,
            }
            for one in verdict.beside
        ],
    }


def _mm(value: float | None) -> float | None:
    return None if value is None else value * 1e3
