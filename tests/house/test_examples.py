"""The examples in the docstrings of the package run and print what they say."""

import doctest
import importlib
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parents[2] / "src"
WITH_EXAMPLES = sorted(
    ".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__")
    for path in SOURCE.rglob("*.py")
    if ">>> " in path.read_text("utf-8")
)


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_examples(name: str) -> None:
    result = doctest.testmod(
        importlib.import_module(name),
        optionflags=doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE,
    )
    assert result.attempted > 0
    assert result.failed == 0
