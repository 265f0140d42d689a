"""The steel book: every row whole, relatives mutual, nothing verified that was not read."""

import math

import pytest

from buttonhole.joint.material import curves, transformation
from buttonhole.joint.steel import (
    UNKNOWN_STEEL,
    Family,
    every_steel,
    find_steel,
    normal_form,
    steels,
)
from buttonhole.joint.steel_book import Kinship, book, entry, is_listed, relatives
from buttonhole.sources import Status, bibliography, table
from buttonhole.units import BadInput

ALL = book()
STANDARDS = {
    "EN 10130": 6,
    "EN 10268": 20,
    "EN 10346": 33,
    "EN 10338": 15,
    "VDA 239-100": 40,
    "JIS G 3141": 5,
    "JIS G 3135": 13,
    "SAE J403": 6,
    "SAE J2329": 4,
    "SAE J2340": 30,
}


def test_the_book_holds_every_standard_asked_for() -> None:
    for system, least in STANDARDS.items():
        assert sum(one.system == system for one in ALL) >= least, system
    assert {one.steel.family for one in ALL} == set(Family) - {Family.UNKNOWN}
    assert [one.steel for one in ALL[: len(steels())]] == list(steels())


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.steel.designation)
def test_a_row_is_whole(one) -> None:  # type: ignore[no-untyped-def] # the ids need it bare
    steel = one.steel
    assert find_steel(steel.designation) is steel
    assert all(find_steel(name) is steel for name in one.names)
    low, high = steel.yield_range
    assert low <= steel.yield_strength <= high
    assert steel.yield_strength < steel.tensile_strength == steel.tensile_range[0]
    assert steel.tensile_range[0] < steel.tensile_range[1]
    assert steel.source in bibliography()
    assert steel.composition
    for element, limit in steel.composition_limit.items():
        assert 0.0 <= steel.composition.get(element, 0.0) <= limit, element
    assert math.isnan(one.elongation) or 0.02 <= one.elongation <= 0.5
    made, usual = one.habit.made, one.habit.usual
    assert made[0] <= usual[0] < usual[1] <= made[1]
    assert one.habit.places
    assert (steel in steels()) == (one.like == "")
    assert one.like == "" or find_steel(one.like) in steels()


def test_strengths_from_memory_are_said_to_be_unverified() -> None:
    for one in ALL:
        told = any("Unverified" in note for note in one.notes)
        assert told == (one.steel.status is not Status.READ) == (not one.verified)
    assert 30 < sum(one.verified for one in ALL) < len(ALL) / 2


def test_every_number_and_name_stands_for_one_steel() -> None:
    names = [normal_form(name) for one in ALL for name in (one.steel.designation, *one.names)]
    assert len(names) == len(set(names)) == len({*names})


def test_relatives_are_mutual_and_never_the_steel_itself() -> None:
    for one in ALL:
        for other in relatives(one.steel):
            assert other.steel is not one.steel
            back = {each.steel.designation: each for each in relatives(other.steel)}
            assert back[one.steel.designation].kinship is other.kinship
            assert back[one.steel.designation].status is other.status
            assert other.source in bibliography()


def test_relatives_are_of_about_one_strength() -> None:
    # nearest is a claim about strength too: the lowest tensile strengths lie within a fifth
    for one in ALL:
        for other in relatives(one.steel):
            ratio = other.steel.tensile_strength / one.steel.tensile_strength
            assert 0.8 < ratio < 1.25, (one.steel.designation, other.steel.designation)


def test_an_older_name_is_the_same_steel_and_a_neighbour_is_not() -> None:
    near = {one.steel.designation: one.kinship for one in relatives(find_steel("HC340LA"))}
    assert near["H320LA"] is Kinship.SAME  # EN 10268 of 1998 measured along the strip
    assert near["HX340LAD"] is Kinship.NEAREST
    through = {one.steel.designation: one for one in relatives(find_steel("SPCE"))}
    assert through["DX54D"].status is Status.DERIVED  # both stand beside DC04


def test_the_unknown_steel_is_in_no_book() -> None:
    assert not is_listed(UNKNOWN_STEEL)
    assert relatives(UNKNOWN_STEEL) == ()
    with pytest.raises(BadInput, match="not in the steel book"):
        entry(UNKNOWN_STEEL)


def test_curves_are_lent_and_scaled() -> None:
    lent, own = curves(find_steel("HC380LA")), curves(find_steel("HC420LA"))
    assert lent.conductivity.tolist() == own.conductivity.tolist()
    assert lent.flow_stress[0] == find_steel("HC380LA").yield_strength
    assert lent.ac1 == own.ac1


def test_more_carbon_lowers_the_upper_line() -> None:
    lines = [transformation(find_steel(name))[1] for name in ("20MnB5", "22MnB5", "34MnB5")]
    assert lines[0] > lines[1] > lines[2]


def test_the_unknown_steel_asks_for_at_least_what_any_other_asks() -> None:
    from buttonhole.weld.strength import minimum_tensile_shear

    worst = minimum_tensile_shear(UNKNOWN_STEEL.tensile_strength, 1e-3)
    asked = [minimum_tensile_shear(s.tensile_strength, 1e-3) for s in every_steel().values()]
    assert worst >= 0.99 * max(asked)


def test_habits_cover_every_kind_once() -> None:
    kinds = table("steel_habits").text("kind")
    assert len(set(kinds)) == len(kinds)
    assert set(kinds) == set(table("steel_facts").text("kind"))


def test_where_sources_differ_it_is_said() -> None:
    listed = table("steel_conflicts").text("designation")
    assert set(listed) <= set(every_steel())
    told = entry(find_steel("HX300LAD"))
    assert told.verified  # its strengths were read
    assert any("0.11" in one for one in told.conflicts)
    assert any(note.startswith("Sources differ on C and Mn") for note in told.notes)
    assert entry(find_steel("DC03")).conflicts == ()


def test_strength_by_cold_rolling_is_lost_to_heat() -> None:
    hard = find_steel("S550GD")
    assert hard.cold_worked
    assert hard.is_sensitive
    assert not find_steel("S350GD").is_sensitive
    assert sum(one.steel.cold_worked for one in ALL) == 1


def test_a_name_that_states_its_strengths_is_taken_at_its_word() -> None:
    for one in ALL:
        if one.steel.status is Status.DERIVED:
            figures = one.steel.designation[2:].split("-")[0].rstrip("T").split("Y")
            assert [one.steel.yield_range[0] / 1e6, one.steel.tensile_range[0] / 1e6] == [
                float(figure) for figure in figures
            ]
            assert not one.verified
