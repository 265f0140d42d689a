"""Are functions and files short enough to be read in one go?

A function has at most 60 lines and a file at most 500, counted from ``def`` to the last line.
Run as ``python checks/length.py``; prints one line for each that is longer and ends with 1 if any.
"""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FUNCTION_LINES = 60
FILE_LINES = 500
FOLDERS = ("src", "tests", "checks", "benchmarks")


def too_long(name: str, text: str) -> Iterator[str]:
    """Yield one message for each function of a module, and for the module, that is too long."""
    lines = len(text.splitlines())
    if lines > FILE_LINES:
        yield f"{name}:1: {lines} lines in one file, at most {FILE_LINES}"
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            if length > FUNCTION_LINES:
                place = f"{name}:{node.lineno}"
                yield f"{place}: {node.name}() has {length} lines, at most {FUNCTION_LINES}"


def main() -> int:
    """Check every Python file of the project and print what is too long."""
    found = [
        message
        for folder in FOLDERS
        for path in sorted((ROOT / folder).rglob("*.py"))
        for message in too_long(path.relative_to(ROOT).as_posix(), path.read_text("utf-8"))
    ]
    for message in found:
        print(message)
    print(f"{len(found)} too long")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
