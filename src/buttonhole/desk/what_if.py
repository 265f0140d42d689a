"""What would become of the arc weld of a file if one thing were done otherwise."""

from collections.abc import Callable, Mapping
from typing import Any

from buttonhole.desk.predict_arc import refuse_pairs
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

FEW = 24  # marches for a chance; a table of differences needs no more
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
    found = (
        _plug(described, progress)
        if isinstance(described, PlugWeldFile)
        else _seam(described, progress)
    )
    return {
        "process": "plug" if isinstance(described, PlugWeldFile) else "seam",
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

    def predicted(joint: Any, set_up: ArcSetUp) -> Mapping[str, float]:
        return plug_figures(plug.predict(joint, set_up, count=FEW))

    changes = tuple(plug_changes(described.joint, described.set_up))
    return what_if(predicted, described.joint, described.set_up, changes, progress)


def _seam(described: SeamWeldFile, progress: Callable[[int, int], None] | None) -> WhatIf:
    from buttonhole.weld.arc import seam

    refuse_pairs(described)

    def predicted(joint: Any, set_up: ArcSetUp) -> Mapping[str, float]:
        return seam_figures(seam.predict_set_up(joint, set_up))

    changes = tuple(seam_changes(described.joint, described.set_up))
    return what_if(predicted, described.joint, described.set_up, changes, progress)


def _figures(found: Mapping[str, float]) -> dict[str, float]:
    answer = {}
    for key, value in found.items():
        if key.endswith("_probability"):
            answer[key] = value
            continue
        unit, factor = UNITS.get(key, ("mm", 1e3))
        answer[f"{key}_{unit}"] = value * factor
    return answer
