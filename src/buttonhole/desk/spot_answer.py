"""A predicted spot weld as one object with units in the key names: for the CLI and the API."""

from collections.abc import Sequence
from typing import Any

from buttonhole.coupon.criterion import Criterion, minimum_diameter
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.stack_up import FayingInterface, StackUp, cautions
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.result import InterfaceWeld, SpotWeld


def spot_answer(
    weld: SpotWeld, stack: StackUp, criterion: Criterion, limits: Sequence[Criterion]
) -> dict[str, Any]:
    """Everything one prediction says, ready for JSON; every interval is ``[low, high]`` of 90 %.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        The sheets it was made for.
    criterion : Criterion
        The rule the minimum diameter comes from.
    limits : sequence of Criterion
        Rules whose diameters are listed beside it.

    Returns
    -------
    dict
        Keys with units; lengths in mm.
    """
    interfaces = [_interface_answer(one, stack, criterion, limits) for one in weld.interfaces]
    said = cautions(stack)
    return {
        "process": "spot",
        "interfaces": interfaces,
        "expulsion_probability": weld.expulsion_probability.value,
        "expulsion_interval": _interval(weld.expulsion_probability),
        **_figure("indentation", "mm", weld.indentation, 1e3),
        **_figure("haz_diameter", "mm", weld.haz_diameter, 1e3, interval="haz"),
        **_figure("cooling_t85", "s", weld.cooling_t85),
        **_figure("heat", "J", weld.heat),
        **_figure("peak_hardness", "HV", weld.peak_hardness),
        "solver_seconds": weld.solver_seconds,
        # the model repeats cautions about the sheets among its own
        "warnings": list(dict.fromkeys([*(one.text for one in said), *weld.warnings])),
        "cautions": [
            {"code": one.code, "text": one.text, "rule": one.rule, "source": one.source}
            for one in said
        ],
        "model_version": weld.model_version,
    }


def _interface_answer(
    weld: InterfaceWeld, stack: StackUp, criterion: Criterion, limits: Sequence[Criterion]
) -> dict[str, Any]:
    interface = stack.interfaces[weld.index]
    required = required_diameter(criterion, stack, interface)
    return {
        "index": weld.index,
        "sheets": [weld.index + 1, weld.index + 2],
        **_figure("nugget_diameter", "mm", weld.nugget_diameter, 1e3, interval="nugget"),
        **_figure("button_diameter", "mm", weld.button_diameter, 1e3, interval="button"),
        "minimum_diameter_mm": required.diameter * 1e3,
        "minimum_rule": criterion.key,
        "minimum_name": criterion.name,
        "minimum_source": criterion.source,
        "minimum_reason": required.reason,
        "limits": limits_answer(stack, interface, limits),
        "penetration_a_mm": weld.penetration_a * 1e3,
        "penetration_b_mm": weld.penetration_b * 1e3,
        "ring": weld.ring,
    }


def limits_answer(
    stack: StackUp, interface: FayingInterface, rules: Sequence[Criterion]
) -> list[dict[str, Any]]:
    """The diameters several rules ask for at one interface.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    interface : FayingInterface
        Where.
    rules : sequence of Criterion
        Which rules.

    Returns
    -------
    list of dict
        Key, name and source of each rule with its diameter in mm.
    """
    return [
        {
            "rule": one.key,
            "name": one.name,
            "diameter_mm": minimum_diameter(one, stack, interface) * 1e3,
            "source": one.source,
            "status": one.status.value,
        }
        for one in rules
    ]


def _figure(
    name: str, unit: str, estimate: Estimate, factor: float = 1.0, interval: str | None = None
) -> dict[str, Any]:
    return {
        f"{name}_{unit}": estimate.value * factor,
        f"{interval or name}_interval_{unit}": _interval(estimate, factor),
    }


def _interval(estimate: Estimate, factor: float = 1.0) -> list[float]:
    return [estimate.low * factor, estimate.high * factor]
