"""Do the docstrings of the core say what a reader of a number must know?

Read from the source text alone, nothing is imported:

- every public class, function and method has a docstring;
- every parameter that is a float or an array is named there with its unit in brackets
  (``thickness : float [m]`` or ``thickness [m]``; ``[-]`` for a plain number, ``[SI]``
  where one function serves many quantities), and so is a result;
- every field of a dataclass that is a float or an array says its unit, there or in a comment;
- a key in a ``Sources`` section stands in the bibliography;
- a module of physics or of criteria that holds a number names a source for it, or says that there
  is none.

Run as ``python checks/docstrings.py``; prints one line for each fault and ends with 1 if any.
"""

import ast
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "buttonhole"
BIBLIOGRAPHY = PACKAGE / "sources" / "data" / "sources.bib"

CORE = ("units", "sources", "joint", "weld", "coupon", "learning", "procedure", "record")
NEEDS_SOURCE = ("weld", "coupon")

QUANTITY = re.compile(r"\b(float|Array\w*|\w+Array|NDArray|ndarray|floating)\b")
# Inside these the number is not a parameter of its own: a function, a name, a class.
NO_QUANTITY = re.compile(r"\bCallable\b")

ATOMS = (
    "m|mm|um|km|s|ms|us|min|h|A|kA|N|kN|daN|K|degC|W|kW|J|kJ|V|mV|ohm|uohm|mohm|Pa|kPa|MPa|GPa|Hz"
    "|kHz|HV|kg|g|mol|rad|deg|l|wt%|%|cycles?|px|SI|1"
)
ATOM = rf"\(?(?:{ATOMS})(?:(?:\^|\*\*)?-?\d+(?:\.\d+)?)?\)?"
UNIT = re.compile(rf"(?:-|{ATOM}(?:[ ./*·]{ATOM})*)")
IN_BRACKETS = re.compile(r"\[([^\[\]\n]{1,40})\]")
# In a comment behind a field the brackets may be left out; the shape of an array may come first.
UNIT_COMMENT = re.compile(rf"#\s*(?:\([^()]*\),?\s*)?(?:{UNIT.pattern})(?=$|[\s,;:.])")
# A name may carry the unit itself.
UNIT_IN_NAME = re.compile(
    r"_(seconds|hours|days|percent|mm|degC|K|HV|kN|kA|ms|us)$|^(seconds|degC)$"
)

# Where what is said of one parameter ends: a blank line, or the entry of the next one.
NEXT_ENTRY = re.compile(r"\n\s*\n|\n\s*\*{0,2}\w[\w*, ]*\s:\s")

NO_SOURCE = re.compile(
    r"(from memory|common practice, no source|no source|derived|our own|exact by definition"
    r"|arithmetic|numerical|measured here|assumption|engineering judgement)",
    re.IGNORECASE,
)
HEADING = re.compile(
    r"^\s*(Parameters|Returns|Raises|Yields|Sources|Notes|Examples?|See Also|References)\s*$"
)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing a docstring lacks."""

    file: str
    line: int
    message: str

    def __str__(self) -> str:
        """Give the line that editors can jump to."""
        return f"{self.file}:{self.line}: {self.message}"


def is_unit(text: str) -> bool:
    """Whether the text between two brackets is a unit, the first of a list of them, or ``-``.

    ``unit of ...`` counts where the caller chooses the quantity.
    """
    if text.startswith("unit of "):
        return True
    return all(UNIT.fullmatch(part.strip()) for part in text.split(",")) or bool(
        re.match(rf"^(?:{UNIT.pattern})\s*[,;(]", text)
    )


def says_unit_of(name: str, text: str) -> bool:
    """Whether the name holds its unit, or one in brackets follows it before the next blank line."""
    if UNIT_IN_NAME.search(name):
        return True
    for mention in re.finditer(rf"(?<![\w.]){re.escape(name)}(?!\w)", text):
        rest = NEXT_ENTRY.split(text[mention.end() :], maxsplit=1)[0]
        if any(is_unit(found) for found in IN_BRACKETS.findall(rest)):
            return True
    return False


def says_any_unit(text: str) -> bool:
    """Whether any unit in brackets, or where to find it, stands in the text."""
    return "in the unit of" in text or any(is_unit(found) for found in IN_BRACKETS.findall(text))


def is_quantity(annotation: ast.expr | None) -> bool:
    """Whether the annotation is of a float or an array."""
    if annotation is None:
        return False
    text = ast.unparse(annotation)
    return bool(QUANTITY.search(text)) and not NO_QUANTITY.search(text)


def _decorators(node: ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) -> set[str]:
    names = set()
    for decorator in node.decorator_list:
        called = decorator.func if isinstance(decorator, ast.Call) else decorator
        names.add(ast.unparse(called).rsplit(".", 1)[-1])
    return names


def function_faults(file: str, node: ast.FunctionDef | ast.AsyncFunctionDef) -> Iterator[Fault]:
    """Yield what the docstring of one public function or method lacks."""
    if _decorators(node) & {"overload", "override", "setter"}:
        return
    text = ast.get_docstring(node)
    if not text:
        yield Fault(file, node.lineno, f"{node.name}() has no docstring")
        return
    arguments = node.args
    for argument in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs):
        if is_quantity(argument.annotation) and not says_unit_of(argument.arg, text):
            yield Fault(
                file, node.lineno, f"{node.name}() does not say the unit of {argument.arg} [...]"
            )
    if is_quantity(node.returns) and not (says_any_unit(text) or UNIT_IN_NAME.search(node.name)):
        yield Fault(file, node.lineno, f"{node.name}() does not say the unit of what it returns")


def class_faults(file: str, node: ast.ClassDef, lines: list[str]) -> Iterator[Fault]:
    """Yield what one public class lacks: docstring, units of fields, its methods' docstrings."""
    text = ast.get_docstring(node) or ""
    if not text:
        yield Fault(file, node.lineno, f"class {node.name} has no docstring")
    for part in node.body:
        if isinstance(part, ast.FunctionDef | ast.AsyncFunctionDef):
            if not part.name.startswith("_"):
                yield from function_faults(file, part)
        elif (
            isinstance(part, ast.AnnAssign)
            and isinstance(part.target, ast.Name)
            and "dataclass" in _decorators(node)
            and is_quantity(part.annotation)
            and not _field_says_unit(part.target.id, text, lines, part)
        ):
            yield Fault(
                file, part.lineno, f"{node.name}.{part.target.id} does not say its unit [...]"
            )


