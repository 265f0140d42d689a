"""Every way a weld file can be wrong ends in one line that says what would be right."""

import os
import stat
from pathlib import Path

import pytest

from buttonhole.desk.weld_file import BadFile, read_weld_file
from buttonhole.desk.weld_file.read import LINE_LIMIT, SIZE_LIMIT
from buttonhole.joint.coating import Coating
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse

GOOD = """\
process = "spot"
[[sheet]]
steel = "DC04"
thickness = "0.8 mm"
coating = "bare"
[[sheet]]
steel = "DC04"
thickness = "1.2 mm"
coating = "GI"
[set_up]
welding_current = "8.5 kA"
current_type = "MFDC"
electrode_force = "2.2 kN"
electrode_face = "6 mm"
squeeze_time = "300 ms"
weld_time = "160 ms"
hold_time = "160 ms"
"""
SHEET = '[[sheet]]\nsteel = "DC04"\nthickness = "0.8 mm"\ncoating = "bare"\n'


@pytest.fixture
def weld(tmp_path: Path) -> Path:
    return tmp_path / "weld.toml"


def refusal(path: Path) -> BadFile:
    with pytest.raises(BadFile) as caught:
        read_weld_file(path)
    assert str(caught.value) == f"{path}: {caught.value.key}: {caught.value.message}"
    assert "\n" not in str(caught.value).removeprefix(str(path))
    return caught.value


def test_the_values_of_a_good_file(weld: Path) -> None:
    weld.write_text(GOOD)
    read = read_weld_file(weld)
    assert [sheet.thickness for sheet in read.stack.sheets] == pytest.approx([0.8e-3, 1.2e-3])
    assert [sheet.coating for sheet in read.stack.sheets] == [Coating.BARE, Coating.GI]
    assert read.set_up.current_type is CurrentType.MFDC
    assert read.set_up.pulses == (Pulse(8500.0, pytest.approx(0.16)),)
    assert read.set_up.electrode_force == pytest.approx(2200.0)
    assert read.set_up.cap_a == read.set_up.cap_b == ElectrodeCap(pytest.approx(6e-3), None)
    assert read.minimum_rule is None


def test_a_mark_of_byte_order_and_line_ends_of_another_system_do_no_harm(weld: Path) -> None:
    weld.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert len(read_weld_file(weld).stack.sheets) == 2


@pytest.mark.parametrize("path", sorted(Path("examples").glob("*sheets.toml")), ids=str)
def test_the_examples_are_weld_files(path: Path) -> None:
    assert 2 <= len(read_weld_file(path).stack.sheets) <= 4


