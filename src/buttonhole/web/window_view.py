"""The window of a proposal as a drawing, with the set-up that is shown in it."""

from markupsafe import Markup

from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.view import JointView
from buttonhole.paper import figure
from buttonhole.paper.figure import Style, from_weld
from buttonhole.web.render import drawing
from buttonhole.web.screen import chosen_limits
from buttonhole.weld.spot.set_up import SpotSetUp


def window_of(view: JointView, set_up: SpotSetUp) -> Markup:
    """Draw the window that was found with the proposal.

    A set-up that differs in more than its current has another window: then nothing is drawn.
    """
    proposal = view.proposal
    if proposal is None or not _same_but_current(proposal.set_up, set_up):
        return Markup()
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    force = set_up.electrode_force
    setting = f"{main.time * 1e3:.0f} ms, {force / 1e3:.2f} kN"
    drawn = from_weld.drawn_window(
        proposal.window,
        chosen_limits(view.stack, criterion_of(view)),
        current=main.current,
        setting=setting,
    )
    return drawing(figure.window(drawn, style=Style(lettering=18.0)))


def _same_but_current(one: SpotSetUp, other: SpotSetUp) -> bool:
    def held(set_up: SpotSetUp) -> tuple[object, ...]:
        times = tuple((pulse.time, pulse.cool_time) for pulse in set_up.pulses)
        return (times, set_up.current_type, set_up.electrode_force, set_up.cap_a, set_up.cap_b)

    return held(one) == held(other)
