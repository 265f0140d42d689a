"""What every screen of a joint shows: where it stands, what comes next, its drawing."""

from collections.abc import Sequence
from functools import lru_cache

from buttonhole.coupon.criterion import Criterion, find_criterion, minimum_diameter
from buttonhole.desk.arc_view import ArcView
from buttonhole.desk.desk import Desk
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.view import CouponView, JointView, State
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.language import Display
from buttonhole.language.display import display_now
from buttonhole.paper.figure import DrawnLimit
from buttonhole.web.arc_screen import arc_cautions, arc_next, arc_pictures, arc_steps, arc_words
from buttonhole.web.pictures import Limits, StackPictures, stack_pictures
from buttonhole.web.shown import CouponCard, JointCard, LimitRow, Next, Screen, Step, marked_steps

# Shown beside the criterion in use: the conventional size, and the aim when a set-up is made.
SPOT_STEPS = frozenset({"Set-up", "Coupon", "Verdict", "Release"})
WELDED_NEXT = {
    State.WELDED: (
        "All welds are made",
        "Keep the fire watch. Look at every weld from both sides before it is covered.",
        "Check the welds",
        "check",
    ),
    State.VERIFIED: (
        "The welds are checked",
        "Protect them from behind, then close the joint.",
        "Close the joint",
        "close",
    ),
    State.CLOSED: ("Closed", "Nothing is left to do at this joint.", "Look at its welds", "weld"),
}
SHOWN_RULES = (("4√t", "4-root-t"), ("5√t", "5-root-t"))


def joint_screen(desk: Desk, joint_id: str, at: str = "", *, by_arc: bool = False) -> Screen:
    """Read a joint for a page; ``at`` names the step the page belongs to.

    Raises
    ------
    BadInput
        When the joint is welded by an arc and the step is one of spot welds; pages of an arc say
        that they are (``by_arc``).
    """
    view = read_joint(desk, joint_id)
    job = read_job(desk, view.job_id)
    job_name = f"{job.title} · {job.vehicle}"
    if view.arc is not None and (by_arc or at not in SPOT_STEPS):
        return _arc_screen(view, view.arc, job_name, at)
    rules = (*(find_criterion(key) for _, key in SHOWN_RULES), criterion_of(view))
    rules = tuple(sorted(dict.fromkeys(rules), key=lambda one: one.factor or 0.0))
    return Screen(
        view=view,
        job_name=job_name,
        steps=steps_of(view, at),
        next=next_of(view),
        pictures=pictures_of(view),
        cautions=cautions(view.stack),
        rules=rules,
        in_use=criterion_of(view),
        limits=tuple(
            LimitRow(
                between(face.index),
                tuple(minimum_diameter(rule, view.stack, face) for rule in rules),
            )
            for face in view.stack.interfaces
        ),
        coupons=tuple(coupon_card(view, one) for one in reversed(view.coupons)),
    )


def _arc_screen(view: JointView, arc: ArcView, job_name: str, at: str) -> Screen:
    """A joint that is welded by an arc: its own drawing, steps, dangers; no rule for a button."""
    return Screen(
        view=view,
        job_name=job_name,
        steps=arc_steps(view, arc, at),
        next=_next_of_arc(view, arc),
        pictures=arc_pictures(arc.chosen),
        cautions=arc_cautions(arc.weld),
        rules=(),
        in_use=None,
        limits=(),
        coupons=tuple(coupon_card(view, one) for one in reversed(view.coupons)),
    )


def drawn_limits(stack: StackUp) -> Limits:
    """The two well-known least diameters of each interface, for drawings."""
    return tuple(
        tuple(
            DrawnLimit(minimum_diameter(find_criterion(key), stack, face), name)
            for name, key in SHOWN_RULES
        )
        for face in stack.interfaces
    )


def chosen_limits(stack: StackUp, criterion: Criterion) -> Limits:
    """The least diameter of each interface by the criterion in use, for drawings."""
    name = short_name(criterion)
    return tuple(
        (DrawnLimit(minimum_diameter(criterion, stack, face), name),) for face in stack.interfaces
    )


def short_name(criterion: Criterion) -> str:
    """A rule in as few letters as a drawing has room for."""
    if criterion.factor is not None:
        return f"{criterion.factor:g}√t"
    return criterion.name


def pictures_of(view: JointView) -> StackPictures:
    """Draw the stack-up of a joint with its limits and, as soon as there is one, its set-up."""
    chosen = view.set_up or view.proposal
    return _drawn(view.stack, chosen.set_up if chosen else None, display_now())


@lru_cache(maxsize=200)
def _drawn(stack: StackUp, set_up: object, display: Display) -> StackPictures:
    del display  # it only keeps one reader's drawing from another
    return stack_pictures(stack, drawn_limits(stack), set_up)  # type: ignore[arg-type] # hashable


def between(index: int) -> str:
    """Name a faying interface by the sheets that meet, counted from side A."""
    return f"Sheet {index + 1} to {index + 2}"


def stack_words(stack: StackUp) -> str:
    """Say a stack-up in one line."""
    return " / ".join(f"{one.thickness * 1e3:g} {one.steel.designation}" for one in stack.sheets)


