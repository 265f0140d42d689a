"""How a spot weld lets go, what it holds four ways, the weakest link, the number of welds."""

import math

import pytest

from buttonhole.units import BadInput
from buttonhole.weld.arc.strength import Holding, Link, LinkLoad, Pull
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.strength import least_loads
from buttonhole.weld.strength.count import NOT_MET, welds_needed
from buttonhole.weld.strength.failure import (
    FailureMode,
    critical_diameter,
    failure,
    interfacial_is_weak,
    interfacial_load,
    pull_out_load,
)
from buttonhole.weld.strength.spot import HARD_FROM, SpotMade, spot_failure, spot_strength
from buttonhole.weld.strength.weakest import Part, weakest_link


def sharp(value: float) -> Estimate:
    return Estimate(value, value, value)


def spot(
    *,
    nugget: float = 5e-3,
    thicknesses: tuple[float, float] = (1.0e-3, 1.0e-3),
    strengths: tuple[float, float] = (300e6, 300e6),
    hardness: float = 250.0,
    soft: float = 100.0,
    equivalent: float = 0.1,
) -> SpotMade:
    return SpotMade(
        thicknesses=thicknesses,
        strengths=strengths,
        nuggets=(Estimate(nugget, 0.9 * nugget, 1.1 * nugget),),
        nugget_hardness=Estimate(hardness, 0.9 * hardness, 1.1 * hardness),
        soft_hardness=(sharp(soft), sharp(soft)),
        carbon_equivalents=(equivalent, equivalent),
    )


def by_pull(made: SpotMade) -> dict[Pull, Holding]:
    return {one.pull: one for one in spot_strength(made)}


def test_a_lower_hardness_ratio_needs_a_larger_nugget() -> None:
    diameters = [critical_diameter(1.2e-3, sharp(r)).estimate.high for r in (2.0, 1.5, 1.2, 1.0)]
    assert diameters == sorted(diameters)


def test_thicker_sheet_needs_more_roots_of_its_thickness() -> None:
    roots = [
        critical_diameter(t * 1e-3, sharp(1.7)).estimate.value / math.sqrt(t)
        for t in (0.8, 1.0, 1.5, 2.0)
    ]
    assert roots == sorted(roots)


@pytest.mark.parametrize(
    ("diameter", "mode"),
    [
        (2.0, FailureMode.INTERFACIAL),
        (4.2, FailureMode.PARTIAL),
        (7.0, FailureMode.PULL_OUT),
    ],
)
def test_the_mode_follows_the_diameter(diameter: float, mode: FailureMode) -> None:
    found = failure(sharp(diameter * 1e-3), 1.0e-3, sharp(1.7))
    assert found.mode is mode
    assert found.sure
    assert "from memory" in found.reason


def test_a_wide_interval_is_not_sure() -> None:
    assert not failure(Estimate(5.5e-3, 2e-3, 8e-3), 1.0e-3, sharp(1.7)).sure


@pytest.mark.parametrize(("share", "weak"), [(0.89, True), (0.90, False), (0.95, False)])
def test_interfacial_from_ninety_per_cent_of_a_button_is_not_weak(share: float, weak: bool) -> None:
    assert interfacial_is_weak(share * 7.3e3, 7.3e3) is weak


def test_loads_cross_at_the_critical_diameter_of_equal_loads() -> None:
    (critical,) = (
        value for name, value, _ in critical_diameter(1.2e-3, sharp(1.5)).by_model
        if name == "equal loads"
    )  # fmt: skip
    assert interfacial_load(600e6, critical) == pytest.approx(
        pull_out_load(600e6, 1.2e-3, critical)
    )


def test_every_way_of_pulling_has_an_interval_and_a_weakest_link() -> None:
    held = by_pull(spot())
    assert set(held) == {Pull.SHEAR, Pull.ACROSS, Pull.PEEL, Pull.TORSION}
    for one in held.values():
        assert one.load.low < one.load.value < one.load.high
        assert one.weakest.why
    assert held[Pull.PEEL].load.value < held[Pull.ACROSS].load.value < held[Pull.SHEAR].load.value


def test_the_thinner_and_softer_sheet_gives_way() -> None:
    thin = by_pull(spot(thicknesses=(0.7e-3, 1.5e-3)))[Pull.SHEAR]
    assert thin.weakest.link is Link.BUTTON_A
    soft = by_pull(spot(strengths=(900e6, 300e6), thicknesses=(1.0e-3, 1.0e-3)))[Pull.SHEAR]
    assert soft.weakest.link is Link.BUTTON_B


def test_a_small_nugget_in_thick_sheet_parts_through() -> None:
    made = spot(nugget=4e-3, thicknesses=(2e-3, 2e-3))
    assert by_pull(made)[Pull.SHEAR].weakest.link is Link.NUGGET
    assert spot_failure(made, 0).mode is FailureMode.INTERFACIAL


