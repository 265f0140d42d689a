"""The window of a proposal as a drawing."""

from markupsafe import Markup

from buttonhole.desk.view import JointView
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp


def window_of(view: JointView, set_up: SpotSetUp, weld: SpotWeld) -> Markup:
    """Draw the window that was found with the proposal."""
    return Markup()