def joint_card(view: JointView) -> JointCard:
    """Show a joint in a list."""
    tones = dict.fromkeys((State.RELEASED, State.VERIFIED, State.CLOSED), "yes")
    tones |= {State.EXPIRED: "no", State.WELDED: "wait"}
    last = view.coupons[-1] if view.coupons else None
    state = view.state.value.capitalize()
    tone = tones.get(view.state, "")
    if view.state is State.JUDGED and last is not None:
        card = coupon_card(view, last)
        state, tone = f"Coupon {last.number}: {card.state}", card.tone
    about = stack_words(view.stack) if view.arc is None else arc_words(view.arc)
    return JointCard(view.name, about, tone, state, f"/joints/{view.id}")


def coupon_card(view: JointView, coupon: CouponView) -> CouponCard:
    """Show a coupon in a list."""
    href = f"/joints/{view.id}/coupons/{coupon.id}"
    about = f"welded by {coupon.welded_by}"
    if coupon.welds_since_dress is not None:
        about += f", {coupon.welds_since_dress} welds since dressing"
    if not coupon.is_judged:
        return CouponCard(f"Coupon {coupon.number}", about, "wait", "To be torn", f"{href}/tear")
    if coupon.accepted:
        return CouponCard(f"Coupon {coupon.number}", about, "yes", "Accepted", href)
    return CouponCard(f"Coupon {coupon.number}", about, "no", "Not accepted", href)


def next_of(view: JointView) -> Next:
    """The one step that comes next."""
    here = f"/joints/{view.id}"
    if view.state in WELDED_NEXT:
        question, why, words, page = WELDED_NEXT[view.state]
        return Next(question, why, words, f"{here}/{page}")
    first = _procedure_first(view, "spot weld")
    if first is not None:
        return first
    if view.set_up is None and view.proposal is None:
        return Next(
            "Which gun welds it?",
            "The program looks for a set-up that this gun can give.",
            "Find a set-up",
            f"{here}/machine",
        )
    if view.set_up is None:
        return Next(
            "A set-up is proposed",
            "Look at its window, then take it or set your own.",
            "Look at the set-up",
            f"{here}/set-up",
        )
    return _released(here) if view.release is not None else _next_coupon(view, here)


def _next_of_arc(view: JointView, arc: ArcView) -> Next:
    """The one step that comes next at a joint that is welded by an arc."""
    here = f"/joints/{view.id}"
    if view.state in WELDED_NEXT:
        question, why, words, page = WELDED_NEXT[view.state]
        return Next(question, why, words, f"{here}/{page}")
    first = _procedure_first(view, arc.kind.words.lower())
    if first is not None:
        return first
    if arc.set_up is None:
        return arc_next(view)
    return _released(here) if view.release is not None else _next_coupon(view, here)


def _released(here: str) -> Next:
    return Next(
        "Released",
        "The card goes to the gun. The release ends by itself.",
        "Weld on the vehicle",
        f"{here}/weld",
    )


def _procedure_first(view: JointView, weld: str) -> Next | None:
    """The maker's procedure, where it is missing or forbids the weld."""
    here = f"/joints/{view.id}"
    if view.procedure is None:
        return Next(
            "What does the vehicle maker say?",
            "The maker's procedure decides. Nothing is released without it.",
            "Give the procedure",
            f"{here}/procedure",
        )
    if view.is_forbidden:
        named = getattr(view.procedure.authority, "method", "")
        return Next(
            "The maker names another way here" if named else f"The maker forbids a {weld} here",
            "Join it as the page says. Only a deviation that two people sign goes another way.",
            "Look at the procedure",
            f"{here}/procedure",
        )
    return None


def _next_coupon(view: JointView, here: str) -> Next:
    last = view.coupons[-1] if view.coupons else None
    used = {name for one in view.releases for name in one.coupon_ids}
    if last is not None and not last.is_judged:
        return Next(
            f"Tear coupon {last.number}",
            "Let it cool. Visor and gloves on. One question at a time.",
            "Tear and read it",
            f"{here}/coupons/{last.id}/compare",
        )
    fresh = last is not None and last.made_with == view.made_with and last.id not in used
    dressed = bool(view.tips_dressed) and last is not None
    dressed = dressed and view.tips_dressed[-1].at > last.welded_at if last else False
    if last is None or not fresh or dressed:
        return Next(
            "Weld a coupon",
            "Only a torn coupon shows whether the set-up holds.",
            "Weld a coupon",
            f"{here}/coupon",
        )
    if last.accepted:
        return Next(
            "Is that enough for a release?",
            f"Coupon {last.number} is accepted. The program weighs all coupons of this set-up, the "
            "machine's past and the physics.",
            "See whether it is enough",
            f"{here}/release",
        )
    return Next(
        f"Coupon {last.number} was not accepted",
        "See why, put it right, weld the next one.",
        "See why",
        f"{here}/coupons/{last.id}",
    )


def steps_of(view: JointView, at: str) -> tuple[Step, ...]:
    """The steps of a joint, each done, here, or to come."""
    here = f"/joints/{view.id}"
    last = view.coupons[-1] if view.coupons else None
    coupon = f"{here}/coupons/{last.id}" if last else ""
    found: Sequence[tuple[str, bool, str]] = (
        ("Sheets", True, f"{here}/sheets"),
        ("Method", view.procedure is not None, f"{here}/method"),
        ("Set-up", view.set_up is not None, f"{here}/set-up" if view.procedure else ""),
        ("Coupon", last is not None, f"{here}/coupon" if view.set_up else ""),
        ("Verdict", last is not None and last.is_judged, coupon if last else ""),
        ("Release", view.release is not None, f"{here}/release" if view.set_up else ""),
        ("Weld", view.state in WELDED_NEXT, f"{here}/weld" if view.releases else ""),
    )
    return marked_steps(found, at)
