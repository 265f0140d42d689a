"""The welds of a cue, worked out and drawn: for the page on the big screen and for the sheet."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from buttonhole.coupon.criterion import find_criterion
from buttonhole.desk.arc_cues import Case
from buttonhole.desk.arc_view import Keys
from buttonhole.desk.cue_answer import RULE, cue_answer
from buttonhole.desk.spot_weld import predict_spot
from buttonhole.desk.weld_file import weld_file_from
from buttonhole.paper.figure.arc_back import DrawnBack
from buttonhole.paper.figure.arc_section import at_one_scale
from buttonhole.paper.figure.spot_back import spot_back
from buttonhole.web.pictures import (
    Lettered,
    arc_back_picture,
    arc_section_picture,
    section_picture,
)
from buttonhole.web.screen import chosen_limits
from buttonhole.web.solved import is_solved, solved
from buttonhole.weld.spot.result import SpotWeld


@dataclass(frozen=True, slots=True)
class CueWeld:
    """One weld of a cue: its answer, its pictures, and what was welded in a line."""

    answer: Mapping[str, Any]
    section: Lettered
    back: Lettered
    what: str


def is_welded(case: Case) -> bool:
    """Whether it can be shown at once: a spot takes less than a second."""
    return case.keys["process"] == "spot" or is_solved(case.keys)


def weld_cases(cases: Sequence[Case]) -> list[CueWeld]:
    """Work the welds of a cue out, or take what was worked out, and draw them at one scale.

    Parameters
    ----------
    cases : sequence of Case
        Of one cue.

    Returns
    -------
    list of CueWeld
        In their order.
    """
    if cases[0].keys["process"] == "spot":
        return [_spot(one.keys) for one in cases]
    found = [solved(one.keys) for one in cases]
    scaled = at_one_scale([one.drawn for one in found])
    return [
        CueWeld(one.answer, arc_section_picture(drawn), one.back, _arc_words(one.is_plug, keys))
        for one, drawn, keys in zip(found, scaled, (each.keys for each in cases), strict=True)
    ]


def _arc_words(is_plug: bool, keys: Keys) -> str:
    set_up = keys["set_up"]
    joint = "8 mm hole, 1.5 mm below" if is_plug else "1 on 1 mm, 40 mm long"
    return (
        f"DC04 with zinc, {joint}, wire {set_up['wire']} {set_up['wire_diameter']}, gas "
        f"{set_up['gas']}, {set_up['wire_feed_speed']}, {set_up['arc_voltage']}."
    )


def _spot(keys: Keys) -> CueWeld:
    answer, weld, back = _solved_spot(json.dumps(keys, sort_keys=True))
    stack = weld_file_from(dict(keys)).stack
    section = section_picture(weld, stack, chosen_limits(stack, find_criterion(RULE)))
    set_up = keys["set_up"]
    what = (
        f"Two sheets of 1 mm DC04 with zinc, {set_up['welding_current']} "
        f"{set_up['current_type']}, {set_up['electrode_force']}, {set_up['weld_time']}, face "
        f"{set_up['electrode_face']}."
    )
    return CueWeld(answer, section, arc_back_picture(back), what)


@lru_cache(maxsize=64)
def _solved_spot(named: str) -> tuple[Mapping[str, Any], SpotWeld, DrawnBack]:
    keys = json.loads(named)
    described = weld_file_from(keys)
    assert described.set_up is not None  # noqa: S101 - every case of a cue has one
    weld, _metal = predict_spot(described.stack, described.set_up, condition=described.condition)
    return cue_answer(keys), weld, spot_back(weld, described.stack)
