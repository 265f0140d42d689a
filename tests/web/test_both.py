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
        "gap before clamping": "0.3 mm",
        "sheet 1 steel": "DC04",
        "sheet 1 thickness": "0.7 mm",
        "sheet 1 coating": "GI",
        "sheet 2 steel": "DC04",
        "sheet 2 thickness": "1.2 mm",
        "sheet 2 coating": "GI",
        "welding current": "9.1 kA",
        "weld time": "260 ms",
        "electrode force": "3.8 kN",
        "electrode, side A: face": "6 mm",
        "electrode, side A: face radius": "–",
        "note": "–",
    }


def test_what_differs_comes_first_and_one_sided_values_differ() -> None:
    theirs = version(name="J1", old_spots=14)
    mine = version(name="J1", old_spots=15, note="rust")
    found = rows(Conflict("joint/x", (mine,), (theirs,), "e"))
    assert [(row.name, row.theirs, row.mine, row.differs) for row in found] == [
        ("old spots", "14", "15", True),
        ("note", "–", "rust", True),
        ("joint", "J1", "J1", False),
    ]


def test_several_pulses_are_numbered() -> None:
    pulses = [{"current": 5000.0, "time": 0.1}, {"current": 9000.0, "time": 0.2}]
    told = said(version(set_up={"pulses": pulses}))
    assert told == {
        "pulse 1 welding current": "5 kA",
        "pulse 1 weld time": "100 ms",
        "pulse 2 welding current": "9 kA",
        "pulse 2 weld time": "200 ms",
    }


def test_a_verdict_and_a_release_are_said_without_what_the_record_keeps_beside_them() -> None:
    judged = {
        "interface": 1,
        "reading": {"d_max": 4.2e-3},
        "criterion": {"name": "4.5 × √t", "key": "4.5-root-t"},
        "verdict": {"outcome": "accept_note", "margin": 1e-4},
    }
    assert said(version(judged=[judged], number=2)) == {
        "sheet 2 to 3, verdict": "Accepted, with a note",
        "sheet 2 to 3, least size by": "4.5 × √t",
    }
    details = {"machine": "Gun A", "max_welds": 40, "released_by": "Ines Okoro"}
    details["valid_until"] = "2026-01-31T12:00:00.000000Z"
    assert said(version(details={**details, "criteria": ["x"]}, rests_on=["y"])) == {
        "gun": "Gun A",
        "holds for so many welds": "40",
        "holds until, UTC": "2026-01-31 12:00",
        "released by": "Ines Okoro",
    }


def test_all_that_was_saved_meanwhile_counts_and_empty_answers_are_left_out() -> None:
    theirs = (version(old_spots=15), version(reference="Manual", note=""))
    found = rows(Conflict("joint/x", (version(old_spots=15, note=""),), theirs, "e"))
    assert [(row.name, row.differs) for row in found] == [
        ("document and page", True),
        ("old spots", False),
    ]
