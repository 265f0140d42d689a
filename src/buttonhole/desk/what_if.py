"""What would become of the arc weld of a file if one thing were done otherwise."""

from collections.abc import Callable, Mapping
from typing import Any

from buttonhole.desk.predict_arc import placed_refusals, refuse_pairs
from buttonhole.desk.seam_piece import piece_of
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
from buttonhole.procedure.arc_what_if import (
    WhatIf,
    plug_changes,
    plug_figures,
    seam_changes,
    seam_figures,
    what_if,
)
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import BRONZE

FEW_PLUGS, FEW_SEAMS = 24, 6  # welds that could be, for a chance; differences need no more
UNITS = {"welding_current": ("A", 1.0)}  # the others are lengths in mm, or chances


def what_if_answer(
    described: PlugWeldFile | SeamWeldFile, progress: Callable[[int, int], None] | None = None
) -> dict[str, Any]:
    """Compare the weld of a file with what one change at a time makes of it.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        As read from a file.
    progress : callable, optional
        Told how many welds of how many are computed.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadInput
        The weld as set can't be computed.
    """
    with placed_refusals():
        found = (
            _plug(described, progress)
            if isinstance(described, PlugWeldFile)
            else _seam(described, progress)
        )
    return {
        "process": "plug" if isinstance(described, PlugWeldFile) else "seam",
        "brazed": described.set_up.wire.metal in BRONZE,
        "as_set": _figures(found.base),
        "changes": [
            {
                "key": one.change.key,
                "change": one.change.words,
                "figures": _figures(one.figures),
                "differences": _figures(one.deltas),
            }
            for one in found.outcomes
        ],
        "left_out": list(found.left_out),
    }


def _plug(described: PlugWeldFile, progress: Callable[[int, int], None] | None) -> WhatIf:
    from buttonhole.weld.arc import plug

    law = described.law

    def predicted(joint: Any, set_up: ArcSetUp) -> Mapping[str, float]:
        weld = plug.predict(joint, set_up, resolution=plug.COARSE, law=law, count=FEW_PLUGS)
        return plug_figures(weld)

    joint, set_up = described.joint, described.set_up
    changes = tuple(plug_changes(joint, set_up))
    as_set = plug_figures(plug.predict(joint, set_up, law=law))
    return what_if(predicted, joint, set_up, changes, progress, as_set)


def _seam(described: SeamWeldFile, progress: Callable[[int, int], None] | None) -> WhatIf:
    from buttonhole.weld.arc import seam
    from buttonhole.weld.arc.seam.ensemble import COARSE

    refuse_pairs(described)
    joint, set_up, law = described.joint, described.set_up, described.law

    def predicted(joint: Any, set_up: ArcSetUp) -> Mapping[str, float]:
        piece, moved = piece_of(joint, set_up)
        made = seam.seam_set_up(piece, moved, law=law)
        return seam_figures(seam.predict(piece, made, resolution=COARSE, count=FEW_SEAMS))

    changes = tuple(seam_changes(joint, set_up))
    made = seam.seam_set_up(joint, set_up, described.runs, law=law)
    as_set = seam_figures(seam.predict(joint, made, count=FEW_SEAMS))
    return what_if(predicted, joint, set_up, changes, progress, as_set)


def _figures(found: Mapping[str, float]) -> dict[str, float]:
    answer = {}
    for key, value in found.items():
        if key.endswith("_probability"):
            answer[key] = value
            continue
        unit, factor = UNITS.get(key, ("mm", 1e3))
        answer[f"{key}_{unit}"] = value * factor
    return answer
