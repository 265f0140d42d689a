"""Quantities at the edge: what is read, what is refused and why, what is shown."""

import math
import subprocess
import sys

import pytest

from buttonhole.units import KINDS, BadInput, K_to_degC, cycles, degC_to_K, parse, show

READ = [
    ("0.8 mm", "length", 0.0008),
    ("0,8mm", "length", 0.0008),
    (" .8  mm ", "length", 0.0008),
    ("800 um", "length", 0.0008),
    ("800 µm", "length", 0.0008),
    ("3/16 in", "length", 0.0047625),
    ("1-3/8 in", "length", 0.034925),
    ('0.25"', "length", 0.00635),
    ("2.2 kN", "force", 2200.0),
    ("220 daN", "force", 2200.0),
    ("8.5 kA", "current", 8500.0),
    ("8500 A", "current", 8500.0),
    ("160 ms", "time", 0.16),
    ("0.5 min", "time", 30.0),
    ("8 cycles@50Hz", "time", 0.16),
    ("8 cycles at 50 Hz", "time", 0.16),
    ("1.2 V", "voltage", 1.2),
    ("20 °C", "temperature", 20.0),
    ("20 degC", "temperature", 20.0),
    ("212 degF", "temperature", 100.0),
    ("293.15 K", "temperature", 20.0),
    ("-40 °F", "temperature", -40.0),
    ("6 m/min", "speed", 0.1),
    ("6 mm/s", "travel_speed", 0.006),
    ("100 ipm", "speed", 2.54 / 60),
    ("6 bar", "pressure", 6e5),
    ("270 MPa", "stress", 270e6),
    ("270 N/mm²", "stress", 270e6),
    ("100 uohm", "resistance", 1e-4),
    ("0.1 mΩ", "resistance", 1e-4),
    ("180 deg", "angle", math.pi),
    ("50 Hz", "frequency", 50.0),
    ("1.2 kJ", "energy", 1200.0),
    ("1.5 kg", "mass", 1.5),
    ("12 N·m", "torque", 12.0),
    ("12 l/min", "flow", 2e-4),
]


@pytest.mark.parametrize(("text", "kind", "value"), READ)
def test_reads_what_people_write(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("text", ["0.1", "0.7", "0.8", "1.1", "1.016", "2.3", "123.456"])
def test_a_decimal_text_gives_the_nearest_float(text: str) -> None:
    assert parse(f"{text} mm", "length") == float(f"{text}e-3")


REFUSED = [
    ("0.8", "length", "give the unit"),
    ("", "length", "give a number and its unit"),
    ("mm", "length", "give a number and its unit"),
    ("thin", "length", "give a number and its unit"),
    ("5 kN", "length", "a force; give a length"),
    ("10 cycles", "time", "of which mains frequency"),
    ("10 cycles@16Hz", "time", "of which mains frequency"),
    ("10 cycles@50Hz", "length", "give a length"),
    ("8.5 KA", "current", "write the unit kA"),
    ("1,200 N", "force", "may be 1200 or 1.200"),
    ("nan mm", "length", "give a number"),
    ("inf mm", "length", "give a number"),
    ("1e400 mm", "length", "beyond any length"),
    ("1e-400 mm", "length", "beyond any length"),
    ("1/0 in", "length", "nothing divides by 0"),
    ("5 parsnips", "length", "no unit of a length"),
    ("9**9**9 mm", "length", "no unit of a length"),
    ("5 __import__('os')", "length", "no unit of a length"),
    ("x" * 61, "length", "61 characters long"),
    ("0.8 mm\n0.9 mm", "length", "no unit of a length"),
    ("٣ mm", "length", "give a number"),  # digits of another script
]


@pytest.mark.parametrize(("text", "kind", "reason"), REFUSED)
def test_refuses_and_says_what_would_be_right(text: str, kind: str, reason: str) -> None:
    with pytest.raises(BadInput, match=r"^thickness: ") as caught:
        parse(text, kind, "thickness")
    assert caught.value.key == "thickness"
    assert reason in caught.value.message
    assert "\n" not in str(caught.value)


def test_a_unit_outside_the_list_is_asked_of_the_library() -> None:
    assert parse("2 yd", "length") == pytest.approx(1.8288)
    assert parse("3 kgf/cm^2", "pressure") == pytest.approx(294199.5)
    with pytest.raises(BadInput, match="no unit of a length"):
        parse("3 gallon", "length")


def test_no_text_is_refused_too() -> None:
    with pytest.raises(BadInput, match="is no text"):
        parse(0.8, "length")  # type: ignore[arg-type] # what a careless caller does


def test_an_unknown_kind_is_our_own_fault() -> None:
    with pytest.raises(ValueError, match="no kind of quantity"):
        parse("1 mm", "size")
    with pytest.raises(ValueError, match="no system of units"):
        show(1.0, "length", "imperial")


SHOWN = [
    (0.0008, "length", "0.8 mm", "0.0315 in"),
    (0.0043818, "length", "4.38 mm", "0.173 in"),
    (2200.0, "force", "2.2 kN", "495 lbf"),
    (8500.0, "current", "8.5 kA", "8.5 kA"),
    (45.0, "current", "45 A", "45 A"),
    (0.16, "time", "160 ms", "160 ms"),
    (90.0, "time", "1.5 min", "1.5 min"),
    (1528.0, "temperature", "1528 °C", "2782 °F"),
    (0.1, "speed", "6 m/min", "236 ipm"),
    (6e5, "pressure", "6 bar", "87 psi"),
    (270e6, "stress", "270 MPa", "39.2 ksi"),
    (2e-4, "flow", "12 l/min", "25.4 cfh"),
    (1e-4, "resistance", "100 µΩ", "100 µΩ"),
    (1234.0, "energy", "1.23 kJ", "1.23 kJ"),
    (0.0, "length", "0 mm", "0 in"),
    (math.nan, "length", "not known", "not known"),
    (math.inf, "temperature", "not known", "not known"),
]


@pytest.mark.parametrize(("value", "kind", "metric", "us"), SHOWN)
def test_shows_in_the_units_of_a_shop(value: float, kind: str, metric: str, us: str) -> None:
    assert show(value, kind) == metric
    assert show(value, kind, "us") == us


def test_every_example_in_a_message_is_itself_right() -> None:
    for name, kind in KINDS.items():
        assert math.isfinite(parse(kind.example, name))


def test_temperature_and_cycles() -> None:
    assert degC_to_K(20.0) == pytest.approx(293.15)
    assert K_to_degC(273.15) == 0.0
    assert cycles(0.2, 50.0) == pytest.approx(10.0)


def test_the_units_library_is_not_loaded_for_plain_quantities() -> None:
    code = (
        "import sys; from buttonhole.units import parse, show; "
        "parse('0.8 mm', 'length'); show(0.1, 'speed'); print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_bad_input_crosses_processes() -> None:
    import pickle

    again = pickle.loads(pickle.dumps(BadInput("gap", "is -1 mm")))  # noqa: S301 - our own bytes
    assert (again.key, again.message) == ("gap", "is -1 mm")
