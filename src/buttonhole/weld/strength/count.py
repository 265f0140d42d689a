"""How many welds a joint needs: by its load, and by what the vehicle maker says."""

import math
from dataclasses import dataclass

from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate

# Share of its own load that a weld of a row takes when the row gives way; judged, no source: ends
# of a row take more than its middle.
ROW_EFFICIENCY = 0.8  # -
NOT_MET = (
    "no number of such welds is sure to hold the load, as one may hold next to nothing: make the "
    "weld larger first"
)
MOST = 10_000  # welds; more is no joint of a body
ROUNDING = 1e-9  # -, of a weld: what arithmetic leaves over is not one more


@dataclass(frozen=True, slots=True)
class WeldCount:
    """How many welds: ``number``, what each way says, which of them governs and why.

    ``load_is_met`` is false where no number of such welds is sure to hold the load; ``number`` is
    the maker's then, or None.
    """

    number: int | None
    by_load: int | None
    by_maker: int | None
    governs: str  # "load", "maker" or "both"; "" where neither does
    reason: str
    load_is_met: bool


def welds_needed(
    required_load: float | None,
    one_weld: Estimate,
    makers_count: int | None = None,
    efficiency: float = ROW_EFFICIENCY,
) -> WeldCount:
    """Count the welds a joint needs; never fewer than the vehicle maker says.

    Parameters
    ----------
    required_load : float or None
        What the joint must hold [N]; None where nobody knows.
    one_weld : Estimate
        What one weld holds [N]; its lower end counts.
    makers_count : int or None
        What the vehicle maker says; None where that is not known yet.
    efficiency : float
        Share of the load of a weld that a row makes use of, over 0 to 1 [-].

    Returns
    -------
    WeldCount
        With the reason.

    Raises
    ------
    BadInput
        Neither a load nor a count is given, or a value makes no sense.

    Sources
    -------
    our own arithmetic; the maker's figure goes before it (common practice)

    Examples
    --------
    >>> welds_needed(20e3, Estimate(6e3, 5e3, 7e3), makers_count=4).number
    5
    """
    if required_load is None and makers_count is None:
        raise BadInput(
            "required load", "and the maker's count are both missing; give one of them at least"
        )
    if not 0.0 < efficiency <= 1.0:  # also catches NaN
        raise BadInput("efficiency", f"is {efficiency:g}; give a share over 0, up to 1")
    if makers_count is not None and not 1 <= makers_count <= MOST:
        raise BadInput("maker's count", f"is {makers_count}; give 1 to {MOST} welds")
    if required_load is None:
        by_load = None
    else:
        by_load = _by_load(required_load, one_weld.low, efficiency)
        if by_load is None:
            return WeldCount(
                makers_count, None, makers_count, "maker" if makers_count else "", NOT_MET, False
            )
    number = max(by_load or 0, makers_count or 0)
    return WeldCount(number, by_load, makers_count, *_governing(by_load, makers_count), True)


def _by_load(required: float, least: float, efficiency: float) -> int | None:
    """How many hold the load; None where no number of them is sure to."""
    if not (required > 0.0 and math.isfinite(required)):  # also catches NaN
        raise BadInput("required load", f"is {required:g} N; give a load above zero")
    if least <= 0.0 or required / (least * efficiency) > MOST:
        return None
    return max(1, math.ceil(required / (least * efficiency) - ROUNDING))


def _governing(by_load: int | None, by_maker: int | None) -> tuple[str, str]:
    if by_load is None:
        return "maker", "the vehicle maker's count; no load was given to hold against it"
    if by_maker is None:
        return (
            "load",
            "by load alone: ask the vehicle maker, whose count goes before this where it is higher",
        )
    if by_load > by_maker:
        return (
            "load",
            f"the load asks for {by_load}, more than the maker's {by_maker}: ask the maker before "
            "more welds are set",
        )
    if by_load == by_maker:
        return "both", f"the load asks for as many as the maker: {by_maker}"
    return "maker", f"the load asks for {by_load}; the maker's {by_maker} stand, never fewer"
