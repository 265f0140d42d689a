"""Random arc weld files: never a crash, always a weld or a refusal on one line; and the way back.

Plugs, arc spots and seams of steel, brazes, aluminium.
"""

import contextlib
import math
import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

from buttonhole.desk.plug_answer import plug_answer
from buttonhole.desk.predict_arc import refuse_pairs
from buttonhole.desk.seam_answer import seam_answer
from buttonhole.desk.weld_file import (
    PlugWeldFile,
    SeamWeldFile,
    arc_file_text,
    arc_keys,
    arc_weld_file_from,
)
from buttonhole.desk.weld_file.process import process_number
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput
from buttonhole.weld.arc import plug, seam
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.plug.joint import TorchPath
from buttonhole.weld.arc.seam.machine import seam_set_up, speed_of
from buttonhole.weld.arc.set_up import Polarity, Position
from tests.property.test_weld_files import loose_values

Table = dict[str, Any]

STEELS = ["DC04", "HC340LA", "HCT600X", "22MnB5", "1.4301", "unknown"]
ALLOYS = ["5754", "EN AW-6016", "6082", "5083"]
PAIRS = {
    "steel": (["G 3Si1", "G 4Si1"], ["M21", "Ar + 18 CO2", "C1", "M20"]),
    "bronze": (["S Cu 6560", "S Cu 6100", "CuSi3"], ["I1", "argon", "Ar + 30 He"]),
    "aluminium": (["S Al 4043", "S Al 5356", "AlSi12"], ["I1", "I3", "argon"]),
}
KEYS = [
    "process", "sheet", "set_up", "gap", "coupon", "joint", "length", "root_gap", "steel", "alloy",
    "thickness", "coating", "hole_diameter", "wire", "wire_diameter", "gas", "wire_feed_speed",
    "arc_voltage", "contact_tube_distance", "arc_time", "travel_speed", "work_angle", "torch_path",
    "stitch_length", "backing", "position", "polarity",
]  # fmt: skip
FEW_PLUGS, FEW_SEAMS = 3, 1  # marches over what is doubted: the figures' own intervals need no more


@st.composite
def likely_files(draw: st.DrawFn) -> Table:
    """Mostly right: what people write, with now and then a value out of place."""

    def value(low: float, high: float, unit: str) -> object:
        if draw(st.integers(0, 120)) == 0:
            return draw(loose_values)
        return f"{draw(st.floats(low, high)):.4g} {unit}"

    def word(words: list[str]) -> str:
        return draw(st.sampled_from(words))

    def maybe(table: Table, key: str, found: object) -> None:
        if draw(st.booleans()):
            table[key] = found

    metal = word(list(PAIRS))
    wires, gases = PAIRS[word(list(PAIRS)) if draw(st.integers(0, 25)) == 0 else metal]
    light = metal == "aluminium"

    def sheet() -> Table:
        found: Table = {"thickness": value(0.95, 3.05, "mm") if light else value(0.38, 4.1, "mm")}
        if light:
            return found | {"alloy": word(ALLOYS)}
        return found | {"steel": word(STEELS), "coating": word([one.value for one in Coating])}

    set_up: Table = {
        "wire": word(wires),
        "wire_diameter": word(["0.6 mm", "0.8 mm", "0.9 mm", "1.0 mm", "1.2 mm"]),
        "gas": word(gases),
        "wire_feed_speed": value(0.5, 15, "m/min"),
        "arc_voltage": value(8, 32, "V"),
        "contact_tube_distance": value(4, 30, "mm"),
    }
    maybe(set_up, "gas_flow", value(1, 60, "l/min"))
    maybe(set_up, "polarity", word([one.value for one in Polarity]))
    maybe(set_up, "position", word([one.value for one in Position]))
    data: Table = {"set_up": set_up}
    maybe(data, "gap", value(0, 3.2, "mm"))
    if draw(st.booleans()):
        return data | _plug(draw, sheet, value, word, set_up)
    return data | _seam(draw, sheet, value, word, set_up)


def _plug(draw: st.DrawFn, sheet: Any, value: Any, word: Any, set_up: Table) -> Table:
    sheets = [sheet() for _ in range(draw(st.integers(2, 3)))]
    for one in sheets[:-1]:
        if draw(st.integers(0, 5)):
            one["hole_diameter"] = value(3, 16.2, "mm")
        else:
            one["hole_diameter"] = "0 mm"
    set_up |= {
        "arc_time": value(0.05, 4, "s"),
        "torch_path": word([one.value for one in TorchPath]),
    }
    found: Table = {"process": word(["plug", "plug", "plug", "135", "973"]), "sheet": sheets}
    if draw(st.booleans()):
        found["coupon"] = {
            "width": value(20, 320, "mm"),
            "length": value(20, 320, "mm"),
            "backing": word(["none", "copper", "magnet"]),
        }
    return found


