"""The second level of force a lobe is drawn at, inside what machine and caps bear."""

import math

from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.saying import kn
from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

MORE = 0.25  # -, by which the second force is larger; common practice, no source
SEEN = 0.05  # -, a smaller difference shows nothing
STEP = 50.0  # N


def cap_limit(cap: ElectrodeCap) -> float | None:
    """Return the most force a cap of its diameter bears.

    Parameters
    ----------
    cap : ElectrodeCap
        With the diameter of its body.

    Returns
    -------
    float or None
        Of the next smaller diameter in the table [N]; None: thinner than all of them.

    Sources
    -------
    iso-5821 (16 mm read in a quotation, the others from memory).
    """
    listed = table("caps_iso5821")
    bodies, forces = listed.column("cap_diameter [mm]"), listed.column("force_max [kN]")
    fits = [
        (float(body), float(force))
        for body, force in zip(bodies, forces, strict=True)
        if body <= cap.body_diameter * 1e3 + 1e-6
    ]
    return max(fits)[1] * 1e3 if fits else None


def second_force(
    set_up: SpotSetUp,
    machine: SpotMachine | None = None,
    arm_pair: str | None = None,
    wanted: float | None = None,
) -> tuple[float, str]:
    """Choose the second force of a lobe, and say why.

    Parameters
    ----------
    set_up : SpotSetUp
        With the first one.
    machine : SpotMachine, optional
        What it gives; left out, only the caps bound the force.
    arm_pair : str, optional
        The arms that are mounted.
    wanted : float, optional
        What somebody named [N]; it is taken as it is, and what it exceeds is said.

    Returns
    -------
    tuple of float and str
        The force [N] and the reason.

    Raises
    ------
    BadInput
        The force named is the set one, or there are no such arms.

    Sources
    -------
    iso-5821 (limits of caps); a quarter more: common practice, no source.
    """
    force = set_up.electrode_force
    bounds = [
        (limit, f"the {cap.body_diameter * 1e3:g} mm cap bears")
        for cap in (set_up.cap_a, set_up.cap_b)
        if (limit := cap_limit(cap)) is not None
    ]
    if machine is not None:
        bounds.append((machine.force_limit(arm_pair), f"{machine.name} gives"))
    most, who = min(bounds, default=(math.inf, ""))
    if wanted is not None:
        if abs(wanted - force) < 1e-3 * force:
            raise BadInput("--force", f"is {kn(wanted)} as set; name another one to compare with")
        over = f", more than {who}, {kn(most)}" if wanted > most * (1.0 + 1e-9) else ""
        return wanted, f"{kn(wanted)} as named{over}"
    more = round(force * (1.0 + MORE) / STEP) * STEP
    if more <= most * (1.0 + 1e-9):
        return more, f"{kn(more)}, a quarter more than set"
    capped = math.floor(most / STEP + 1e-9) * STEP
    if capped >= force * (1.0 + SEEN):
        return capped, f"{kn(capped)}, the most that {who}"
    less = round(force * (1.0 - MORE) / STEP) * STEP
    return less, f"{kn(less)}, a quarter less: {who} no more than {kn(most)}"
