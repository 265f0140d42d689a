"""What the welds of a joint hold, where it gives way first, and how many of them it needs."""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from buttonhole.desk.figures import figure_answer
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile, WeldFile
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.weld.arc.strength import Pull
    from buttonhole.weld.strength.weakest import Part

Described = WeldFile | PlugWeldFile | SeamWeldFile
PULLS = ("lap_shear", "cross_tension", "peel", "torsion")
PREVAILS = (
    "Guide values for making a procedure; no weld was pulled for them. The vehicle maker's "
    "procedure says how many welds of which kind, and prevails."
)


@dataclass(frozen=True, slots=True)
class StrengthAsked:
    """What is asked of a joint: its load [N], the maker's count, how the row shares, which way.

    ``efficiency`` [-]: None for the one judged usual.
    """

    required_load: float | None = None
    makers_count: int | None = None
    efficiency: float | None = None
    pull: str = "lap_shear"


def strength_of_joint(
    welds: Sequence[tuple[str, Described]], asked: StrengthAsked
) -> dict[str, Any]:
    """Predict the welds of a joint and say what they hold.

    Parameters
    ----------
    welds : sequence of (name, weld file)
        One for each kind of weld in the joint.
    asked : StrengthAsked
        What the joint must hold, and what the maker says.

    Returns
    -------
    dict
        Keys with units: each weld, the weakest link, the number of welds.

    Raises
    ------
    BadInput
        A weld can't be computed, or what is asked makes no sense.
    """
    from buttonhole.weld.arc.strength import Pull
    from buttonhole.weld.strength.weakest import weakest_link

    if asked.pull not in PULLS:
        raise BadInput("pull", f"is {asked.pull!r}; give one of {', '.join(PULLS)}")
    pull = Pull(asked.pull)
    if asked.required_load is not None and pull is Pull.TORSION:
        raise BadInput("required load", "of a joint is not met by twisting it; leave it out")
    told, parts = [], []
    for name, described in welds:
        answer, part = _weld(name, described)
        told.append(answer)
        parts.append(part)
    known = any(one.pull is pull for part in parts for one in part.holdings)
    weakest = weakest_link(parts, pull) if known else None
    return {
        "pull": pull.value,
        "welds": told,
        "weakest": None
        if weakest is None
        else {
            "weld": weakest.name,
            "process": weakest.process,
            "interface": weakest.interface,
            "link": weakest.link.value,
            **(
                figure_answer("torque", "Nm", weakest.load)
                if pull is Pull.TORSION
                else figure_answer("load", "N", weakest.load)
            ),
            "sure": weakest.sure,
            "reason": weakest.reason,
        },
        "count": _count(parts, pull, asked),
        "prevails": PREVAILS,
    }


def _count(parts: "Sequence[Part]", pull: "Pull", asked: StrengthAsked) -> dict[str, Any] | None:
    """How many welds; of several kinds, as if all were of the weakest."""
    from buttonhole.weld.estimate import Estimate
    from buttonhole.weld.strength.count import ROW_EFFICIENCY, welds_needed

    if asked.required_load is None and asked.makers_count is None:
        return None
    loads = [part.load(one) for part in parts for one in part.holdings if one.pull is pull]
    if asked.required_load is not None and not loads:
        raise BadInput(
            "required load",
            "can't be turned into a number of welds: what one of them holds that way is not known",
        )
    one_weld = min(loads, key=lambda one: one.low, default=Estimate(0.0, 0.0, 0.0))
    share = ROW_EFFICIENCY if asked.efficiency is None else asked.efficiency
    found = welds_needed(asked.required_load, one_weld, asked.makers_count, share)
    return {
        **dataclasses.asdict(found),
        "required_load_N": asked.required_load,
        "one_weld_at_least_N": one_weld.low if loads else None,
        "efficiency_share": share,
        "efficiency_is_default": asked.efficiency is None,
    }


def _weld(name: str, described: Described) -> "tuple[dict[str, Any], Part]":
    if isinstance(described, WeldFile):
        return _spot(name, described)
    if isinstance(described, PlugWeldFile):
        return _plug(name, described)
    return _seam(name, described)


def _spot(name: str, described: WeldFile) -> "tuple[dict[str, Any], Part]":
    from buttonhole.desk.spot_strength import least_answer, spot_holding_answer
    from buttonhole.desk.spot_weld import predict_spot
    from buttonhole.weld.arc.strength import Pull
    from buttonhole.weld.strength.of_spot import spot_made
    from buttonhole.weld.strength.weakest import Part

    stack = described.stack
    weld, metal = predict_spot(stack, described.set_up, condition=described.condition)
    made = spot_made(weld, metal, stack)
    answer, held = spot_holding_answer(made)
    shear = {one.index: one for one in held if one.pull is Pull.SHEAR}
    answer |= {
        "least_loads": [
            {"interface": one.index, "loads": least_answer(stack, one.index, shear.get(one.index))}
            for one in stack.interfaces
        ],
        "warnings": list(weld.warnings),
    }
    return {"name": name, "process": "spot", **answer}, Part(name, "spot", held)


def _plug(name: str, described: PlugWeldFile) -> "tuple[dict[str, Any], Part]":
    from buttonhole.desk.plug_answer import plug_held, strength_answer
    from buttonhole.desk.predict_arc import solve_arc
    from buttonhole.weld.arc.plug.result import PlugWeld
    from buttonhole.weld.hardness.of_arc import plug_metal
    from buttonhole.weld.strength.weakest import Part

    joint, set_up = described.joint, described.set_up
    weld = solve_arc(described)
    assert isinstance(weld, PlugWeld)  # noqa: S101 - solved for this very file
    held = plug_held(weld, joint, set_up, plug_metal(weld, joint))
    answer = {
        "name": name,
        "process": "plug",
        "strength": strength_answer(held, "N"),
        "warnings": list(weld.warnings),
    }
    return answer, Part(name, "plug", held)


def _seam(name: str, described: SeamWeldFile) -> "tuple[dict[str, Any], Part]":
    from buttonhole.desk.plug_answer import strength_answer
    from buttonhole.desk.predict_arc import solve_arc
    from buttonhole.desk.seam_answer import seam_held
    from buttonhole.weld.arc.seam.result import SeamWeld
    from buttonhole.weld.arc.wire import BRONZE
    from buttonhole.weld.hardness.of_arc import seam_metal
    from buttonhole.weld.strength.weakest import Part

    joint, weld = described.joint, solve_arc(described)
    assert isinstance(weld, SeamWeld)  # noqa: S101 - solved for this very file
    found = seam_held(weld, described, seam_metal(weld, joint, described.coatings))
    held = () if found is None else (found,)
    process = "braze" if described.set_up.wire.metal in BRONZE else "seam"
    answer = {
        "name": name,
        "process": process,
        "length_mm": 1e3 * joint.length,
        "strength": strength_answer(held, "N_per_mm"),
        "warnings": list(weld.warnings),
    }
    return answer, Part(name, process, held, joint.length)
