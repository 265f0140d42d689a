"""Which solver the emulator was taught by, so that one of another solver is found out.

Derived, no source.
"""

import ast
import hashlib
import io
import tokenize
from collections.abc import Iterator
from pathlib import Path

WELD = Path(__file__).resolve().parents[2]
JOINT, DATA = WELD.parent / "joint", WELD.parent / "sources" / "data"
OURS = "buttonhole.weld"
SOLVER = ("spot/simulation.py", "spot/expulsion.py", "spot/zones.py")  # with all they take in
TABLES = (
    "cap_wear", "electrode_cucrzr", "heat_capacity_en1993", "resistivity_alloying",
    "resistivity_temperature", "steel_composition_typical", "steel_curves", "steel_grades",
    "steel_liquid", "steel_melting", "stainless_304_kim",
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
    for path in [*sorted(solver_modules()), JOINT / "material.py"]:
        total.update(path.name.encode() + b"\0" + code_of(path).encode() + b"\0")
    for name in TABLES:
        total.update((DATA / f"{name}.csv").read_bytes().replace(b"\r\n", b"\n"))
    return total.hexdigest()


def solver_modules() -> set[Path]:
    """Modules of the weld that the solver is made of: its own and what they take in."""
    found: set[Path] = set()
    left = [WELD / name for name in SOLVER]
    while left:
        path = left.pop()
        if path not in found:
            found.add(path)
            left += _taken_in(path)
    return found


def _taken_in(path: Path) -> Iterator[Path]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if not (isinstance(node, ast.ImportFrom) and (node.module or "").startswith(OURS)):
            continue
        place = WELD.joinpath(*str(node.module).split(".")[2:])
        for each in (place, *(place / name.name for name in node.names)):
            if (module := each.with_suffix(".py")).is_file():
                yield module
