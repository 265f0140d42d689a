"""Every verb and every key of a weld file stands on the page that documents them."""

import re
from pathlib import Path

import pytest

from buttonhole.cli.verbs import app
from buttonhole.desk.weld_file.arc_keys import PLUG_FORM
from buttonhole.desk.weld_file.keys import WELD_FORM
from buttonhole.desk.weld_file.seam_keys import SEAM_FORM

PAGE = Path("docs/command-line.md").read_text(encoding="utf-8")


def verbs() -> list[str]:
    named = [one.name or "" for one in app.registered_commands]
    for group in app.registered_groups:
        assert group.typer_instance is not None
        inner = group.typer_instance.registered_commands
        named += [f"{group.name} {one.name}" for one in inner]
    return named


@pytest.mark.parametrize("verb", verbs())
def test_every_verb_is_documented(verb: str) -> None:
    assert re.search(rf"`(buttonhole )?{verb}\b", PAGE), verb


@pytest.mark.parametrize(
    "key",
    sorted(
        {
            key
            for form in (WELD_FORM, PLUG_FORM, SEAM_FORM)
            for entry in form.tables.values()
            for key in entry.model_fields
        }
    ),
)
def test_every_key_of_a_weld_file_is_documented(key: str) -> None:
    assert re.search(rf"`\[*(set_up\.)?{key}\]*`", PAGE), key
