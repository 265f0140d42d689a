"""Joints as they are learned about: a surrogate of their welds, and the size they ask for.

A surrogate that was fitted is kept: the same sheets, caps and set-up give the same one again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import Steel
from buttonhole.learning.evidence import LearningCoupon
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.surrogate import Surrogate
from buttonhole.weld.arc.plug import PlugJoint
from buttonhole.weld.spot.set_up import SpotSetUp

STRONG = 980e6  # Pa, tensile strength from which a steel is of the strict class; our own
MOST_KEPT = 256


@dataclass(frozen=True, slots=True)
class LearnedMachine:
    """A machine ready to be learned: model, and its coupons by the ids of the record.

    ``point`` [SI] and ``current`` [A] are those of what is asked. ``left_out``: coupons that no
    surrogate fits, with the reason.
    """

    model: Model
    coupons: Mapping[str, LearningCoupon]
    joint: str
    point: tuple[float, ...]  # SI
    current: float  # A
    left_out: tuple[str, ...]


def is_strict(steels: Sequence[Steel], sheets: int) -> bool:
    """Whether a joint is of the strict class.

    Parameters
    ----------
    steels : sequence of Steel
        Of its sheets; none where they are of aluminium.
    sheets : int
        How many there are.

    Returns
    -------
    bool
        Ultra-high-strength steel, or three and more sheets.
    """
    return any(steel.tensile_strength >= STRONG for steel in steels) or sheets > 2


def spot_joint(key: str, stack: StackUp, set_up: SpotSetUp, criterion: Criterion) -> LearnedJoint:
    """A spot joint, learned round a set-up.

    Parameters
    ----------
    key : str
        What it is called.
    stack : StackUp
        Its sheets.
    set_up : SpotSetUp
        One that welds it.
    criterion : Criterion
        Gives the least diameter.

    Returns
    -------
    LearnedJoint
        With its surrogate.

    Raises
    ------
    BadInput
        Too few welds round the set-up melt.
    """
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    return LearnedJoint(
        key,
        kept_spot_surrogate(replace(stack, gap=0.0), set_up),
        tuple(required_diameter(criterion, stack, face).diameter for face in stack.interfaces),
        tuple(face.thinner_thickness for face in stack.interfaces),
        "coated" if any(one.coating is not Coating.BARE for one in stack.sheets) else "bare",
        main.current,
        strict=is_strict([sheet.steel for sheet in stack.sheets], len(stack.sheets)),
    )


def plug_joint(
    key: str, joint: PlugJoint, surrogate: Surrogate, least: Sequence[float]
) -> LearnedJoint:
    """A plug, learned by a surrogate of its welds.

    Parameters
    ----------
    key : str
        What it is called.
    joint : PlugJoint
        Its sheets and holes.
    surrogate : Surrogate
        Of its welds.
    least : sequence of float
        Smallest torn diameter that is good, by interface [m].

    Returns
    -------
    LearnedJoint
        With its class.
    """
    sheets = joint.stack.sheets
    thinner = tuple(
        min(sheets[i].thickness, sheets[i + 1].thickness) for i in range(surrogate.interfaces)
    )
    strict = is_strict(joint.steels, len(sheets))
    return LearnedJoint(key, surrogate, tuple(least), thinner, strict=strict)


@lru_cache(maxsize=MOST_KEPT)
def kept_spot_surrogate(stack: StackUp, set_up: SpotSetUp) -> Surrogate:
    """Fit a surrogate of spot welds, or take the one that was fitted before.

    Parameters
    ----------
    stack : StackUp
        The sheets, closed: the gap is an input.
    set_up : SpotSetUp
        What it is fitted round.

    Returns
    -------
    Surrogate
        As of ``spot_surrogate``.

    Raises
    ------
    BadInput
        Too few welds round the set-up melt.
    """
    # The nets of the emulator are slow to load, and most steps do not need them.
    from buttonhole.learning.spot_surrogate import spot_surrogate

    return spot_surrogate(stack, set_up)
