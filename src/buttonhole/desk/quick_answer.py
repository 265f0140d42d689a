"""A weld said at once, where an answer at once is worth more than the last tenth of a millimetre.

The answer is marked as quick and says how far it may be from the solver's. Outside the ground the
emulator was taught on, the solver is asked and the answer says why.
"""

from collections.abc import Sequence
from typing import Any

from buttonhole.coupon.criterion import Criterion
from buttonhole.desk.figures import figure_answer, interval_answer
from buttonhole.desk.spot_answer import interface_answer, spot_answer
from buttonhole.desk.spot_weld import predict_spot
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.emulator import QuickWeld, quick
from buttonhole.weld.spot.set_up import SpotSetUp


def quick_answer(
    stack: StackUp,
    set_up: SpotSetUp,
    criterion: Criterion,
    limits: Sequence[Criterion],
    condition: SpotCondition = NORMAL,
) -> dict[str, Any]:
    """Say a weld at once, or, outside the emulator's ground, what the solver says.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    criterion : Criterion
        The rule the minimum diameter comes from.
    limits : sequence of Criterion
        Rules whose diameters are listed beside it.
    condition : SpotCondition
        What the weld is made in.

    Returns
    -------
    dict
        The keys of ``spot_answer``, as far as they are known at once, and ``quick``: whether it is,
        the emulator's 90 % error at each interface, else why the solver was asked.
    """
    weld = quick(stack, set_up, condition)
    if weld.inside_ground:
        return _answer(weld, stack, criterion, limits)
    solved, metal = predict_spot(stack, set_up, condition=condition)
    answer = spot_answer(solved, metal, stack, criterion, limits)
    return {**answer, "quick": {"is_quick": False, "why_not": weld.why_outside}}


def _answer(
    weld: QuickWeld, stack: StackUp, criterion: Criterion, limits: Sequence[Criterion]
) -> dict[str, Any]:
    return {
        "process": "spot",
        "quick": {
            "is_quick": True,
            "nugget_error_mm": [1e3 * one for one in weld.emulator_error],
        },
        "interfaces": [interface_answer(one, stack, criterion, limits) for one in weld.interfaces],
        "expulsion_probability": weld.expulsion_probability.value,
        "expulsion_interval": interval_answer(weld.expulsion_probability),
        **figure_answer("indentation", "mm", weld.indentation, 1e3),
        **figure_answer("haz_diameter", "mm", weld.haz_diameter, 1e3, interval="haz"),
        **figure_answer("cooling_t85", "s", weld.cooling_t85),
        **figure_answer("heat", "J", weld.heat),
        "warnings": [one.text for one in cautions(stack)],
        "model_version": weld.model_version,
    }
