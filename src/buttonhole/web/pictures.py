"""The drawings of a page, from what the core says; drawn by paper.figure, to scale."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial

from markupsafe import Markup

from buttonhole.joint.stack_up import StackUp
from buttonhole.language import speech
from buttonhole.language.display import Display, display_now
from buttonhole.paper import figure
from buttonhole.paper.figure import DrawnLimit, Style, from_weld
from buttonhole.paper.figure.arc_back import DrawnBack, arc_back
from buttonhole.paper.figure.arc_joint import DrawnArcJoint, arc_joint
from buttonhole.paper.figure.arc_section import DrawnArcSection, arc_section
from buttonhole.paper.figure.hidden_fusion import DrawnHidden, hidden_fusion
from buttonhole.paper.figure.style import as_it_is
from buttonhole.web.render import drawing
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

Limits = tuple[tuple[DrawnLimit, ...], ...]  # for each faying interface from side A


@dataclass(frozen=True, slots=True)
class StackPictures:
    """The stack-up with its labels beside it, and below it for narrow screens."""

    wide: Markup
    narrow: Markup


@dataclass(frozen=True, slots=True)
class Lettered:
    """A drawing for tablets and larger, and with larger letters for a telephone."""

    large: Markup
    small: Markup

    def __bool__(self) -> bool:
        return bool(self.large)


NO_DRAWING = Lettered(Markup(), Markup())
LARGE, SMALL = 18.0, 27.0  # size of letters in a drawing for tablets, and for a telephone


def style_of(lettering: float) -> Style:
    """Letters of this size, in the language and units of who reads the page."""
    display = display_now()
    inch = display.units.length == "in"
    voice = speech(display)
    say = as_it_is if display.language == "en" else partial(voice.say_in, "drawing")
    return Style(lettering, "inch" if inch else "metric", ".", say)


def stack_pictures(stack: StackUp, limits: Limits, set_up: SpotSetUp | None) -> StackPictures:
    """Draw a stack-up, with its caps as soon as there is a set-up."""
    return drawn_pictures(from_weld.drawn_stack(stack, set_up, limits))


def drawn_pictures(drawn: figure.DrawnStack) -> StackPictures:
    """Draw a stack-up that is ready to be drawn."""
    return StackPictures(
        wide=drawing(figure.stack(drawn, style=style_of(19.0))),
        narrow=drawing(figure.stack(drawn, style=style_of(21.0), wide=False)),
    )


def arc_joint_pictures(drawn: DrawnArcJoint) -> StackPictures:
    """Draw the joint of an arc weld before it is welded."""
    return StackPictures(
        wide=drawing(arc_joint(drawn, style=style_of(19.0))),
        narrow=drawing(arc_joint(drawn, style=style_of(23.0))),
    )


def arc_section_picture(drawn: DrawnArcSection) -> Lettered:
    """Draw the predicted section of an arc weld."""
    return Lettered(
        drawing(arc_section(drawn, style=style_of(15.0), wide=False)),
        drawing(arc_section(drawn, style=style_of(SMALL), wide=False)),
    )


def arc_back_picture(drawn: DrawnBack) -> Lettered:
    """Draw what is seen on the back of the plate."""
    sizes = (16.0, 27.0)
    return Lettered(*(drawing(arc_back(drawn, style=style_of(one))) for one in sizes))


def hidden_picture(drawn: DrawnHidden, joint: DrawnArcJoint) -> Lettered:
    """Draw how surely a plug is fused, under its hole."""
    return Lettered(
        *(drawing(hidden_fusion(drawn, joint, style=style_of(one))) for one in (LARGE, SMALL))
    )


def section_picture(weld: SpotWeld, stack: StackUp, limits: Limits) -> Lettered:
    """Draw the predicted cross-section."""
    drawn = from_weld.drawn_section(weld, stack, limits)
    return Lettered(
        drawing(figure.section(drawn, style=style_of(LARGE))),
        drawing(figure.section(drawn, style=style_of(SMALL), wide=False)),
    )


def growth_picture(weld: SpotWeld, limits: Limits) -> Lettered:
    """Draw how the nugget grows while the current flows."""
    drawn = from_weld.drawn_growth(weld, limits)
    return Lettered(*(drawing(figure.growth(drawn, style=style_of(one))) for one in (LARGE, SMALL)))


def cycle_picture(weld: SpotWeld, stack: StackUp) -> Lettered:
    """Draw temperature against time at the centres of the interfaces and at points asked for."""
    drawn = from_weld.drawn_cycle(weld, stack)
    return Lettered(*(drawing(figure.cycle(drawn, style=style_of(one))) for one in (LARGE, SMALL)))


def window_picture(drawn: figure.DrawnWindow) -> Lettered:
    """Draw the window of a set-up."""
    return Lettered(*(drawing(figure.window(drawn, style=style_of(one))) for one in (LARGE, SMALL)))


def margin_picture(drawn: figure.DrawnMargin) -> Markup:
    """Draw a reading against its limit."""
    return drawing(figure.margin(drawn, style=style_of(20.0)))


def hundred_picture(drawn: figure.DrawnHundred) -> Lettered:
    """Draw a hundred welds as they are expected."""
    return Lettered(
        *(drawing(figure.hundred(drawn, style=style_of(one))) for one in (LARGE, SMALL))
    )


def torn_picture(mode: str, *, notes: bool = True) -> Markup:
    """Draw a torn weld of this fracture mode, with what to measure in words."""
    return _torn(mode, notes, display_now())


@lru_cache(maxsize=100)
def _torn(mode: str, notes: bool, _display: Display) -> Markup:
    """It does not depend on anybody's weld: each is drawn once for each language."""
    if notes:
        return at_both_sizes(lambda style: figure.torn(mode, style=style))
    return drawing(figure.torn(mode, style=style_of(26.0), notes=False))


def at_both_sizes(draw: Callable[[Style], str]) -> Markup:
    """Draw twice: for tablets and larger, and with larger letters for a telephone."""
    large, small = (drawing(draw(style_of(one))) for one in (LARGE, SMALL))
    return Markup('<div class="large">{}</div><div class="small-screen">{}</div>').format(
        large, small
    )


def test_picture(kind: str) -> Markup:
    """Draw how a test is made; nothing when it is made in a laboratory only."""
    if kind not in figure.HOW_TO:
        return Markup()
    return drawing(figure.how_to(kind, style=style_of(22.0), notes=False))


def twist_picture(brittle_below: float) -> Markup:
    """Draw where the angle of twist is read [deg]."""
    return at_both_sizes(lambda style: figure.twist_angle(brittle_below, style=style))


def cap_words(cap: ElectrodeCap) -> str:
    """Say which cap it is."""
    parts = []
    if cap.face_diameter is not None:
        parts.append(f"face {cap.face_diameter * 1e3:.1f} mm")
    if cap.radius is not None:
        parts.append(f"radius {cap.radius * 1e3:.0f} mm")
    return ", ".join(parts)
