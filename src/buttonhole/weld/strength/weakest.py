"""The weakest link of a joint, over all processes it is welded by."""

from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.units import BadInput
from buttonhole.weld.arc.strength import Holding, Link, Pull
from buttonhole.weld.estimate import Estimate


@dataclass(frozen=True, slots=True)
class Part:
    """One weld of a joint: what it is called, its process, and what it holds.

    ``length`` [m]: of a seam, whose loads are per length; None for a spot or a plug.
    """

    name: str
    process: str
    holdings: tuple[Holding, ...]
    length: float | None = None  # m

    def load(self, holding: Holding) -> Estimate:
        """What the whole weld holds one way [N], of a twist [N m]."""
        times = 1.0 if self.length is None else self.length
        found = holding.load
        return Estimate(found.value * times, found.low * times, found.high * times)


@dataclass(frozen=True, slots=True)
class WeakestLink:
    """Where a joint gives way first: ``load`` of that weld [N], of a twist [N m]."""

    name: str
    process: str
    interface: int
    pull: Pull
    link: Link
    load: Estimate
    sure: bool  # no other link of the joint may be weaker, by the intervals
    reason: str


def weakest_link(parts: Sequence[Part], pull: Pull) -> WeakestLink:
    """Find the weakest link of a joint that is pulled one way.

    Parameters
    ----------
    parts : sequence of Part
        Spots, plugs, seams and brazes of the joint, one of each kind at least.
    pull : Pull
        Which way.

    Returns
    -------
    WeakestLink
        With the reason, and what comes next.

    Raises
    ------
    BadInput
        Nothing is known of any of the welds that way.

    Sources
    -------
    derived (links in series)
    """
    found = sorted(
        (
            (part.load(holding).value, order, part, holding)
            for order, part in enumerate(parts)
            for holding in part.holdings
            if holding.pull is pull
        ),
        key=lambda one: one[:2],
    )
    if not found:
        raise BadInput("pull", f"{pull.value}: what these welds hold that way is not known")
    _value, _order, part, holding = found[0]
    load, weakest = part.load(holding), holding.weakest
    rivals = [part.load(holding).low for _v, _o, part, holding in found[1:]]
    own = [one.load.low for one in holding.links if one.link is not weakest.link]
    times = 1.0 if part.length is None else part.length
    sure = all(low > load.high for low in rivals) and all(low * times > load.high for low in own)
    return WeakestLink(
        part.name,
        part.process,
        holding.index,
        pull,
        weakest.link,
        load,
        sure,
        _reason(weakest.why, found, parts, pull),
    )


def _reason(
    why: str,
    found: Sequence[tuple[float, int, Part, Holding]],
    parts: Sequence[Part],
    pull: Pull,
) -> str:
    said = why
    others = {part.name: value for value, _order, part, _holding in reversed(found)}
    first = found[0][2].name
    unit, scale = ("N m", 1.0) if pull is Pull.TORSION else ("kN", 1e3)
    beside = [f"{name} {value / scale:.1f}" for name, value in others.items() if name != first]
    if beside:
        said += f" The others hold more ({unit}): {', '.join(reversed(beside))}."
    unknown = [one.name for one in parts if one.name not in others]
    if unknown:
        said += f" Not known that way: {', '.join(unknown)}."
    return said
