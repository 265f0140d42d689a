"""The window of a proposal as a drawing, with the set-up that is shown in it."""

from dataclasses import replace

import numpy as np

from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.view import JointView
from buttonhole.paper.figure import from_weld
from buttonhole.web.pictures import NO_DRAWING, Lettered, window_picture
from buttonhole.web.screen import chosen_limits
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp

SAME_TIME = 1e-3  # s; a set weld time is rounded to milliseconds


def window_of(view: JointView, set_up: SpotSetUp, weld: SpotWeld) -> Lettered:
    """Draw the window that was found with the proposal, at the weld time that is set.

    A set-up that differs in more than its current has another window: then nothing is drawn.
    The chosen point is the predicted weld itself, not read off between the points of the curve.
    """
    proposal = view.proposal
    if proposal is None or not _same_but_current(proposal.set_up, set_up):
        return NO_DRAWING
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    order = int(np.argmin(np.abs(proposal.window.times - main.time)))
    if abs(float(proposal.window.times[order]) - main.time) > SAME_TIME:
        return NO_DRAWING
    force = set_up.electrode_force
    drawn = from_weld.drawn_window(
        proposal.window,
        chosen_limits(view.stack, criterion_of(view)),
        order=order,
        current=main.current,
        setting=f"{main.time * 1e3:.0f} ms, {force / 1e3:.2f} kN",
    )
    if drawn.chosen_current is not None:
        found = tuple(one.nugget_diameter.value for one in weld.interfaces)
        drawn = replace(drawn, chosen_diameters=found)
    return window_picture(drawn)


def _same_but_current(one: SpotSetUp, other: SpotSetUp) -> bool:
    def held(set_up: SpotSetUp) -> tuple[object, ...]:
        times = tuple((pulse.time, pulse.cool_time) for pulse in set_up.pulses)
        return (times, set_up.current_type, set_up.electrode_force, set_up.cap_a, set_up.cap_b)

    return held(one) == held(other)