def _field_says_unit(name: str, text: str, lines: list[str], part: ast.AnnAssign) -> bool:
    own = lines[part.lineno - 1 : part.end_lineno or part.lineno]
    before = lines[part.lineno - 2].strip()
    comments = [line for line in own if "#" in line] + ([before] if before.startswith("#") else [])
    return says_unit_of(name, text) or any(
        UNIT_COMMENT.search(line) or says_any_unit(line.split("#", 1)[1]) for line in comments
    )


def source_keys(text: str) -> list[str]:
    """Return what the ``Sources`` sections of one docstring name, one entry a line."""
    entries: list[str] = []
    lines = text.splitlines()
    for number, line in enumerate(lines):
        inline = re.match(r"^\s*Sources?:\s+(.+)$", line)
        if inline:
            entries.extend(part.strip() for part in re.split(r"[,;]", inline[1]) if part.strip())
        elif (
            line.strip() == "Sources"
            and lines[number + 1 : number + 2]
            and (set(lines[number + 1].strip()) == {"-"})
        ):
            for entry in lines[number + 2 :]:
                if HEADING.match(entry):
                    break
                if entry.strip() and not entry.startswith((" ", "\t")):
                    entries.append(entry.strip())
    return entries


def key_of(entry: str) -> str:
    """Return the bibliography key at the start of an entry, free of list marks and brackets."""
    return re.split(r"[\s:,(]", entry.lstrip("-*[` ").rstrip("."), maxsplit=1)[0].strip("[]`.")


def bibliography_keys(text: str) -> set[str]:
    """Return the keys of a BibTeX file."""
    return set(re.findall(r"^\s*@\w+\s*\{\s*([^,\s]+)\s*,", text, re.MULTILINE))


def source_faults(
    file: str, tree: ast.Module, lines: list[str], keys: set[str], strict: bool
) -> Iterator[Fault]:
    """Yield entries that the bibliography does not hold, and numbers that have no source."""
    named = False
    for node in ast.walk(tree):
        if not isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        for entry in source_keys(ast.get_docstring(node) or ""):
            named = True
            if key_of(entry) not in keys and not NO_SOURCE.search(entry):
                line = getattr(node, "lineno", 1)
                yield Fault(file, line, f"source {entry!r} is not in the bibliography")
    if strict and not named:
        yield from _numbers_without_source(file, tree, lines, keys)


def _numbers_without_source(
    file: str, tree: ast.Module, lines: list[str], keys: set[str]
) -> Iterator[Fault]:
    everything = "\n".join(lines)
    if any(re.search(rf"(?<!\w){re.escape(key)}(?!\w)", everything) for key in keys):
        return
    if NO_SOURCE.search("\n".join(line.split("#", 1)[1] for line in lines if "#" in line)):
        return
    if NO_SOURCE.search(ast.get_docstring(tree) or ""):
        return
    for node in tree.body:
        value = node.value if isinstance(node, ast.Assign | ast.AnnAssign) else None
        if value is not None and any(
            isinstance(part, ast.Constant) and isinstance(part.value, float)
            for part in ast.walk(value)
        ):
            yield Fault(
                file,
                node.lineno,
                "holds a number but names no source for it, nor says there is none",
            )
            return


def faults_of(file: str, text: str, keys: set[str], *, needs_source: bool) -> list[Fault]:
    """Return every fault of one module, given its text."""
    tree = ast.parse(text)
    lines = text.splitlines()
    found: list[Fault] = []
    if text.strip() and not ast.get_docstring(tree):
        found.append(Fault(file, 1, "the module has no docstring"))
    for node in tree.body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            found.extend(class_faults(file, node, lines))
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and not node.name.startswith(
            "_"
        ):
            found.extend(function_faults(file, node))
    found.extend(source_faults(file, tree, lines, keys, strict=needs_source))
    return found


def core_modules(package: Path) -> Iterator[Path]:
    """Yield the modules of the core, those that migrate a database left out."""
    for part in CORE:
        if (package / f"{part}.py").exists():
            yield package / f"{part}.py"
        for path in sorted((package / part).rglob("*.py")):
            if "versions" not in path.parts and path.name != "env.py":
                yield path


def main() -> int:
    """Check the whole core and print what is wrong."""
    keys = bibliography_keys(BIBLIOGRAPHY.read_text("utf-8")) if BIBLIOGRAPHY.exists() else set()
    found: list[Fault] = []
    modules = list(core_modules(PACKAGE))
    for path in modules:
        needs_source = path.relative_to(PACKAGE).parts[0] in NEEDS_SOURCE
        name = path.relative_to(ROOT).as_posix()
        found.extend(faults_of(name, path.read_text("utf-8"), keys, needs_source=needs_source))
    for fault in found:
        print(fault)
    print(f"{len(modules)} modules, {len(keys)} bibliography keys, {len(found)} faults")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
