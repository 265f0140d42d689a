"""Has every text that people read a message in every language?

The texts are found in the templates as the page renderer finds them, and in the modules as string
constants and f-strings that read like words for people. ``python checks/messages.py`` lists what
has no German message and ends with 1 if there is any; with ``--all`` it lists every text found.
"""

import argparse
import ast
import csv
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from jinja2 import nodes

from buttonhole.language.catalogue import HOLE, catalogue
from buttonhole.web.render import environment
from buttonhole.web.template_text import SAY

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "buttonhole"
LANGUAGES = ("de",)
# The parts whose words reach a screen.
PARTS = (
    "web",
    "photo",
    "vehicle",
    "desk",
    "procedure",
    "coupon",
    "learning",
    "joint",
    "weld",
    "paper",
)
# What is for maintainers, for programs or for the printer, not for screens.
LEFT_OUT = (
    "desk/sweep.py", "desk/demo", "weld/spot/emulator", "weld/kernel_cache.py", "learning/study",
    "web/serving.py", "web/guard.py", "web/api.py", "web/steel_api.py", "desk/weld_file",
    "desk/arc_coupon_file.py", "desk/coupon_file.py", "desk/joint_file.py", "desk/machine_file.py",
    "desk/gauge_file.py", "desk/learning_case.py",
)  # fmt: skip
# Pieces of markup that the templates put together; nobody reads them.
NOT_TEXTS = frozenset(
    ("Atkinson Hyperlegible, DejaVu Sans, Arial, sans-serif", "ijl.,:;'|!()[]", "MWmw@%",
     "HX-Request", "can't", "This", "Nmm", "N/mm", "mm²", "min", "cycle depth", "at-PA",
     "{here}/entry?trainee={quoted_of}&sheet={sheet}", "cycle radius",
     "Cc", "Cf", "Cn", "Cs", "Sm", "So", "Zl", "Zp", "d max", "d min", "go tap",
     "buttonhole gauge FILE",
     "two", "two form", "two try", "mm", "{key}-fault", "{key}-hint", "aria-invalid=\"true\"",
     "aria-describedby=\"")
)  # fmt: skip
_LETTERS = re.compile(r"[^\W\d_]{2}")
# A column with its unit, a chemical element, a figure, the name of a standard.
_NAMES = re.compile(
    r"[^\[\]]*\[[^\[\]]+\]|[A-Z][a-z]?|[\d.]+ [a-z/]+|[A-Z]{1,5}[A-Z0-9 .:/-]*\d[\w.:/-]*"
)
_IDENTIFIER = re.compile(r"[a-z0-9_./:@#%*+\-{}|<>=()\[\]\\^$?,;]*")
_FOR_PROGRAMS = (
    "re.compile", "ValueError", "TypeError", "RuntimeError", "KeyError", "AssertionError",
    "find_table", "load_table", "TypeVar", "getattr", "LookupError", "_log.exception",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Found:
    """A text for people and where it stands."""

    text: str
    place: str


def template_texts() -> Iterator[Found]:
    """Yield the texts of the templates."""
    env = environment()
    for name in env.list_templates(extensions=["html"]):
        source = (PACKAGE / "web" / "templates" / name).read_text("utf-8")
        tree = env.parse(source, name)
        for call in tree.find_all(nodes.Call):
            message = call.args[0] if call.args else None
            named = isinstance(call.node, nodes.Name) and call.node.name == SAY
            if named and isinstance(message, nodes.Const):
                yield Found(message.value, f"templates/{name}:{call.lineno}")
        within: set[int] = set()
        for joined in tree.find_all(nodes.Concat):
            text, inside = _joined(joined)
            within |= inside
            if _reads_like_words(text):
                yield Found(text, f"templates/{name}:{joined.lineno}")
        for constant in tree.find_all(nodes.Const):
            if id(constant) in within:
                continue
            if isinstance(constant.value, str) and _reads_like_words(constant.value):
                yield Found(_unprinted(constant.value), f"templates/{name}:{constant.lineno}")


def _joined(node: nodes.Concat) -> tuple[str, set[int]]:
    """The text of pieces put together with ``~``, and the constants that are in it."""
    text, inside, count = "", set(), 0
    for one in node.nodes:
        if isinstance(one, nodes.Const):
            text += _unprinted(str(one.value))
            inside.add(id(one))
        else:
            count += 1
            text += "{value}" if count == 1 else f"{{value_{count}}}"
    return text, inside


def _unprinted(text: str) -> str:
    """A text with the holes of ``format``, ``%.2f`` say, as named holes."""
    count = 0

    def hole(found: re.Match[str]) -> str:
        nonlocal count
        if found[0] == "%%":
            return "%"
        count += 1
        return f"{{{'' if found[1] == 's' else '#'}value{'' if count == 1 else f'_{count}'}}}"

    return re.sub(r"%(?:[.\d]*([dfgs])|%)", hole, text) if "%" in text else text


def module_texts(parts: tuple[str, ...] = PARTS) -> Iterator[Found]:
    """Yield the texts of the modules of these parts."""
    for part in parts:
        for path in sorted((PACKAGE / part).rglob("*.py")):
            name = path.relative_to(PACKAGE).as_posix()
            if not name.startswith(LEFT_OUT):
                yield from _texts_of(ast.parse(path.read_text("utf-8")), name)


def _texts_of(tree: ast.Module, name: str) -> Iterator[Found]:
    skipped = {id(one) for one in _not_for_people(tree)}
    stack: list[ast.AST] = [tree]
    while stack:
        node = stack.pop()
        if id(node) in skipped:
            continue
        text = text_of(node)
        if text is not None:
            if _reads_like_words(text):
                yield Found(text, f"{name}:{getattr(node, 'lineno', 0)}")
            if isinstance(node, ast.JoinedStr):
                stack += [one for one in node.values if isinstance(one, ast.FormattedValue)]
            continue
        stack += list(ast.iter_child_nodes(node))


def text_of(node: ast.AST) -> str | None:
    """The text of a constant or an f-string, its values as named holes."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else None
    if not isinstance(node, ast.JoinedStr):
        return None
    taken: set[str] = set()
    text = ""
    for one in node.values:
        if isinstance(one, ast.Constant):
            text += str(one.value)
        elif isinstance(one, ast.FormattedValue):
            name = base = _name_of(one.value)
            number = 2
            while name in taken:
                name, number = f"{base}_{number}", number + 1
            taken.add(name)
            text += f"{{{'#' if _is_number(one) else ''}{name}}}"
    return text


def _is_number(value: ast.FormattedValue) -> bool:
    if value.format_spec is None:
        return False
    spec = text_of(value.format_spec) or ""
    return bool(re.search(r"[gfde]$|^\.\{", spec)) and "%" not in spec


def _name_of(node: ast.expr) -> str:
    name = "value"
    if isinstance(node, ast.Name):
        name = node.id
    elif isinstance(node, ast.Attribute):
        name = node.attr
    elif isinstance(node, ast.Call):
        name = f"{_name_of(node.func)}_of"
    elif isinstance(node, ast.Subscript):
        key = node.slice
        text = key.value if isinstance(key, ast.Constant) and isinstance(key.value, str) else ""
        name = text if text.isidentifier() else _name_of(node.value)
    elif isinstance(node, ast.BinOp):
        name = _name_of(node.left)
    elif isinstance(node, ast.IfExp):
        name = _name_of(node.body)
    elif isinstance(node, ast.UnaryOp):
        name = _name_of(node.operand)
    return name.lower().strip("_") or "value"


def _not_for_people(tree: ast.Module) -> Iterator[ast.AST]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield node  # docstrings, also those of constants
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield from node.decorator_list
        elif isinstance(node, ast.Call):
            yield from _of_call(node)
        elif isinstance(node, ast.Assign) and ast.unparse(node.targets[0]).startswith("__"):
            yield node
        elif isinstance(node, ast.Subscript):
            yield node.slice
        elif isinstance(node, ast.AnnAssign):
            yield node.annotation
        elif isinstance(node, ast.Dict):
            yield from (one for one in node.keys if one is not None and _is_key(one))


def _of_call(node: ast.Call) -> Iterator[ast.AST]:
    called = ast.unparse(node.func)
    if called in _FOR_PROGRAMS or called.endswith((".error", ".exception", ".get")):
        yield node
    if called.endswith("BadInput") and node.args:
        yield node.args[0]


def _is_key(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and " " not in node.value


def _reads_like_words(text: str) -> bool:
    bare = re.sub(r"<[a-z/]+>", "", HOLE.sub("", text)).strip()
    if not _LETTERS.search(bare) or _IDENTIFIER.fullmatch(bare) or "<" in bare[:1] or "://" in bare:
        return False
    if re.search(r"\\[sdwb]|\(\?P<|\]\+|\w\[\w|-z\]|filename=| \| None$|</?span", text):
        return False  # an expression, a type, a piece of markup or of a header
    if _NAMES.fullmatch(text.strip()) or text.startswith(("/", "private, ", "buttonhole ", ">H")):
        return False
    if bare.isidentifier() and not re.fullmatch(r"[A-ZÄÖÜ][a-zäöüß]+", bare):
        return False  # a key, a name of the code, or a short name the trade has
    if re.fullmatch(
        r"(?:one|two|three|many|go|other|act|sheet|form|main|[a-z]+) (?:form|main|wide)", bare
    ):
        return False
    return not re.fullmatch(r"[\W\d]*(?:mm|kN|kA|ms|HV|MPa|N|to)?[\W\d]*", bare)


# Columns of tables whose words are shown.
TABLES = {
    "joining_rules.csv": ("reason", "value", "whose", "topic"),
    "failure_causes.csv": ("words", "check", "correction"),
    "failure_signs.csv": ("sign",),
    "acceptance_criteria.csv": ("used_by", "note"),
    "steel_facts.csv": ("kind",),
    "steel_habits.csv": ("places", "kind"),
}


def table_texts() -> Iterator[Found]:
    """Yield the texts of the tables."""
    for name, columns in TABLES.items():
        path = PACKAGE / "sources" / "data" / name
        with path.open(encoding="utf-8", newline="") as file:
            for number, row in enumerate(csv.DictReader(file), start=2):
                for column in columns:
                    for part in row[column].split("; ") if column == "places" else [row[column]]:
                        if re.search(r"[a-z]{3}", part) and not re.fullmatch(
                            r"[\d.]+ ?\w*\.?", part
                        ):
                            yield Found(part.strip(), f"sources/data/{name}:{number}")


def missing(language: str, found: Iterator[Found]) -> list[Found]:
    """The texts without a message in a language, each once."""
    known = catalogue(language)
    lacking: dict[str, Found] = {}
    for one in found:
        bare = re.sub(r"<[a-z/]+>|\b(?:mm|ms|kN|kA)\b", "", HOLE.sub("", one.text))
        text = one.text.strip()
        if _LETTERS.search(bare) and text not in NOT_TEXTS and known.exact(text) is None:
            lacking.setdefault(one.text, one)
    return list(lacking.values())


def main() -> int:
    """List what has no message."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--all", action="store_true", help="every text, with a message or without")
    parser.add_argument("parts", nargs="*", help="parts of the package, templates among them")
    given = parser.parse_args()
    parts = tuple(given.parts) or ("templates", "tables", *PARTS)
    texts = list(template_texts()) if "templates" in parts else []
    texts += table_texts() if "tables" in parts else ()
    texts += module_texts(tuple(one for one in parts if one not in ("templates", "tables")))
    lacking = texts if given.all else [x for one in LANGUAGES for x in missing(one, iter(texts))]
    for one in lacking:
        print(f"{one.place}\t{one.text!r}")
    print(f"{len({one.text for one in texts})} texts, {len(lacking)} listed")
    return 1 if lacking and not given.all else 0


if __name__ == "__main__":
    sys.exit(main())
