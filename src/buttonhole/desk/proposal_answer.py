"""A proposed set-up as one object with units in the key names."""

from typing import Any

from buttonhole.coupon.criterion import Criterion
from buttonhole.desk.weld_file import set_up_keys
from buttonhole.desk.window_answer import or_null, robust_answer, window_answer
from buttonhole.procedure.proposal import Proposal
from buttonhole.procedure.suggestion import Suggestion, WayFigures

MAKER_PREVAILS = (
    "The vehicle maker's procedure prevails. Where it prints a set-up, weld that; a suggestion "
    "changes nothing in it."
)


def proposal_answer(found: Proposal, criterion: Criterion) -> dict[str, Any]:
    """Everything a proposal says, ready for JSON.

    Parameters
    ----------
    found : Proposal
        The proposal.
    criterion : Criterion
        The rule it was made for.

    Returns
    -------
    dict
        The set-up with the keys of a weld file; figures with the unit in the key.
    """
    margins = found.margins
    return {
        "machine": found.machine,
        "set_up": set_up_keys(found.set_up),
        "minimum_rule": criterion.key,
        "minimum_diameter_mm": [one * 1e3 for one in found.required],
        "aimed_at_mm": [one * 1e3 for one in found.aimed_at],
        "margins": {
            "current_low_kA": margins.current_low / 1e3,
            "current_high_kA": margins.current_high / 1e3,
            "ends_in_splash": margins.ends_in_splash,
            "over_minimum_mm": [one * 1e3 for one in margins.diameters],
            "expulsion_probability": margins.expulsion_probability,
            "spreads_to_low": margins.spreads_to_low,
            "spreads_to_high": margins.spreads_to_high,
        },
        "robust": None if found.robust is None else robust_answer(found.robust),
        "window": window_answer(found.window, criterion),
        "reasons": list(found.reasons),
        "alternatives": [
            {"set_up": set_up_keys(one.set_up), "words": one.words} for one in found.alternatives
        ],
        "suggestions": [_suggestion(one) for one in found.suggestions],
        "prevails": MAKER_PREVAILS,
        "cautions": list(found.cautions),
    }


def _suggestion(one: Suggestion) -> dict[str, Any]:
    return {
        "name": one.name,
        "against": one.trouble,
        "gains": list(one.gains),
        "reason": one.reason,
        "source": one.source,
        "set_up": set_up_keys(one.found.set_up),
        "predicted": _figures(one.found),
        "plain": _figures(one.plain),
    }


def _figures(found: WayFigures) -> dict[str, Any]:
    low, high = or_null((found.low / 1e3, found.high / 1e3))
    release, before, tempered = or_null((found.at_release, found.before_temper, found.tempered))
    return {
        "nugget_diameter_mm": [one * 1e3 for one in found.diameters],
        "window_from_kA": low,
        "window_to_kA": high,
        "good_weld_probability": found.chance,
        "expulsion_probability": found.expulsion,
        "indentation_mm": found.indentation * 1e3,
        "hardness_HV": found.hardness,
        "centre_at_release_degC": release,
        "before_temper_degC": before,
        "tempered_degC": tempered,
    }
