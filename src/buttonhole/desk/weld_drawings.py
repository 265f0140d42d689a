"""The drawings of a predicted weld, as files: its section and its thermal cycles."""

from buttonhole.coupon.criterion import Criterion, minimum_diameter
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper import figure
from buttonhole.paper.figure import from_weld
from buttonhole.weld.spot.result import SpotWeld


def section_drawing(weld: SpotWeld, stack: StackUp, criterion: Criterion) -> str:
    """Draw the predicted cross-section with its zones.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        The sheets it was made for.
    criterion : Criterion
        Whose least diameters are named.

    Returns
    -------
    str
        SVG text.
    """
    limits = tuple(
        (figure.DrawnLimit(minimum_diameter(criterion, stack, one), criterion.name),)
        for one in stack.interfaces
    )
    return figure.section(from_weld.drawn_section(weld, stack, limits))


def cycle_drawing(weld: SpotWeld, stack: StackUp) -> str:
    """Draw the thermal cycles at the centres of the interfaces and at the points asked for.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        The sheets it was made for.

    Returns
    -------
    str
        SVG text.
    """
    return figure.cycle(from_weld.drawn_cycle(weld, stack))
