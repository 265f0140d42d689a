"""How figures, times and states are said on a screen."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from markupsafe import Markup

from buttonhole.language import shown_figures
from buttonhole.language.display import display_now
from buttonhole.weld.estimate import Estimate

CAUTIONS = (
    "Estimate only: a torn coupon decides.",
    "The vehicle maker's procedure prevails.",
    "A result holds for the listed conditions only.",
    "These criteria are for new welds, not for judging welds after a crash.",
    "Unknown material counts as the most sensitive.",
    "Whoever reads a failure names the test used.",
)

_SCALES = {
    "mm": (1e3, 2, "mm"),
    "mm1": (1e3, 1, "mm"),
    "kA": (1e-3, 1, "kA"),
    "kN": (1e-3, 2, "kN"),
    "ms": (1e3, 0, "ms"),
    "J": (1.0, 0, "J"),
    "HV": (1.0, 0, "HV"),
    "percent": (1e2, 0, "%"),
    "s": (1.0, 1, "s"),
    "mm2": (1e6, 1, "mm²"),
    "degC": (1.0, 0, "°C"),
    "A": (1.0, 0, "A"),
    "kJ": (1e-3, 1, "kJ"),
    "Nmm": (1e-3, 0, "N/mm"),
}


def plain_figure(value: float | None, unit: str) -> str:
    """Write a figure with its unit, for lists, titles and pictures read aloud.

    Parameters
    ----------
    value : float or None
        The figure [SI unit of the kind]; none is written as a dash.
    unit : str
        One of mm, mm1, kA, kN, ms, J, HV, percent, s, mm2, degC, A, kJ, Nmm.

    Returns
    -------
    str
        For example ``3.35 mm``.
    """
    if value is None:
        return "–"
    factor, places, name = _SCALES[unit]
    return f"{value * factor:.{places}f} {name}".replace("-", "−")


def big_figure(value: float | None, unit: str) -> Markup:
    """Write a figure for a screen: the unit a little smaller beside it."""
    return text_apart(plain_figure(value, unit))


def text_apart(text: str) -> Markup:
    """Write a figure that is a text already as ``big_figure`` does."""
    number, _, name = shown_figures(text, display_now()).partition(" ")
    return Markup('{}<span class="unit"> {}</span>').format(number, name)


def interval(estimate: Estimate, unit: str) -> str:
    """Say between which figures nine of ten welds are believed to lie."""
    factor, places, name = _SCALES[unit]
    low, high = estimate.low * factor, estimate.high * factor
    return f"{low:.{places}f} to {high:.{places}f} {name}"


def typed_figure(value: float | None, unit: str) -> str:
    """Write a figure as somebody would type it into a field whose unit stands beside it."""
    if value is None:
        return ""
    return f"{value * _SCALES[unit][0]:.6g}"


def moment(at: datetime | str | None) -> str:
    """Say when something was, in the time of the shop."""
    if at is None or at == "":
        return "–"
    when = datetime.fromisoformat(at) if isinstance(at, str) else at
    if when.tzinfo is None:
        when = when.replace(tzinfo=UTC)
    return when.astimezone().strftime("%d.%m.%Y %H:%M")


FILTERS: dict[str, Callable[..., Any]] = {
    "figure": plain_figure,
    "big": big_figure,
    "apart": text_apart,
    "interval": interval,
    "typed": typed_figure,
    "moment": moment,
}
