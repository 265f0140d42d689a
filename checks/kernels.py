"""Do modules with compiled kernels import only numpy, numba, math and each other?

A module that imports numba is one of them. What it leans on must compile too, or at least never
pull in anything slow or impure. Run as ``python checks/kernels.py``; ends with 1 on a fault.
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
    names = {
        name: [(line, full) for line, full in imported(text, name)]
        for name, text in modules.items()
    }
    compiled = {
        name
        for name, found in names.items()
        if any(full.split(".")[0] == "numba" for _, full in found)
    }
    for name in sorted(compiled):
        for line, full in names[name]:
            own = full in compiled or full.rpartition(".")[0] in compiled
            if full.split(".")[0] not in ALLOWED and not own:
                yield f"{name}:{line}: a module with compiled kernels imports {full}"


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
