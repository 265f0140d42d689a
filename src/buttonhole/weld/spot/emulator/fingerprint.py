"""Which solver the emulator was taught by, so that one of another solver is found out.

Derived, no source.
"""

import hashlib
import io
import tokenize
from collections.abc import Iterator
from pathlib import Path

SPOT = Path(__file__).resolve().parents[1]
HEAT = SPOT.parent / "heat"
JOINT = SPOT.parents[1] / "joint"
DATA = SPOT.parents[1] / "sources" / "data"
# These say what is done with a march, not how it goes.
NOT_THE_SOLVER = frozenset(
    f"{name}.py"
    for name in (
        "__init__", "chance", "cost", "lobe", "prediction", "result", "robust", "thermal_cycle",
        "timing", "waiting", "wear", "weld_warnings", "window",
    )
)  # fmt: skip
TABLES = (
    "electrode_cucrzr", "heat_capacity_en1993", "resistivity_alloying", "resistivity_temperature",
    "steel_composition_typical", "steel_curves", "steel_grades", "steel_liquid", "steel_melting",
)  # fmt: skip
SILENT = {tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT}


def code_of(path: Path) -> str:
    """A module's text without its comments, its docstrings and its blanks.

    Parameters
    ----------
    path : Path
        Of the module.

    Returns
    -------
    str
        What decides what it computes.
    """
    return "".join(_words(path.read_text("utf-8")))


def _words(text: str) -> Iterator[str]:
    begins = True  # a text alone on its line is a docstring
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type in SILENT:
            begins = begins or token.type != tokenize.COMMENT
            continue
        if token.type == tokenize.STRING and begins:
            continue
        begins = False
        yield "".join(token.string.split())


def fingerprint() -> str:
    """Hash of the solver's code, its constants and the tables of its materials.

    Returns
    -------
    str
        SHA-256; a comment or a line break doesn't change it.
    """
    total = hashlib.sha256()
    modules = [*sorted(HEAT.glob("*.py")), *sorted(SPOT.glob("*.py")), JOINT / "material.py"]
    for path in modules:
        if path.name not in NOT_THE_SOLVER:
            total.update(path.name.encode() + b"\0" + code_of(path).encode() + b"\0")
    for name in TABLES:
        total.update((DATA / f"{name}.csv").read_bytes().replace(b"\r\n", b"\n"))
    return total.hexdigest()
