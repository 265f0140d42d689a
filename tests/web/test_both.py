"""Both versions of a conflict are said in words and units, what differs first."""

from buttonhole.desk.conflict import Conflict, Version
from buttonhole.web.both import rows, said

SHEET = {"steel": "DC04", "thickness": 0.7e-3, "coating": "GI"}


def version(**values: object) -> Version:
    return Version("2026-01-31T08:00:00.000000Z", "Tomas Veld", "Joint described", dict(values))


def test_values_are_said_with_their_units() -> None:
    told = said(
        version(
            joint="x",
            stack={"gap": 0.3e-3, "sheets": [SHEET, {**SHEET, "thickness": 1.2e-3}]},
            set_up={
                "pulses": [{"current": 9100.0, "time": 0.26}],
                "electrode_force": 3800.0,
                "cap_a": {"face_diameter": 6e-3, "radius": None},
            },
            own=True,
            note="",
        )
    )
    assert told == {
        "gap": "0.3 mm",
        "sheet 1 steel": "DC04",
        "sheet 1 thickness": "0.7 mm",
        "sheet 1 coating": "GI",
        "sheet 2 steel": "DC04",
        "sheet 2 thickness": "1.2 mm",
        "sheet 2 coating": "GI",
        "pulse 1 current": "9.1 kA",
        "pulse 1 time": "260 ms",
        "electrode force": "3.8 kN",
        "cap a face diameter": "6 mm",
        "cap a radius": "–",
        "note": "–",
    }


def test_what_differs_comes_first_and_one_sided_values_differ() -> None:
    theirs = version(name="J1", old_spots=14)
    mine = version(name="J1", old_spots=15, note="rust")
    found = rows(Conflict("joint/x", (mine,), (theirs,), "e"))
    assert [(row.name, row.theirs, row.mine, row.differs) for row in found] == [
        ("old spots", "14", "15", True),
        ("note", "–", "rust", True),
        ("name", "J1", "J1", False),
    ]
