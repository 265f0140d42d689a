"""Our own checks find what they are there for, and leave good text alone."""

import pytest

from checks import docstrings, kernels, length, sweep

GOOD = '''"""Heat of a current."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pulse:
    """One pulse of ``current`` [A]."""

    current: float
    time: float  # s
    profile: Array  # (steps,), A


def joule_heat(current: float, resistance: Array) -> Array:
    """Return the heat released.

    Parameters
    ----------
    current : float [A]
        Root mean square.
    resistance : array (n,) [ohm]

    Returns
    -------
    array (n,) [W]

    Sources
    -------
    joule1841 : the law itself
    """
    return current**2 * resistance


def _private(x: float) -> float:
    return x
'''
KEYS = {"joule1841"}


def faults(text: str, *, needs_source: bool = True) -> list[str]:
    return [
        fault.message
        for fault in docstrings.faults_of("x.py", text, KEYS, needs_source=needs_source)
    ]


def test_a_well_documented_module_has_no_faults() -> None:
    assert faults(GOOD) == []


@pytest.mark.parametrize(
    ("before", "after", "message"),
    [
        ('"""Heat of a current."""\n', "", "the module has no docstring"),
        ("current : float [A]", "current : float", "unit of current"),
        ("resistance : array (n,) [ohm]", "resistance : array (n,)", "unit of resistance"),
        ("current : float [A]", "current : float [the set one]", "unit of current"),
        ("joule1841 :", "nobody1900 :", "'nobody1900 : the law itself' is not in the bibliography"),
        ("``current`` [A]", "current", "Pulse.current does not say its unit"),
        ("time: float  # s", "time: float", "Pulse.time does not say its unit"),
        ("time: float  # s", "time: float  # from current on", "Pulse.time does not say its unit"),
        ('    """One pulse of ``current`` [A]."""', "    pass", "class Pulse has no docstring"),
        ("def _private(x: float)", "def public(x: float)", "public() has no docstring"),
    ],
)
def test_what_is_missing_is_found(before: str, after: str, message: str) -> None:
    assert before in GOOD
    assert any(message in found for found in faults(GOOD.replace(before, after)))


def test_a_result_without_a_unit_is_found() -> None:
    text = '"""M."""\n\n\ndef area() -> float:\n    """Return the area."""\n    return 1.0\n'
    assert faults(text) == ["area() does not say the unit of what it returns"]
    assert faults(text.replace("the area.", "the area [m2].")) == []


def test_a_number_without_a_source_is_found_where_one_is_needed() -> None:
    text = '"""Contact."""\n\nHARDNESS_RATIO = 2.8\n'
    assert len(faults(text)) == 1
    assert "names no source" in faults(text)[0]
    assert faults(text, needs_source=False) == []
    assert faults(text + "# joule1841, eq. 3\n") == []
    assert faults(text.replace("2.8", "2.8  # from memory")) == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("m", True),
        ("-", True),
        ("W/m/K", True),
        ("J/kg K", True),
        ("ohm m", True),
        ("W/(m K)", True),
        ("m2", True),
        ("m^2/s", True),
        ("wt%", True),
        ("degC", True),
        ("m, s", True),
        ("", False),
        ("metres", False),
        ("n", False),
        ("see below", False),
    ],
)
def test_what_counts_as_a_unit(text: str, expected: bool) -> None:
    assert docstrings.is_unit(text) is expected


def test_bibliography_keys_are_read() -> None:
    text = "@book{holm1967,\n title={A}}\n@misc{ nist2020 ,\n}\n% @book{no, }\n"
    assert docstrings.bibliography_keys(text) == {"holm1967", "nist2020"}


def test_long_functions_and_files_are_found() -> None:
    body = "".join(f"    x{number} = {number}\n" for number in range(59))
    assert list(length.too_long("a.py", "def f():\n" + body)) == []
    assert len(list(length.too_long("a.py", "def f():\n" + body + "    y = 0\n"))) == 1
    assert list(length.too_long("a.py", "x = 1\n" * 500)) == []
    assert len(list(length.too_long("a.py", "x = 1\n" * 501))) == 1


def test_kernels_may_use_each_other_and_little_else() -> None:
    good = {
        "p.a": "import math\nimport numpy as np\nfrom numba import njit\n",
        "p.b": "from numba import njit\nfrom p.a import step\nfrom p import a\nfrom . import a\n",
        "p.c": "import json\nfrom p.a import step\n",
        "p.d": "import numpy as np\nfrom p.e import HALF\n",
        "p.e": "HALF = 0.5\n",
        "p.f": "from numba import njit\nfrom p.d import HALF\n",
    }
    assert list(kernels.faults(good)) == []
    bad = good | {"p.b": "import numba\nfrom p.c import read\nimport scipy.linalg\n"}
    assert list(kernels.faults(bad)) == [
        "p.b:2: a module with compiled kernels imports p.c.read",
        "p.b:3: a module with compiled kernels imports scipy.linalg",
    ]
    # Plain numbers are plain only as long as what they lean on is.
    bad = good | {"p.e": "import os\nHALF = 0.5\n"}
    assert list(kernels.faults(bad)) == [
        "p.f:2: a module with compiled kernels imports p.d.HALF",
    ]


# Spelled in two halves so that the sweep does not find this file.
@pytest.mark.parametrize(
    ("name", "line", "message"),
    [
        ("src/a.py", "# TO" + "DO later", "unfinished work"),
        ("src/a.py", "raise Not" + "ImplementedError", "unfinished work"),
        ("tests/a.py", "@pytest.mark.x" + "fail", "unfinished work"),
        ("docs/a.md", "see /ho" + "me/me/notes", "path of one machine"),
        ("src/a.py", 'open("/t" "mp/mine/x")'.replace('" "', ""), "path of one machine"),
        ("requirements/app.lock", "numpy @ https://example.invalid/numpy.whl", "address"),
        ("requirements/app.in", "--find-links=wheels", "address"),
        ("package-lock.json", '"resolved": "https://example.invalid/x.tgz"', "address"),
        ("README.md", "from pypi.o" + "rg", "host of a registry"),
        ("src/a.py", "x = 1  # no" + "qa", "without naming it"),
        ("src/a.py", "x = 1  # type: " + "ignore", "without naming it"),
        ("docs/a.md", "-----BEGIN PRIVATE" + " KEY-----", "secret"),
    ],
)
def test_the_sweep_finds(name: str, line: str, message: str) -> None:
    (find,) = sweep.finds_in_text(name, f"good\n{line}\n")
    assert find.startswith(f"{name}:2: ")
    assert message in find


@pytest.mark.parametrize(
    "line",
    [
        "x = 1  # noqa: S101 - the test itself",
        "x = f()  # type: ignore[no-untyped-call]",
        "/api/joints/work/3",
        "method and todos",
    ],
)
def test_the_sweep_leaves_alone(line: str) -> None:
    assert list(sweep.finds_in_text("src/a.py", line)) == []


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("src/buttonhole/web/static/parts/htmx/htmx.js", 10),
        ("src/buttonhole/web/static/plot.min.js", 10),
        ("docs/font.woff2", 10),
        ("docs/huge.csv", 2_000_000),
    ],
)
def test_the_sweep_finds_by_name(name: str, size: int) -> None:
    assert list(sweep.finds_in_name(name, size))


def test_the_sweep_sees_this_tree() -> None:
    names = sweep.listed_files()
    assert "pyproject.toml" in names
    assert not any(name.startswith(sweep.THIRD_PARTY) for name in names)
