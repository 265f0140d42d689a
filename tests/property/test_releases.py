"""Whatever is put in: no release without the maker's word or two signatures, and coupons."""

from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from buttonhole.coupon.criterion import find_criterion
from buttonhole.coupon.difference import Difference, Level
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import judge
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.authority import Deviation, MakerProcedure
from buttonhole.procedure.release import ReleaseRefused, TestedCoupon, ended, release
from buttonhole.procedure.validity import EndCondition, Happening
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
CAP = ElectrodeCap(face_diameter=6e-3)
SET_UP = SpotSetUp((Pulse(9.0e3, 0.24),), CurrentType.MFDC, 3.0e3, CAP, CAP, 0.3, 0.2)
OTHER = SpotSetUp((Pulse(9.5e3, 0.24),), CurrentType.MFDC, 3.0e3, CAP, CAP, 0.3, 0.2)
STACKS = [
    StackUp(tuple(Sheet(find_steel(name), t * 1e-3) for name, t in sheets))
    for sheets in (
        (("DC04", 0.8), ("DC04", 0.8)),
        (("DC04", 0.7), ("DP600", 1.2), ("22MnB5", 1.6)),
        (("unknown", 1.0), ("DC04", 1.0)),
    )
]
AUTHORITIES = [
    None,
    MakerProcedure("manual 4", "2025", date(2026, 3, 1), "T. Veld", "14 spots"),
    MakerProcedure("manual 4", "2025", date(2026, 3, 1), "T. Veld", "no spots", permits=False),
    Deviation("the maker has no text", "Ines Okoro", "Joan Estrel"),
]
RED = Difference("lead", "L25", "L10", Level.RED)


@st.composite
def coupons(draw: st.DrawFn) -> TestedCoupon:
    on = draw(st.sampled_from(STACKS))
    verdicts = tuple(
        judge(
            Reading(
                face.index,
                draw(st.sampled_from(TestKind)),
                draw(st.sampled_from(FractureMode)),
                d := draw(st.floats(0.0, 9e-3)),
                d,
                expulsion=draw(st.booleans()),
            ),
            find_criterion("4-root-t"),
            on,
        )
        for face in on.interfaces
        if draw(st.integers(0, 9))
    )
    return TestedCoupon(
        key="C",
        sequence=draw(st.integers(1, 6)),
        stack=on,
        set_up=draw(st.sampled_from([SET_UP, SET_UP, OTHER])),
        verdicts=verdicts,
        differences=draw(st.sampled_from([(), (), (RED,)])),
        expulsion=draw(st.booleans()),
    )


@given(
    on=st.sampled_from(STACKS),
    authority=st.sampled_from(AUTHORITIES),
    torn=st.lists(coupons(), max_size=4),
    last_change=st.integers(0, 4),
)
def test_never_without_authority_and_coupons(
    on: StackUp,
    authority: MakerProcedure | Deviation | None,
    torn: list[TestedCoupon],
    last_change: int,
) -> None:
    try:
        given_out = release(
            SET_UP,
            on,
            machine="Gun A",
            authority=authority,
            coupons=torn,
            last_change=last_change,
            now=NOW,
            released_by="Ines Okoro",
        )
    except ReleaseRefused:
        return
    assert authority is not None
    assert getattr(authority, "permits", True)
    assert not on.has_unknown
    # what is not the joint neither counts for it nor stands against it
    since = [c for c in torn if c.sequence > last_change and c.set_up == SET_UP]
    series = [c for c in since if not c.differences]
    assert sorted(given_out.coupons) == sorted(c.key for c in series)
    assert not any(c.expulsion for c in series)
    for face in on.interfaces:
        found = [v.outcome for c in series for v in c.verdicts if v.interface == face.index]
        assert any(each.accepted for each in found)
        assert "reject" not in found


@given(
    minutes=st.integers(0, 600),
    welds=st.integers(0, 200),
    conditions=st.lists(st.sampled_from(EndCondition), max_size=2),
)
def test_a_release_once_ended_stays_ended(
    minutes: int, welds: int, conditions: list[EndCondition]
) -> None:
    on = STACKS[0]
    reading = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 6e-3, 6e-3)
    verdict = judge(reading, find_criterion("4-root-t"), on)
    given = release(
        SET_UP,
        on,
        machine="Gun A",
        authority=AUTHORITIES[1],
        coupons=[TestedCoupon("C1", 1, on, SET_UP, (verdict,))],
        last_change=0,
        now=NOW,
        released_by="Ines Okoro",
    )
    happenings = [Happening(each, NOW + timedelta(minutes=30)) for each in conditions]
    at = NOW + timedelta(minutes=minutes)
    found = ended(given, at, happenings, welds)
    over = minutes >= 240 or welds >= 100 or (bool(conditions) and minutes >= 30)
    assert bool(found) == over
    if found:
        assert ended(given, at + timedelta(minutes=1), happenings, welds + 1)
