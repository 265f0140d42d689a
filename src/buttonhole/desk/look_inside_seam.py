"""What is fused inside a seam that was welded, by what can be seen on it."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from buttonhole.desk.figures import figure_answer
from buttonhole.desk.weld_file import SeamWeldFile
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.weld.arc.seam.outside import SeamInside, SeamLook
    from buttonhole.weld.arc.sighting import Sighting


def look_inside_seam(
    described: SeamWeldFile,
    looks: Mapping[str, tuple[float, float | None]],
    count: int | None = None,
) -> dict[str, Any]:
    """Say what is fused inside, with intervals, and what to look at next.

    Parameters
    ----------
    described : SeamWeldFile
        What was welded, and how.
    looks : mapping of str to (float, float or None)
        Marks in the middle of the seam as measured [m], and how far each may be off [m].
    count : int, optional
        How many seams that could be are welded; without it enough for two marks.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadInput
        A mark that is none, a reading that can't be, or a braze, in which nothing is fused.
    """
    from buttonhole.weld.arc import seam
    from buttonhole.weld.arc.seam.outside import MANY, could_be, look_inside

    joint, set_up = described.joint, seam.seam_set_up(
        described.joint, described.set_up, described.runs
    )  # fmt: skip
    if set_up.filler is not None:
        raise BadInput(
            "set_up wire", "brazes, so nothing is fused inside; tear or section a coupon"
        )
    seen = sightings(looks)
    members = could_be(joint, set_up, count or MANY)
    return _answer(look_inside(members, joint, seen), len(members.back_melted), seam.MODEL_VERSION)


def sightings(
    looks: Mapping[str, tuple[float, float | None]],
) -> "dict[SeamLook, Sighting]":
    """Turn marks as measured into sightings, each with how far it usually is off.

    Parameters
    ----------
    looks : mapping of str to (float, float or None)
        Marks as measured [m], and how far each may be off [m].

    Returns
    -------
    dict of SeamLook to Sighting
        In SI units.

    Raises
    ------
    BadInput
        A mark that is none of a seam, or a reading that can't be; the key is the mark's.
    """
    from buttonhole.weld.arc.seam.outside import USUAL_SPREAD, SeamLook
    from buttonhole.weld.arc.sighting import Sighting

    seen = {}
    for name, (value, off) in looks.items():
        if name not in tuple(SeamLook):
            listed = ", ".join(SeamLook)
            raise BadInput("look", f"'{name[:40]}' is none of a seam; give one of {listed}")
        try:
            spread = USUAL_SPREAD[SeamLook(name)] if off is None else off
            seen[SeamLook(name)] = Sighting(value, spread)
        except BadInput as bad:
            raise BadInput(name, bad.message) from bad
    return seen


def _answer(found: "SeamInside", count: int, version: str) -> dict[str, Any]:
    """Ready for JSON; an alarm means that none is the seam that was made: no figure then."""
    known = not found.alarms
    return {
        "process": "seam",
        "sheets": [
            {
                "name": one.name,
                **figure_answer("penetration", "mm", one.penetration, 1e3),
                **figure_answer("fused_width", "mm", one.fused_width, 1e3),
                "fused_probability": one.fused_probability,
            }
            for one in found.sheets
            if known
        ],
        "fusion_probability": found.fusion_probability if known else None,
        "doubt_before_mm": found.before * 1e3,
        "doubt_now_mm": found.now * 1e3 if known else None,
        "members": count,
        "effective_members": found.effective_members,
        "alarms": list(found.alarms),
        "next_looks": [
            {"look": one.look.value, "doubt_left_mm": one.left * 1e3}
            for one in found.next_looks
            if known
        ],
        "model_version": version,
    }
