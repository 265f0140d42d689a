"""Do modules with compiled kernels import only numpy, numba, math and each other?

A module that imports numba is one of them. A module of plain numbers, which imports nothing else
than these either, may be used by them. Whatever else they leaned on could be slow or
impure. Run as ``python checks/kernels.py``; ends with 1 on a fault.
"""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src"
ALLOWED = {"numpy", "numba", "math"}


def imported(text: str, module: str) -> Iterator[tuple[int, str]]:
    """Yield line and full name of each import; ``module`` is where relative ones start."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parent = module.split(".")[: -node.level]
                base = ".".join([*parent, base]).rstrip(".")
            for alias in node.names:
                yield node.lineno, f"{base}.{alias.name}"


def faults(modules: dict[str, str]) -> Iterator[str]:
    """Yield one message for each import a module with kernels may not have.

    ``modules`` maps the dotted name of every module of the package to its text.
    """
    roots = {_root(name) for name in modules}
    names = {
        name: [(line, full) for line, full in imported(text, name)]
        for name, text in modules.items()
    }
    free = {  # to be used by kernels: what has no import of its own beyond the allowed ones
        name
        for name, found in names.items()
        if all(_root(full) in ALLOWED or _root(full) in roots for _, full in found)
    }
    while impure := {name for name in free if not _leans_on(names[name], free)}:
        free -= impure
    for name, found in sorted(names.items()):
        if not any(_root(full) == "numba" for _, full in found):
            continue
        for line, full in found:
            own = any(part in free or _is_kernel(part, names) for part in _targets(full))
            if _root(full) not in ALLOWED and not own:
                yield f"{name}:{line}: a module with compiled kernels imports {full}"


def _root(full: str) -> str:
    return full.split(".", maxsplit=1)[0]


def _targets(full: str) -> tuple[str, str]:
    # What follows ``import`` may be a module or a name in one.
    return full, full.rpartition(".")[0]


def _is_kernel(module: str, names: dict[str, list[tuple[int, str]]]) -> bool:
    return any(_root(full) == "numba" for _, full in names.get(module, []))


def _leans_on(found: list[tuple[int, str]], free: set[str]) -> bool:
    return all(
        _root(full) in ALLOWED or any(part in free for part in _targets(full)) for _, full in found
    )


def main() -> int:
    """Check the whole package and print what is wrong."""
    modules = {}
    for path in sorted(SOURCE.rglob("*.py")):
        parts = path.relative_to(SOURCE).with_suffix("").parts
        modules[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path.read_text(
            "utf-8"
        )
    found = list(faults(modules))
    for message in found:
        print(message)
    print(f"{len(modules)} modules, {len(found)} faults")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