def test_no_nugget_holds_nothing() -> None:
    made = SpotMade((1e-3, 1e-3), (300e6, 300e6), (sharp(0.0),), sharp(200.0),
                    (sharp(95.0), sharp(95.0)), (0.1, 0.1))  # fmt: skip
    for one in spot_strength(made):
        assert one.load.value == one.load.low == 0.0


def test_a_nugget_rich_in_carbon_holds_less_across() -> None:
    lean = by_pull(spot())[Pull.ACROSS]
    rich = by_pull(spot(equivalent=HARD_FROM + 0.05))[Pull.ACROSS]
    assert rich.load.value < lean.load.value
    assert rich.load.low < 0.5 * lean.load.low


def part(name: str, load: float, pull: Pull = Pull.SHEAR, length: float | None = None) -> Part:
    link = LinkLoad(Link.NUGGET, Estimate(load, 0.8 * load, 1.2 * load))
    return Part(name, "spot" if length is None else "seam", (Holding(0, pull, (link,)),), length)


def test_the_weakest_link_over_all_processes() -> None:
    found = weakest_link([part("spots", 5e3), part("plug", 3e3), part("seam", 4e5, length=0.04)],
                         Pull.SHEAR)  # fmt: skip
    assert (found.name, found.load.value) == ("plug", 3e3)
    assert "spots 5.0" in found.reason
    assert "seam 16.0" in found.reason
    assert found.sure
    assert not weakest_link([part("spots", 3.5e3), part("plug", 3e3)], Pull.SHEAR).sure


def test_what_is_not_known_that_way_is_said() -> None:
    found = weakest_link([part("spots", 5e3, Pull.PEEL), part("seam", 4e5, length=0.04)], Pull.PEEL)
    assert "Not known that way: seam" in found.reason
    with pytest.raises(BadInput, match="not known"):
        weakest_link([part("spots", 5e3)], Pull.PEEL)


ONE = Estimate(6e3, 5e3, 7e3)


@pytest.mark.parametrize(
    ("load", "maker", "share", "number", "governs"),
    [
        (20e3, 4, 1.0, 4, "both"),
        (20e3, 6, 1.0, 6, "maker"),
        (20e3, 3, 1.0, 4, "load"),
        (20e3, 4, 0.8, 5, "load"),
        (20.1e3, None, 1.0, 5, "load"),
        (None, 7, 0.8, 7, "maker"),
        (1.0, None, 1.0, 1, "load"),
    ],
)
def test_how_many_welds(
    load: float | None, maker: int | None, share: float, number: int, governs: str
) -> None:
    found = welds_needed(load, ONE, maker, share)
    assert (found.number, found.governs) == (number, governs)
    assert found.load_is_met
    assert found.number is not None
    assert found.number >= (maker or 1)
    assert found.reason


def test_never_fewer_than_the_maker_says() -> None:
    for load in (1e2, 1e3, 1e4, 1e5):
        for maker in (1, 3, 12, 50):
            found = welds_needed(load, ONE, maker)
            assert found.number is not None
            assert found.number >= maker


def test_a_weld_that_may_hold_nothing_meets_no_load() -> None:
    none = Estimate(6e3, 0.0, 7e3)
    found = welds_needed(20e3, none, 4)
    assert (found.number, found.by_load, found.load_is_met) == (4, None, False)
    assert found.reason == NOT_MET
    assert welds_needed(20e3, none).number is None


@pytest.mark.parametrize(
    ("load", "maker", "share", "word"),
    [
        (None, None, 0.8, "both missing"),
        (-1.0, None, 0.8, "above zero"),
        (math.nan, 2, 0.8, "above zero"),
        (1e3, 0, 0.8, "1 to"),
        (1e3, 2, 0.0, "up to 1"),
        (1e3, 2, 1.1, "up to 1"),
    ],
)
def test_what_can_not_be_counted(
    load: float | None, maker: int | None, share: float, word: str
) -> None:
    with pytest.raises(BadInput, match=word):
        welds_needed(load, ONE, maker, share)


def test_loads_for_low_carbon_sheet_are_not_held_against_strong_sheet() -> None:
    mild = {one.name: one for one in least_loads([(1.0e-3, 300e6), (1.2e-3, 310e6)])}
    assert all(one.applies for one in mild.values())
    assert not mild["nominal"].is_minimum
    strong = {one.name: one for one in least_loads([(1.0e-3, 980e6), (1.2e-3, 980e6)])}
    assert not strong["chart minimum"].applies
    assert strong["AWS C1.1"].applies
    # of unlike strengths the one that asks for less, of unlike thickness the thinner
    mixed = {one.name: one for one in least_loads([(1.0e-3, 300e6), (1.2e-3, 980e6)])}
    assert mixed["AWS C1.1"].load == mild["AWS C1.1"].load
