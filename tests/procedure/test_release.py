"""A release needs the maker's word or two signatures, and a coupon for every interface."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.coupon.difference import Difference, Level
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import Verdict, judge
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.authority import Authority, Deviation, MakerProcedure
from buttonhole.procedure.release import Release, ReleaseRefused, TestedCoupon, ended, release
from buttonhole.procedure.validity import SPOT_ENDS, EndCondition, Happening, ValidityPolicy
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
CAP = ElectrodeCap(face_diameter=6e-3)
SET_UP = SpotSetUp((Pulse(9.0e3, 0.24),), CurrentType.MFDC, 3.0e3, CAP, CAP, 0.3, 0.2)
PROCEDURE = MakerProcedure("body manual 4-12", "2025-11", date(2026, 3, 1), "T. Veld", "14 spots")
DEVIATION = Deviation("the maker has no text for this car", "Ines Okoro", "Joan Estrel")


def stack(*sheets: tuple[str, float, Coating]) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(n), t * 1e-3, c) for n, t, c in sheets))


THREE = stack(
    ("DC04", 0.7, Coating.GI), ("HCT600X", 1.2, Coating.GI), ("22MnB5", 1.6, Coating.ALSI)
)
BARE = stack(("DC04", 1.0, Coating.BARE), ("DC04", 1.0, Coating.BARE))


def verdict(on: StackUp, interface: int, diameter: float, *, expulsion: bool = False) -> Verdict:
    reading = Reading(
        interface,
        TestKind.PEEL,
        FractureMode.FULL_BUTTON,
        diameter,
        diameter,
        expulsion=expulsion,
    )
    return judge(reading, find_criterion("4-root-t"), on)


def coupon(on: StackUp = THREE, sequence: int = 2, diameter: float = 6.5e-3) -> TestedCoupon:
    verdicts = tuple(verdict(on, face.index, diameter) for face in on.interfaces)
    return TestedCoupon(f"C{sequence}", sequence, on, SET_UP, verdicts)


def released(on: StackUp = THREE, **changes: object) -> Release:
    given = {
        "machine": "Gun A",
        "authority": PROCEDURE,
        "coupons": (coupon(on),),
        "last_change": 1,
        "now": NOW,
        "released_by": "Ines Okoro",
    } | changes
    return release(SET_UP, on, **given)  # type: ignore[arg-type]  # named arguments by test


def refused(on: StackUp = THREE, **changes: object) -> set[str]:
    with pytest.raises(ReleaseRefused) as caught:
        released(on, **changes)
    assert all(each.reason and each.do for each in caught.value.refusals)
    return {each.code for each in caught.value.refusals}


def test_a_release_has_an_end() -> None:
    given = released()
    assert given.valid_until == NOW + timedelta(hours=4)
    assert given.max_welds == 50
    assert released(BARE).max_welds == 100
    assert given.end_conditions == SPOT_ENDS
    assert given.counting[0].startswith("1 of 1 coupon passed")
    assert any("vehicle maker" in text for text in given.cautions)
    assert any("one coupon" in text for text in given.cautions)


def test_without_the_makers_word_there_is_no_release() -> None:
    assert refused(authority=None) == {"no-authority"}
    assert refused(authority=replace(PROCEDURE, permits=False)) == {"maker-forbids"}
    assert refused(authority=replace(PROCEDURE, read_on=date(2026, 3, 3))) == {"read-in-future"}


def test_a_signed_deviation_stands_in_and_is_printed() -> None:
    given = released(authority=DEVIATION)
    assert any("Joan Estrel" in text and "no text" in text for text in given.cautions)


def test_every_interface_needs_its_coupon() -> None:
    one = coupon()
    assert refused(coupons=(replace(one, verdicts=one.verdicts[:1]),)) == {"interface"}
    assert refused(coupons=()) == {"interface"}


def test_a_coupon_from_before_the_change_does_not_count() -> None:
    assert refused(last_change=2) == {"interface"}


def test_a_coupon_of_another_set_up_does_not_count() -> None:
    other = replace(coupon(), set_up=replace(SET_UP, electrode_force=2.9e3))
    assert refused(coupons=(other,)) == {"other-set-up", "interface"}


def test_a_failed_coupon_is_not_outvoted() -> None:
    bad, good = coupon(sequence=2, diameter=3.0e-3), coupon(sequence=3)
    assert refused(coupons=(bad, good)) == {"interface"}
    assert released(coupons=(bad, good), last_change=2).coupons == ("C3",)


def test_an_undecided_coupon_may_be_followed_by_another() -> None:
    unsure = coupon(sequence=2, diameter=4.5e-3)
    assert refused(coupons=(unsure,)) == {"interface"}
    assert released(coupons=(unsure, coupon(sequence=3))).coupons == ("C2", "C3")


def test_splash_stops_it() -> None:
    assert refused(coupons=(replace(coupon(), expulsion=True),)) == {"expulsion"}
    splashed = tuple(verdict(THREE, i, 6.5e-3, expulsion=True) for i in (0, 1))
    assert refused(coupons=(replace(coupon(), verdicts=splashed),)) == {"interface"}


def test_a_red_difference_stops_it() -> None:
    lead = Difference("lead", "L25", "L10", Level.RED, "Weld a coupon at the supply it gets.")
    assert refused(coupons=(replace(coupon(), differences=(lead,)),)) == {"difference"}
    amber = replace(lead, level=Level.AMBER)
    assert released(coupons=(replace(coupon(), differences=(amber,)),)).coupons == ("C2",)
    other = stack(
        ("DC04", 0.9, Coating.GI), ("HCT600X", 1.2, Coating.GI), ("22MnB5", 1.6, Coating.ALSI)
    )
    assert refused(coupons=(coupon(other),)) == {"difference"}


def test_an_unknown_sheet_stops_it_even_with_two_signatures() -> None:
    unknown = stack(("unknown", 1.0, Coating.BARE), ("DC04", 1.0, Coating.BARE))
    assert "unknown-sheet" in refused(unknown, authority=DEVIATION)


def test_all_reasons_are_said_at_once() -> None:
    assert refused(authority=None, coupons=()) == {"no-authority", "interface"}


def test_more_coupons_can_be_asked_for() -> None:
    assert refused(policy=ValidityPolicy(coupons=2)) == {"interface"}


@pytest.mark.parametrize(
    ("changes", "key"),
    [({"released_by": " "}, "released_by"), ({"now": NOW.replace(tzinfo=None)}, "now")],
)
def test_a_release_names_who_and_when(changes: dict[str, object], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        released(**changes)
    assert caught.value.key == key


def test_what_ends_a_release() -> None:
    given = released()
    assert ended(given, NOW + timedelta(hours=3, minutes=59), (), 49) == ()
    over = ended(given, NOW + timedelta(hours=4))
    assert [each.condition for each in over] == [EndCondition.TIME_OVER]
    done = ended(given, NOW + timedelta(hours=1), (), 50)
    assert [each.condition for each in done] == [EndCondition.WELDS_DONE]
    dressed = Happening(EndCondition.TIPS_DRESSED, NOW + timedelta(minutes=5), "after weld 20")
    (ending,) = ended(given, NOW + timedelta(hours=1), (dressed,))
    assert "dressed" in ending.words
    assert "after weld 20" in ending.words


def test_what_happened_before_the_release_does_not_end_it() -> None:
    dressed = Happening(EndCondition.TIPS_DRESSED, NOW - timedelta(minutes=5))
    assert ended(released(), NOW + timedelta(hours=1), (dressed,)) == ()


@pytest.mark.parametrize("field", ["reference", "revision", "read_by", "says"])
def test_a_procedure_that_nobody_could_find_again_is_no_procedure(field: str) -> None:
    with pytest.raises(BadInput) as caught:
        replace(PROCEDURE, **{field: "  "})
    assert caught.value.key == field


def test_only_the_makers_word_is_a_makers_procedure() -> None:
    with pytest.raises(BadInput, match="not the maker"):
        replace(PROCEDURE, authority=Authority.GENERIC)
    answered = released(authority=replace(PROCEDURE, authority=Authority.MAKER_ANSWER))
    assert any("written answer" in text for text in answered.cautions)


@pytest.mark.parametrize("second", ["Ines Okoro", "ines  okoro", "INES.OKORO"])
def test_a_deviation_takes_two_people(second: str) -> None:
    with pytest.raises(BadInput, match="second"):
        replace(DEVIATION, second_signature=second)


def test_a_deviation_takes_a_reason() -> None:
    with pytest.raises(BadInput, match="reason"):
        replace(DEVIATION, reason="ok")
