"""What a spot weld holds and how it lets go, as objects for JSON."""

from typing import Any

from buttonhole.desk.figures import figure_answer
from buttonhole.desk.plug_answer import strength_answer
from buttonhole.joint.stack_up import StackUp
from buttonhole.sources import Status
from buttonhole.weld.arc.strength import Holding, Link, Pull
from buttonhole.weld.strength import LeastLoad, least_loads
from buttonhole.weld.strength.failure import FAIR, interfacial_is_weak
from buttonhole.weld.strength.spot import SpotMade, hardness_ratio, spot_failure, spot_strength


def spot_holding_answer(made: SpotMade | None) -> tuple[dict[str, Any], tuple[Holding, ...]]:
    """What a spot weld holds and how it lets go; null where a steel is not known.

    Parameters
    ----------
    made : SpotMade or None
        The weld.

    Returns
    -------
    tuple of dict and tuple of Holding
        ``strength`` and ``failure`` for JSON, and the loads themselves.
    """
    held = () if made is None else spot_strength(made)
    answer = {
        "strength": strength_answer(held, "N"),
        "failure": None if made is None else failure_answer(made, held),
    }
    return answer, held


def failure_answer(made: SpotMade, held: tuple[Holding, ...]) -> list[dict[str, Any]]:
    """How each interface lets go in tensile shear.

    Parameters
    ----------
    made : SpotMade
        The weld.
    held : tuple of Holding
        What it holds.

    Returns
    -------
    list of dict
        One for each interface; diameters in mm. The models' constants are from memory.
    """
    found = []
    for index in range(len(made.nuggets)):
        said = spot_failure(made, index)
        (shear,) = (one for one in held if one.index == index and one.pull is Pull.SHEAR)
        loads = {one.link: one.load.value for one in shear.links}
        button = min(loads[Link.BUTTON_A], loads[Link.BUTTON_B])
        through = loads[Link.NUGGET]
        weak = through <= 0.0 or interfacial_is_weak(through, button)
        found.append(
            {
                "interface": index,
                "mode": said.mode.value,
                "sure": said.sure,
                "reason": said.reason,
                **figure_answer("critical_diameter", "mm", said.critical.estimate, 1e3),
                **figure_answer("hardness_ratio", "share", hardness_ratio(made, index)),
                "models": [
                    {
                        "name": name,
                        "critical_diameter_mm": 1e3 * value,
                        "source": source,
                        "status": Status.MEMORY.value,
                    }
                    for name, value, source in said.critical.by_model
                ],
                "through_nugget_N": through,
                "button_N": button,
                "weak_through_nugget": weak,
                "weak_reason": _weak_words(through, button, weak=weak),
            }
        )
    return found


def _weak_words(through: float, button: float, *, weak: bool) -> str:
    if through <= 0.0:
        return "nothing is fused there"
    share = 100.0 * through / button
    if weak:
        return (
            f"through the nugget it holds {share:.0f} % of a button, under the "
            f"{100 * FAIR:.0f} % that interfacial fractures held in published tests"
        )
    return (
        f"through the nugget it holds {share:.0f} % of a button: a fracture through the nugget is "
        "not weak by itself"
    )


def least_answer(stack: StackUp, index: int, held: Holding | None) -> list[dict[str, Any]]:
    """Published loads for one interface, and whether the weld holds them.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    index : int
        Interface from side A, from 0.
    held : Holding or None
        What it holds in shear; None where that is not known.

    Returns
    -------
    list of dict
        Loads in N; ``unverified`` where one is from memory, which is then no line to fail by.
    """
    face = stack.interfaces[index]
    pair = [(one.thickness, one.steel.tensile_strength) for one in (face.sheet_a, face.sheet_b)]
    return [_least(one, held) for one in least_loads(pair)]


def _least(one: LeastLoad, held: Holding | None) -> dict[str, Any]:
    return {
        "name": one.name,
        "load_N": one.load,
        "applies": one.applies,
        "is_minimum": one.is_minimum,
        "remark": one.remark,
        "source": one.source,
        "status": one.status.value,
        "unverified": one.status is Status.MEMORY,
        "held": None if held is None or not one.applies else _held(one.load, held),
    }


def _held(wanted: float, held: Holding) -> str:
    if held.load.low >= wanted:
        return "yes"
    return "no" if held.load.high < wanted else "open"
