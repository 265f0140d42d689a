"""Random weld files: never a crash, always a weld or a refusal on one line; and the way back."""

import contextlib
import math
import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, seed, settings
from hypothesis import strategies as st

from buttonhole.desk.weld_file import (
    BadFile,
    WeldFile,
    read_weld_file,
    weld_file_from,
    weld_file_text,
)
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import MAX_THICKNESS, MIN_THICKNESS, Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot import SolverFailed
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.shunt import Shunt
from buttonhole.weld.spot.supply import ElectricSupply

STEELS = ["DC04", "HC340LA", "HCT600X", "22MnB5", "unknown"]
KEYS = re.findall(
    r"\w+",
    """process sheet set_up gap criterion steel thickness coating welding_current current_type
    electrode_force electrode_face electrode_radius electrode_face_b squeeze_time weld_time
    hold_time pulse time cool slope current minimum_rule""",
)
UNITS = ["mm", "m", "inch", "kA", "A", "kN", "N", "ms", "s", "cycles", "cycles at 50 Hz", "", "°C"]

numbers = st.one_of(st.floats(), st.floats(0.1, 20.0), st.integers(-(10**30), 10**30))
quantities = st.builds("{} {}".format, numbers, st.sampled_from(UNITS))
loose_texts = st.one_of(
    quantities,
    st.sampled_from([*STEELS, *(one.value for one in Coating), "spot", "plug", "MFDC", "AC50"]),
    st.text(max_size=20),
)
loose_values = st.recursive(
    st.one_of(loose_texts, st.booleans(), numbers, st.none(), st.dates()),
    lambda inner: st.one_of(
        st.lists(inner, max_size=5),
        st.dictionaries(st.one_of(st.sampled_from(KEYS), st.text(max_size=8)), inner, max_size=8),
    ),
    max_leaves=30,
)


def near_enough(low: float, high: float) -> st.SearchStrategy[str]:
    return st.floats(low, high, allow_nan=False).map(lambda value: f"{value:.4g}")


@st.composite
def likely_files(draw: st.DrawFn) -> dict[str, object]:
    """Mostly right: what people write, with now and then a value out of place."""

    def value(low: float, high: float, unit: str) -> object:
        if draw(st.integers(0, 40)) == 0:
            return draw(loose_values)
        return f"{draw(near_enough(low, high))} {unit}"

    sheets = [
        {
            "steel": draw(st.sampled_from(STEELS)),
            "thickness": value(0.15, 6.2, "mm"),
            "coating": draw(st.sampled_from([one.value for one in Coating])),
        }
        for _ in range(draw(st.integers(1, 5)))
    ]
    set_up: dict[str, object] = {
        "current_type": draw(st.sampled_from([one.value for one in CurrentType])),
        "electrode_force": value(0.05, 31, "kN"),
        "squeeze_time": value(0, 2000, "ms"),
        "hold_time": value(0, 2000, "ms"),
    }
    for key, low, high in (("electrode_face", 1.4, 16), ("electrode_radius", 5, 200)):
        if draw(st.booleans()):
            set_up[key] = value(low, high, "mm")
    if draw(st.integers(0, 3)):
        set_up |= {"welding_current": value(0.05, 61, "kA"), "weld_time": value(0.5, 1500, "ms")}
    else:
        set_up["pulse"] = [
            {
                "current": value(0.05, 61, "kA"),
                "time": value(1, 300, "ms"),
                "cool": value(0, 99, "ms"),
            }
            for _ in range(draw(st.integers(0, 4)))
        ]
    return {"process": "spot", "sheet": sheets, "set_up": set_up, "gap": value(0, 3, "mm")}


def outcome(data: dict[str, object]) -> WeldFile | BadInput:
    try:
        return weld_file_from(data)
    except BadInput as bad:
        return bad


@given(st.one_of(likely_files(), st.dictionaries(st.sampled_from(KEYS), loose_values)))
@settings(max_examples=200, deadline=None)
def test_any_table_is_a_weld_or_a_refusal(data: dict[str, object]) -> None:
    found = outcome(data)
    if isinstance(found, BadInput):
        assert found.message
        assert len(str(found)) < 1000
        assert str(found).isprintable()


