"""What to mind about a predicted weld, in words. Numbers without a source are common practice."""

import numpy as np

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.weld.spot.expulsion import interface_expulsion, surface_expulsion
from buttonhole.weld.spot.result import InterfaceWeld
from buttonhole.weld.spot.simulation import AFTER_HOLD, Simulation
from buttonhole.weld.spot.timing import HoldEffect

WORTH_SAYING = 0.10  # -, chance of expulsion; common practice, no source


def weld_warnings(
    best: Simulation, stack: StackUp, interfaces: tuple[InterfaceWeld, ...], hold: HoldEffect
) -> tuple[str, ...]:
    """Say what to mind.

    Parameters
    ----------
    best : Simulation
        What was marched.
    stack : StackUp
        The sheets.
    interfaces : tuple of InterfaceWeld
        What came of it.
    hold : HoldEffect
        What the hold does.

    Returns
    -------
    tuple of str
        One sentence or two each, cautions about the sheets first.
    """
    said = [caution.text for caution in cautions(stack)]
    for index, nugget in enumerate(best.nugget):
        if nugget > 0.0:
            said += _ring(interfaces[index])
        else:
            said.append(f"Interface {index + 1}: nothing melts; more current or time is needed.")
            said += _stuck(interfaces[index])
    said += _thrown(best, stack, interfaces)
    if best.boils:
        said.append(
            "Metal comes to its boiling point: expect it to splash. These figures are of a weld "
            "nobody makes; give less current, less time or more force."
        )
    if np.isnan(best.cooling_t85).all():
        said.append("No faying interface comes to 800 °C: there is no cooling time to tell.")
    elif np.isinf(best.cooling_t85).any():
        said.append(
            f"The weld is still over 500 °C {AFTER_HOLD:g} s after the hold: cooling takes longer "
            "than this says."
        )
    outer = (stack.sheets[0].thickness, stack.sheets[-1].thickness)
    for side, sunk, thickness in zip("AB", best.sunk, outer, strict=True):
        if sunk > 0.25 * thickness:
            said.append(
                f"Side {side}: the cap is predicted to sink {100 * sunk / thickness:.0f} % into "
                "the sheet; a larger face or a shorter time dents less."
            )
    said += _not_solid(interfaces, hold)
    return tuple(said)


def _thrown(best: Simulation, stack: StackUp, interfaces: tuple[InterfaceWeld, ...]) -> list[str]:
    """Where metal may fly, how likely, and what would be left."""
    said = []
    for one, load in zip(interfaces, best.load, strict=True):
        chance = interface_expulsion(float(load))
        if chance >= WORTH_SAYING:
            left = one.after_expulsion
            said.append(
                f"Interface {one.index + 1}: metal may fly between the sheets (chance "
                f"{100 * chance:.0f} %); about {left.value * 1e3:.1f} mm of nugget would be left. "
                "Less current or more force keeps it in."
            )
    for side, skin, sheet in zip("AB", best.skin, (stack.sheets[0], stack.sheets[-1]), strict=True):
        chance = surface_expulsion(float(skin), curves(sheet.steel).liquidus)
        if chance >= WORTH_SAYING:
            said.append(
                f"Side {side}: the melt comes near the face under the cap (chance of spitting "
                f"{100 * chance:.0f} %); less current, a larger face or more cooling keeps it in."
            )
    return said


def _ring(weld: InterfaceWeld) -> list[str]:
    """A ring start: the melt that stayed a ring, and the one whose centre melted later."""
    here = f"Interface {weld.index + 1}: "
    if weld.ring:
        return [
            f"{here}the melt is a ring, its centre stayed solid; "
            "more time or less current starts it in the middle."
        ]
    found = weld.melting
    if found is None or not found.began_as_ring or not (found.began and found.centre_melted):
        return []
    return [
        f"{here}the melt begins as a ring at {found.began.value * 1e3:.0f} ms and its centre melts "
        f"at {found.centre_melted.value * 1e3:.0f} ms; a shorter weld leaves the centre solid."
    ]


def _stuck(weld: InterfaceWeld) -> list[str]:
    if weld.corona is None or weld.corona.outer_diameter.value <= 0.0:
        return []
    return [
        f"Interface {weld.index + 1}: the faces may stick over "
        f"{weld.corona.outer_diameter.value * 1e3:.1f} mm without melting; a stuck weld is no weld."
    ]


def _not_solid(interfaces: tuple[InterfaceWeld, ...], hold: HoldEffect) -> list[str]:
    if hold.solid_before_release:
        return []
    times = [one.melting.solid_after for one in interfaces if one.melting is not None]
    longest = max((one.high for one in times if one is not None), default=None)
    if longest is None:
        return ["The nugget may still be molten when the caps open; hold longer."]
    return [
        "The nugget may still be molten when the caps open; hold at least "
        f"{_up_to_ten(longest * 1e3):.0f} ms."
    ]


def _up_to_ten(value: float) -> float:
    return 10.0 * float(np.ceil(value / 10.0))