# (what is replaced, by what, key of the refusal, words it must say)
WRONG = {
    "no process": ('process = "spot"\n', "", "process", 'process = "spot"'),
    "another process": ('"spot"', '"glue"', "process", "spot"),
    "plug": ('"spot"', '"plug"', "process", "spot welds only"),
    "seam": ('"spot"', '"seam"', "process", "spot welds only"),
    "key of a plug": (
        "[set_up]",
        '[set_up]\nhole_diameter = "8 mm"',
        "set_up hole_diameter",
        "plug weld",
    ),
    "unknown key": ("thickness", "thicknes", "sheet 1 thicknes", "did you mean thickness?"),
    "unknown table": ("[set_up]", "[setup]", "setup", "did you mean set_up?"),
    "key in the wrong table": (
        'coating = "bare"',
        'hold_time = "1 s"',
        "sheet 1 hold_time",
        "[set_up]",
    ),
    "key like no other": ("[set_up]", "[set_up]\nqqq = 1", "set_up qqq", "electrode_force"),
    "number without unit": ('"0.8 mm"', "0.8", "sheet 1 thickness", '"0.8 mm"'),
    "number in quotes without unit": ('"0.8 mm"', '"0.8"', "sheet 1 thickness", "unit"),
    "bare not-a-number": ('"0.8 mm"', "nan", "sheet 1 thickness", "unit"),
    "not-a-number": ('"0.8 mm"', '"nan mm"', "sheet 1 thickness", "nan"),
    "endless": ('"0.8 mm"', '"inf mm"', "sheet 1 thickness", "inf"),
    "text for a number": ('"0.8 mm"', '"thin"', "sheet 1 thickness", "thin"),
    "other kind of unit": ('"0.8 mm"', '"0.8 kN"', "sheet 1 thickness", "kN"),
    "empty text": ('"0.8 mm"', '""', "sheet 1 thickness", "mm"),
    "true for a number": ('"0.8 mm"', "true", "sheet 1 thickness", '"0.8 mm"'),
    "list for a number": ('"0.8 mm"', '["0.8 mm"]', "sheet 1 thickness", "list"),
    "table for a number": ('"0.8 mm"', "{ mm = 0.8 }", "sheet 1 thickness", "table"),
    "date for a number": ('"0.8 mm"', "2026-01-01", "sheet 1 thickness", '"0.8 mm"'),
    "no thickness at all": ('"0.8 mm"', '"0 mm"', "sheet 1 thickness", "0.2 to 6 mm"),
    "negative thickness": ('"0.8 mm"', '"-0.8 mm"', "sheet 1 thickness", "0.2 to 6 mm"),
    "foil": ('"0.8 mm"', '"0.05 mm"', "sheet 1 thickness", "0.2 to 6 mm"),
    "plate": ('"0.8 mm"', '"20 mm"', "sheet 1 thickness", "0.2 to 6 mm"),
    "metres by mistake": ('"0.8 mm"', '"0.8 km"', "sheet 1 thickness", "0.2 to 6 mm"),
    "steel spelled wrong": ('steel = "DC04"', 'steel = "DC0A4"', "sheet 1 steel", "DC04"),
    "steel over two lines": ('steel = "DC04"', 'steel = "DC\\n04"', "sheet 1 steel", "short text"),
    "more digits than there are": ('"0.8 mm"', f'"{"9" * 40} mm"', "sheet 1 thickness", "0.8 mm"),
    "key of one letter": ('process = "spot"', 'process = "spot"\na = 1', "a", "the keys here are"),
    "steel as number": ('steel = "DC04"', "steel = 4", "sheet 1 steel", '"DC04"'),
    "no steel": (
        'steel = "DC04"\nthickness = "0.8',
        'thickness = "0.8',
        "sheet 1 steel",
        "unknown",
    ),
    "coating nobody knows": ('"GI"', '"gold"', "sheet 2 coating", "AlSi"),
    "current type": ('"MFDC"', '"DC"', "set_up current_type", "AC50"),
    "no current": ('welding_current = "8.5 kA"\n', "", "set_up welding_current", "8.5 kA"),
    "current of a lamp": ('"8.5 kA"', '"8.5 A"', "set_up welding_current", "0.1 to 40 kA"),
    "no face": ('electrode_face = "6 mm"\n', "", "set_up electrode_face", "dome"),
    "face wider than the cap": ('"6 mm"', '"18 mm"', "set_up electrode_face", "fits"),
    "no force": ('electrode_force = "2.2 kN"\n', "", "set_up electrode_force", "2.2 kN"),
    "weeks of welding": ('"160 ms"\nhold', '"3 weeks"\nhold', "set_up weld_time", "ms"),
    "cycles without mains": ('"160 ms"\nhold', '"8 cycles"\nhold', "set_up weld_time", "Hz"),
    "slope longer than pulse": (
        "hold_time",
        'slope = "170 ms"\nhold_time',
        "set_up slope",
        "inside the pulse",
    ),
    "pulse beside weld time": (
        'hold_time = "160 ms"\n',
        'hold_time = "160 ms"\n[[set_up.pulse]]\ntime = "50 ms"\n',
        "set_up weld_time",
        "leave",
    ),
    "one bracket": ("[[sheet]]\n", "[sheet]\n", None, None),
    "sheets as text": (
        GOOD[: GOOD.index("[set_up]")],
        'process="spot"\nsheet="two"\n',
        "sheet",
        "[[",
    ),
    "one sheet": (SHEET, "", "sheet", "2 to 4"),
    "five sheets": ("[set_up]", SHEET * 3 + "[set_up]", "sheet", "5 sheets"),
    "negative gap": ("[[sheet]]", 'gap = "-1 mm"\n[[sheet]]', "gap", "0 to 5 mm"),
    "no rule": (
        "[set_up]",
        '[criterion]\nminimum_rule = "as big as you like"\n[set_up]',
        "criterion minimum_rule",
        "as big as you like",
    ),
    "letters that would break the line": (
        '"0.8 mm"',
        '"\\u001b[31m\\n0.8\\u2028 mm"',
        "sheet 1 thickness",
        "mm",
    ),
    "braces": ('"0.8 mm"', '"{message}"', "sheet 1 thickness", "{message}"),
    "text of a thousand letters": (
        '"0.8 mm"',
        '"' + "8" * 1000 + ' mm"',
        "sheet 1 thickness",
        "mm",
    ),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_value_is_named_with_what_would_be_right(weld: Path, case: str) -> None:
    old, new, key, words = WRONG[case]
    assert old in GOOD
    weld.write_text(GOOD.replace(old, new, 1))
    bad = refusal(weld)
    if key is None:  # TOML itself already refuses it
        assert bad.key.startswith("line ")
        return
    assert bad.key == key
    assert words in bad.message
    assert len(bad.message) < 400
    assert bad.message.isprintable()


@pytest.mark.parametrize("cut", range(1, len(GOOD) - 1, 7))
def test_a_file_cut_off_anywhere_is_refused_or_said_to_miss_something(weld: Path, cut: int) -> None:
    weld.write_text(GOOD[:cut])
    bad = refusal(weld)
    assert bad.key.startswith("line ") or "missing" in bad.message or "sheet" in bad.key


def test_a_cut_off_file_is_told_with_the_line(weld: Path) -> None:
    weld.write_text(GOOD[: GOOD.index("6 mm") + 2])
    assert refusal(weld).key == "line 14"


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("a = " + "[" * 1500, "file"),
        ("a = " + "9" * 60_000, "line 1"),
        (".".join(["a"] * 32_000) + " = 1", "line 1"),
        ('steel = "DC04"\nsteel = "DC04"\n', "line 2"),
        ("", "process"),
        ("x" * (SIZE_LIMIT + 1), "file"),
        ("\n" + "x" * (LINE_LIMIT + 1), "line 2"),
    ],
    ids=["nesting", "digits", "dots", "twice", "empty", "long", "wide"],
)
@pytest.mark.timeout(20)
def test_text_made_to_hurt_the_reader(weld: Path, text: str, key: str) -> None:
    weld.write_text(text)
    assert refusal(weld).key == key


