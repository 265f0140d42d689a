"""What the pages of an arc weld show: its joint to scale, dangers, steps, what comes next."""

from functools import lru_cache

from buttonhole.desk.arc_view import ArcKind, ArcView, Keys
from buttonhole.desk.view import JointView, State
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile, arc_weld_file_from
from buttonhole.joint.stack_up import Caution
from buttonhole.language import Display
from buttonhole.language.display import display_now
from buttonhole.paper.figure.arc_joint import DrawnArcJoint
from buttonhole.paper.figure.stack import DrawnSheet
from buttonhole.web.pictures import StackPictures, arc_joint_pictures
from buttonhole.web.shown import Next, Step, marked_steps
from buttonhole.weld.arc.dangers import dangers
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.seam.joint import JointKind

ArcWeldFile = PlugWeldFile | SeamWeldFile


def drawn_arc_joint(keys: Keys) -> DrawnArcJoint:
    """Say what the drawing of a joint before welding shows."""
    weld = arc_weld_file_from(keys)
    torch = f"wire {weld.set_up.wire.designation}, gas {weld.set_up.gas.group}"
    named = [
        (str(one.get("steel") or one.get("alloy")), str(one.get("coating", "")))
        for one in keys["sheet"]
    ]
    if isinstance(weld, PlugWeldFile):
        joint = weld.joint
        pairs = zip(joint.thicknesses, named, strict=True)
        led = {"spiral": "from the middle out", "centre": "in the middle", "rim": "along the rim"}
        return DrawnArcJoint(
            "plug",
            tuple(DrawnSheet(thickness, *words) for thickness, words in pairs),
            joint.hole_diameters,
            joint.stack.gap,
            torch=f"{torch}, led {led[joint.path.value]}",
        )
    seam, lap = weld.joint, weld.joint.kind is JointKind.LAP
    listed = (seam.upper, seam.lower) if lap else (seam.upper, seam.right or seam.upper, seam.lower)
    if not lap and len(named) == 2:  # both edges are of one sheet
        named.insert(0, named[0])
    edges = zip(listed, named, strict=True)
    return DrawnArcJoint(
        kind=seam.kind.value,
        sheets=tuple(DrawnSheet(one.thickness, *words) for one, words in edges),
        gap=seam.gap if lap else seam.root_opening,
        work_angle=weld.set_up.work_angle,
        aim_offset=weld.set_up.aim_offset,
        length=seam.length,
        torch=torch,
    )


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