def _seam(draw: st.DrawFn, sheet: Any, value: Any, word: Any, set_up: Table) -> Table:
    kind = word(["lap", "lap", "butt_backed"])
    sheets = [sheet() for _ in range(2 if kind == "lap" else draw(st.integers(2, 3)))]
    set_up |= {
        "travel_speed": value(4, 50, "mm/s"),
        "work_angle": value(20, 110, "deg"),
        "travel_angle": value(-50, 50, "deg"),
        "aim_offset": value(-6, 6, "mm"),
    }
    if draw(st.integers(0, 4)) == 0:
        set_up |= {"stitch_length": value(3, 12, "mm"), "stitch_space": value(0, 15, "mm")}
    found: Table = {
        "process": "seam",
        "joint": kind,
        "length": value(10, 16, "mm"),
        "sheet": sheets,
        "coupon": {"width": value(8, 30, "mm"), "overlap": value(5, 25, "mm"), "overhang": "3 mm"},
    }
    if kind == "butt_backed":
        found["root_gap"] = value(0, 3, "mm")
        found["gap"] = "0 mm"
    return found


def outcome(data: Table) -> PlugWeldFile | SeamWeldFile | BadInput:
    try:
        return arc_weld_file_from(data)
    except BadInput as bad:
        return bad


@given(
    likely_files()
    | st.dictionaries(st.sampled_from(KEYS), loose_values).map(
        lambda one: one | {"process": "plug"}
    )
    | st.dictionaries(st.sampled_from(KEYS), loose_values).map(
        lambda one: one | {"process": "seam"}
    )
)
@settings(max_examples=200, deadline=None)
def test_any_table_is_an_arc_weld_or_a_refusal(data: Table) -> None:
    found = outcome(data)
    if isinstance(found, BadInput):
        assert found.message
        assert len(str(found)) < 1000
        assert str(found).isprintable()


welds = likely_files().map(outcome).filter(lambda found: not isinstance(found, BadInput))


@given(welds)
@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
def test_an_arc_weld_written_and_read_is_the_same_weld(weld: PlugWeldFile | SeamWeldFile) -> None:
    assert arc_weld_file_from(tomllib.loads(arc_file_text(weld))) == weld
    assert arc_weld_file_from(arc_keys(weld)) == weld


def predicted(weld: PlugWeldFile | SeamWeldFile, *, fine: bool) -> Table:
    """The answer as the command line gives it, with few marches over what is doubted."""
    number = process_number(weld.set_up.wire, weld.set_up.gas)
    if isinstance(weld, PlugWeldFile):
        cells = plug.DEFAULT if fine else plug.COARSE
        found = plug.predict(weld.joint, weld.set_up, resolution=cells, count=FEW_PLUGS)
        return plug_answer(found, weld.joint, weld.set_up, number)
    refuse_pairs(weld)
    made = seam.predict(
        weld.joint,
        seam_set_up(weld.joint, weld.set_up, weld.runs),
        resolution=seam.DEFAULT if fine else seam.PREVIEW,
        count=FEW_SEAMS,
    )
    speed = speed_of(weld.joint, weld.set_up)
    return seam_answer(made, weld, operating_point(weld.set_up), speed, number)


def assert_sound(answer: object, place: str = "") -> None:
    """Every number is finite and intervals are right; along a seam not all is known."""
    if isinstance(answer, dict):
        for key, value in answer.items():
            if key != "along":
                assert_sound(value, f"{place} {key}")
    elif isinstance(answer, list):
        for value in answer:
            assert_sound(value, place)
        if "interval" in place and len(answer) == 2:
            assert answer[0] <= answer[1], place
    elif isinstance(answer, float):
        assert math.isfinite(answer), place
        if "probability" in place:
            assert 0.0 <= answer <= 1.0, place


def finite_or_refused(weld: PlugWeldFile | SeamWeldFile, *, fine: bool) -> None:
    # a weld far from any practice may be more than the solver follows: it says so and stops
    with contextlib.suppress(BadInput, plug.PlugFailed, seam.SeamFailed):
        answer = predicted(weld, fine=fine)
        assert_sound(answer)
        assert answer["warnings"] is not None


# few here; the long run below goes on
@given(welds, st.integers(0, 9))
@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
def test_an_arc_prediction_is_finite_or_refused(
    weld: PlugWeldFile | SeamWeldFile, fine: int
) -> None:
    finite_or_refused(weld, fine=fine == 0)


# in ten blocks, so that a run that is cut short still shows what it got through
@pytest.mark.hours
@pytest.mark.timeout(12 * 3600)
@pytest.mark.parametrize("block", range(10))
def test_ten_thousand_arc_predictions_are_finite_or_refused(block: int) -> None:
    @seed(block)
    @given(welds, st.integers(0, 9))
    @settings(max_examples=1000, deadline=None, suppress_health_check=list(HealthCheck))
    def each(weld: PlugWeldFile | SeamWeldFile, fine: int) -> None:
        finite_or_refused(weld, fine=fine == 0)

    each()