def test_ten_megabytes_of_junk_are_refused_before_they_are_read(weld: Path) -> None:
    with weld.open("wb") as file:
        file.truncate(10 * 1024 * 1024)
    assert "10,240 KiB" in refusal(weld).message


@pytest.mark.parametrize("raw", [b"\x7fELF\x02\x01\x01\0\0", bytes(range(255, 127, -2)) + b"\0"])
def test_a_binary_file(weld: Path, raw: bytes) -> None:
    weld.write_bytes(raw)
    assert "not text" in refusal(weld).message


def test_text_in_another_coding_is_told_with_the_line(weld: Path) -> None:
    weld.write_bytes(b'process = "spot"\n# \xfcber\n')
    bad = refusal(weld)
    assert bad.key == "line 2"
    assert "UTF-8" in bad.message


def test_a_file_that_is_not_there(weld: Path) -> None:
    assert "does not exist" in refusal(weld).message


def test_a_folder(tmp_path: Path) -> None:
    assert "folder" in refusal(tmp_path).message


@pytest.mark.timeout(20)
def test_a_pipe_nobody_writes_to_is_refused_at_once(weld: Path) -> None:
    os.mkfifo(weld)
    assert "no ordinary file" in refusal(weld).message


def test_a_file_one_may_not_read(weld: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    weld.write_text(GOOD)
    weld.chmod(stat.S_IWUSR)
    if os.geteuid() == 0:  # the superuser may read everything: let the system say no to him too

        def no(*_: object) -> int:
            raise PermissionError(13, "Permission denied", str(weld))

        monkeypatch.setattr(os, "open", no)
    assert "may not be read" in refusal(weld).message


def test_names_no_file_can_have() -> None:
    assert "name" in refusal(Path("a\0b")).message
    assert "can't be read" in refusal(Path("a" * 5000)).message


def test_a_ratio_over_three_to_one_is_read_and_cautioned(weld: Path) -> None:
    from buttonhole.joint.stack_up import cautions

    weld.write_text(GOOD.replace("1.2 mm", "2.5 mm"))
    said = cautions(read_weld_file(weld).stack)
    assert any("3" in one.text and one.rule for one in said)
