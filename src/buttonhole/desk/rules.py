"""Which rule the smallest diameter of a weld comes from when nobody has said."""

from buttonhole.coupon.criterion import (
    DEFAULT,
    STRICTEST,
    Criterion,
    Limits,
    criteria,
    find_criterion,
)
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput

LISTED = ("4-root-t", "5-root-t")  # shown beside the rule in use: the span of published practice


def rule_named(key: str) -> Criterion:
    """Find a rule for diameters by its key.

    Parameters
    ----------
    key : str
        As listed by `diameter_rules`.

    Returns
    -------
    Criterion
        The rule.

    Raises
    ------
    BadInput
        No such rule, or one that limits a force; the message lists the keys.
    """
    for one in diameter_rules():
        if one.key == key:
            return one
    keys = ", ".join(one.key for one in diameter_rules())
    raise BadInput("minimum_rule", f"{key[:40]!r} is no rule for diameters; give one of {keys}")


def diameter_rules() -> tuple[Criterion, ...]:
    """List every published rule that limits a diameter."""
    return tuple(one for one in criteria() if one.quantity is Limits.DIAMETER)


def rule_for(stack: StackUp, key: str | None = None) -> Criterion:
    """Choose the rule for a stack-up.

    Parameters
    ----------
    stack : StackUp
        The sheets; one that nobody knows asks for the strictest rule.
    key : str or None
        The rule somebody named.

    Returns
    -------
    Criterion
        The rule named, else the usual one, else the strictest.

    Raises
    ------
    BadInput
        No such rule.
    """
    if key is not None:
        return rule_named(key)
    return find_criterion(STRICTEST if stack.has_unknown else DEFAULT)


def listed_rules() -> tuple[Criterion, ...]:
    """List the rules whose diameters are shown beside the one in use."""
    return tuple(find_criterion(key) for key in LISTED)
