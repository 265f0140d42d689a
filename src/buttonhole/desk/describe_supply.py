"""Say what an outlet or an extension lead is, so that the drop of its voltage can be told."""

import re
from dataclasses import dataclass

from buttonhole.coupon.difference import Surroundings
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.saving import append
from buttonhole.desk.written import read
from buttonhole.procedure.supply import USUAL_CURRENT, USUAL_VOLTAGE, Supply
from buttonhole.units import BadInput

SUPPLY_DESCRIBED = "supply_described"
_IN_WORDS = re.compile(
    r"(\d+(?:[.,]\d+)?)\s*m\b[^0-9]*?(\d+(?:[.,]\d+)?)\s*(?:mm2|mm²|mm\^2|sq\.?\s*mm)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class DescribeSupply:
    """An outlet or lead by the name that is written on it, and what is known of it.

    `length` [m], `cross_section` [m2], `measured_drop` [-]; `current` [A] of the gun, `voltage`
    [V].
    """

    name: str
    length: float | None = None
    cross_section: float | None = None
    measured_drop: float | None = None
    current: float = USUAL_CURRENT
    voltage: float = USUAL_VOLTAGE


def describe_supply(desk: Desk, command: DescribeSupply) -> Supply:
    """
    Write down what an outlet or lead is. Described anew, the last description counts.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : DescribeSupply
        What is known.

    Returns
    -------
    Supply
        With its drop.

    Raises
    ------
    BadInput
        When nothing is known of it, or a value is none.
    """
    found = Supply(
        text("name", command.name),
        command.length,
        command.cross_section,
        command.measured_drop,
        command.current,
        command.voltage,
    )
    draft = desk.draft(SUPPLY_DESCRIBED, [f"supply/{_plain(found.name)}"], {"supply": found})
    append(desk, [draft], {})
    return found


def supply_of(desk: Desk, name: str) -> Supply | None:
    """
    Tell what is known of an outlet or lead.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    name : str
        As it stands on the coupon or the joint; ``25 m 2.5 mm2`` says it by itself.

    Returns
    -------
    Supply or None
        None when nobody described it.
    """
    if not name.strip():
        return None
    told = desk.store.events(f"supply/{_plain(name)}")
    if told:
        return read(Supply, told[-1].payload["supply"])
    found = _IN_WORDS.search(name)
    if found is None:
        return None
    length, square = (float(one.replace(",", ".")) for one in found.groups())
    try:
        return Supply(name, length, square * 1e-6)
    except BadInput:  # digits that are no lead
        return None


def supply_drop(desk: Desk, at: Surroundings) -> float | None:
    """
    Tell how much of the voltage is lost on the way to the gun.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    at : Surroundings
        Outlet and lead.

    Returns
    -------
    float or None
        Share that is lost, outlet and lead together [-]; None when neither is known.
    """
    known = [one for one in (supply_of(desk, at.outlet), supply_of(desk, at.lead)) if one]
    return sum(one.drop for one in known) if known else None


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