@given(st.binary(max_size=400))
@example(b'process = "spot"\n[[sheet]]\n')
@settings(
    max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_bytes_are_refused_on_one_line(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "weld.toml"
    path.write_bytes(raw)
    with pytest.raises(BadFile) as caught:
        read_weld_file(path)
    assert str(caught.value).startswith(f"{path}: ")
    assert caught.value.message.isprintable()


@st.composite
def caps(draw: st.DrawFn) -> ElectrodeCap:
    body = draw(st.floats(10e-3, 40e-3))
    face = draw(st.none() | st.floats(1.5e-3, 10e-3))
    radius = draw(st.floats(20e-3, 1.0) if face is None else st.none() | st.floats(20e-3, 1.0))
    return ElectrodeCap(face, radius, body)


@st.composite
def pulses(draw: st.DrawFn, most_current: float, longest: float) -> Pulse:
    time = draw(st.floats(1e-3, longest))
    up, down = draw(st.floats(0.0, 0.5)), draw(st.floats(0.0, 0.5))
    cool = draw(st.floats(0.0, longest))
    return Pulse(draw(st.floats(100.0, most_current)), time, cool, up * time, down * time)


sheets = st.builds(
    Sheet,
    st.sampled_from(STEELS).map(find_steel),
    st.floats(MIN_THICKNESS, MAX_THICKNESS),
    st.sampled_from(Coating),
)


def conditions() -> st.SearchStrategy[SpotCondition]:
    """Whatever a table of the condition may say."""
    warm, grown = st.floats(20.0, 400.0), st.floats(0.0, 6e-3)
    shunts = st.builds(
        Shunt, st.floats(5e-3, 1.0), st.none() | st.floats(1e-3, 20e-3), st.floats(8e-3, 10.0)
    )
    supplies = st.builds(
        ElectricSupply, st.floats(50.0, 1000.0), st.floats(100.0, 1000.0), st.booleans(),
        st.floats(0.0, 200.0), st.floats(0.5e-6, 240e-6), st.floats(6.0, 60.0),
        st.floats(0.0, 5.0), st.floats(1e-6, 10e-3), st.floats(0.0, 10e-3),
        st.floats(10e-6, 1e-3), st.booleans(),
    )  # fmt: skip
    return st.builds(
        SpotCondition, st.floats(0.0, math.radians(10.0)), st.floats(0.0, 4e-3),
        st.tuples(grown, grown), st.none() | shunts, st.tuples(warm, warm),
        st.none() | st.floats(0.0, 60.0), st.none() | supplies,
    )  # fmt: skip


def welds(
    most_current: float = 40e3, longest: float = 0.3, most_pulses: int = 4
) -> st.SearchStrategy[WeldFile]:
    """Welds inside what a weld file may hold."""
    rest = st.floats(0.0, 2.0 * longest)
    stacks = st.lists(sheets, min_size=2, max_size=4).map(tuple)
    series = st.lists(pulses(most_current, longest), min_size=1, max_size=most_pulses).map(tuple)
    force = st.floats(100.0, 30e3)
    kinds = st.sampled_from(CurrentType)
    set_ups = st.builds(SpotSetUp, series, kinds, force, caps(), caps(), rest, rest)
    stack = st.builds(StackUp, stacks, st.floats(0.0, 5e-3))
    return st.builds(WeldFile, stack, set_ups, st.none(), condition=st.just(NORMAL) | conditions())


@given(welds())
@settings(max_examples=150, deadline=None)
def test_a_weld_written_and_read_is_the_same_weld(weld: WeldFile) -> None:
    assert weld_file_from(tomllib.loads(weld_file_text(weld))) == weld


def assert_finite(weld: WeldFile) -> None:
    from buttonhole.desk.rules import listed_rules, rule_for
    from buttonhole.desk.spot_answer import spot_answer
    from buttonhole.desk.spot_weld import predict_spot

    rule = rule_for(weld.stack, weld.minimum_rule)
    found, metal = predict_spot(weld.stack, weld.set_up, condition=weld.condition)
    answer = spot_answer(found, metal, weld.stack, rule, listed_rules())

    def every_number(value: object) -> None:
        if isinstance(value, dict):
            value = list(value.values())
        if isinstance(value, list):
            for one in value:
                every_number(one)
        elif isinstance(value, float):
            assert math.isfinite(value)

    every_number(answer)
    for one in answer["interfaces"]:
        assert one["nugget_diameter_mm"] >= 0.0
        low, high = one["nugget_interval_mm"]
        assert 0.0 <= low <= one["nugget_diameter_mm"] <= high


def finite_or_refused(weld: WeldFile) -> None:
    # a weld far from any practice may be more than the solver follows: it says so and stops
    with contextlib.suppress(BadInput, SolverFailed):
        assert_finite(weld)


# few and short here; the long run below goes to the edge of what a weld file may hold
@given(welds(most_current=20e3, longest=0.1, most_pulses=1))
@settings(max_examples=6, deadline=None)
def test_a_prediction_is_finite_or_refused(weld: WeldFile) -> None:
    finite_or_refused(weld)


# in ten blocks, so that a run that is cut short still shows what it got through
@pytest.mark.hours
@pytest.mark.timeout(12 * 3600)
@pytest.mark.parametrize("block", range(10))
def test_ten_thousand_predictions_are_finite_or_refused(block: int) -> None:
    @seed(block)
    @given(welds() | likely_files().map(outcome).filter(lambda found: isinstance(found, WeldFile)))
    @settings(max_examples=1000, deadline=None, suppress_health_check=list(HealthCheck))
    def each(weld: WeldFile) -> None:
        finite_or_refused(weld)

    each()
