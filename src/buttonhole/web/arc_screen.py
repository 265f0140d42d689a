"""What the pages of an arc weld show: its joint to scale, dangers, steps, what comes next."""

from functools import lru_cache

from buttonhole.desk.arc_view import ArcKind, ArcView, Keys
from buttonhole.desk.drawn_arc import drawn_arc_joint
from buttonhole.desk.view import JointView, State
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
from buttonhole.joint.stack_up import Caution
from buttonhole.language import Display
from buttonhole.language.display import display_now
from buttonhole.paper.figure.arc_joint import DrawnArcJoint
from buttonhole.web.pictures import StackPictures, arc_joint_pictures
from buttonhole.web.shown import Next, Step, marked_steps
from buttonhole.weld.arc.dangers import dangers
from buttonhole.weld.arc.machine_map import operating_point

ArcWeldFile = PlugWeldFile | SeamWeldFile


@lru_cache(maxsize=200)
def _pictures(drawn: DrawnArcJoint, display: Display) -> StackPictures:
    del display  # it only keeps one reader's drawing from another
    return arc_joint_pictures(drawn)


def arc_pictures(keys: Keys) -> StackPictures:
    """Draw the joint before it is welded, to scale."""
    return _pictures(drawn_arc_joint(keys), display_now())


def arc_cautions(weld: ArcWeldFile) -> tuple[Caution, ...]:
    """What can hurt people or the vehicle when this arc is struck."""
    if isinstance(weld, PlugWeldFile):
        coatings = tuple(one.coating for one in weld.joint.stack.sheets)
    else:
        coatings = weld.coatings
    return dangers(coatings, operating_point(weld.set_up).current.value)


def arc_words(arc: ArcView) -> str:
    """Say an arc weld in one line."""
    sheets = " / ".join(
        f"{one['thickness'].removesuffix(' mm')} {one.get('steel') or one.get('alloy')}"
        for one in arc.keys["sheet"]
    )
    return f"{arc.kind.words}: {sheets}"


def arc_steps(view: JointView, arc: ArcView, at: str) -> tuple[Step, ...]:
    """The steps of a joint that is welded by an arc."""
    here = f"/joints/{view.id}"
    found = [
        ("Joint", True, f"{here}/sheets"),
        ("Method", view.procedure is not None, f"{here}/method"),
        ("Set-up", arc.set_up is not None, f"{here}/arc"),
    ]
    if arc.kind is not ArcKind.BRAZE:  # nothing is fused inside a brazed seam
        found.append(("Look inside", bool(arc.looks), f"{here}/arc/inside"))
    last = view.coupons[-1] if view.coupons else None
    set_up = arc.set_up is not None
    judged = last is not None and last.is_judged
    found += [
        ("Coupon", last is not None, f"{here}/coupon" if set_up else ""),
        ("Verdict", judged, f"{here}/coupons/{last.id}" if last else ""),
        ("Release", view.release is not None, f"{here}/release" if set_up else ""),
    ]
    if view.releases:  # a flange has no room for a step that is far off
        welded = view.state in (State.WELDED, State.VERIFIED, State.CLOSED)
        found.append(("Weld", welded, f"{here}/weld"))
    return marked_steps(found, at)


def arc_next(view: JointView) -> Next:
    """The one way on while no set-up is accepted."""
    return Next(
        "What is set on the machine?",
        "Look at the predicted section, try other settings, then take them.",
        "Look at the set-up",
        f"/joints/{view.id}/arc",
    )
