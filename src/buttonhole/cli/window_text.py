"""The window of settings in letters: one line for each current, or a map over the weld time."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.robust_text import robust_lines
from buttonhole.cli.words import _
from buttonhole.coupon.criterion import Criterion

LENGTH = 28  # letters of the longest bar


def window_lines(answer: dict[str, Any], criterion: Criterion, *, blocks: bool) -> list[str]:
    """Tell a window.

    Parameters
    ----------
    answer : dict
        As `window_answer` gives it.
    criterion : Criterion
        The rule of its lower limit.
    blocks : bool
        Whether the output shows block letters.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = []
    for number, least in enumerate(answer["minimum_diameter_mm"], start=1):
        text = _("interface {} must reach {:.2f} mm: {} ({})")
        lines.append(text.format(number, least, criterion.name, criterion.source))
    if len(answer["times_ms"]) == 1:
        lines += ["", *_bars(answer, blocks=blocks)]
    else:
        lines += ["", *map_lines(answer)]
    lines.append("")
    for at, time in enumerate(answer["times_ms"]):
        lines += _limits(answer, at, time)
    if answer.get("robust"):
        lines += robust_lines(answer["robust"])
    return [
        *lines,
        "",
        *say.wrapped(
            _(
                "Splash counts from a chance of {:.0f} %. Model {}. A window releases nothing: "
                "weld and tear a coupon."
            ).format(100 * answer["expulsion_limit"], answer["model_version"])
        ),
    ]


def _states(answer: dict[str, Any], at: int) -> list[str]:
    """For each current ``small``, ``good`` or ``splash``."""
    states = []
    for place in range(len(answer["currents_kA"])):
        reached = all(
            row[at][place] >= least
            for row, least in zip(
                answer["nugget_diameter_mm"], answer["minimum_diameter_mm"], strict=True
            )
        )
        splashes = answer["expulsion_probability"][at][place] >= answer["expulsion_limit"]
        states.append("splash" if splashes else "good" if reached else "small")
    return states


def _bars(answer: dict[str, Any], *, blocks: bool) -> list[str]:
    full, mark = ("█", "│") if blocks else ("#", "|")
    words = {"small": _("too small"), "good": _("GOOD"), "splash": _("SPLASH")}
    nugget, least = answer["nugget_diameter_mm"], answer["minimum_diameter_mm"]
    # of several interfaces a bar shows the one that is furthest behind its own least diameter
    shares = [
        min(row[0][place] / asked for row, asked in zip(nugget, least, strict=True))
        for place in range(len(answer["currents_kA"]))
    ]
    per_share = LENGTH / max(1.2, *shares)
    sizes_room = " " * (5 * len(least) + 1)
    head = _("nugget, mm (the mark is the least)").ljust(LENGTH)
    lines = [_("   current  {} {}          splash").format(head, sizes_room)]
    for place, (current, state) in enumerate(
        zip(answer["currents_kA"], _states(answer, 0), strict=True)
    ):
        bar = list((full * int(per_share * shares[place])).ljust(LENGTH))
        bar[int(per_share)] = mark
        sizes = " / ".join(f"{row[0][place]:.1f}" for row in nugget)
        chance = answer["expulsion_probability"][0][place]
        splash = f"{100 * chance:3.0f} %" if chance >= 0.005 else ""
        lines.append(
            f"  {current:5.2f} kA  {''.join(bar)} {sizes:<{5 * len(least)}} "
            f"{words[state]:<9} {splash}"
        )
    return lines


def map_lines(answer: dict[str, Any]) -> list[str]:
    """Draw a letter for each weld, ``answer`` as `window_answer` gives it."""
    letters = {"small": ".", "good": "O", "splash": "!"}
    lines = []
    for at, time in reversed(list(enumerate(answer["times_ms"]))):
        row = " ".join(letters[state] for state in _states(answer, at))
        lines.append(f"  {time:5.0f} ms  {row}")
    first, last = answer["currents_kA"][0], answer["currents_kA"][-1]
    length = 2 * len(answer["currents_kA"]) - 1
    left, right = f"{first:.1f} kA", f"{last:.1f} kA"
    lines.append(" " * 12 + left + right.rjust(max(1, length - len(left))))
    lines.append(" " * 12 + _(". too small   O good   ! splash"))
    return lines


def _limits(answer: dict[str, Any], at: int, time: float) -> list[str]:
    low, high = answer["lower_limit_kA"][at], answer["upper_limit_kA"][at]
    robust = answer["robust_current_kA"][at]
    if low is None:
        text = _("{:.4g} ms: no current on this map gives the least weld").format(time)
    elif robust is None:
        text = _("{:.4g} ms: NO WINDOW, it splashes before the least weld is there").format(time)
    else:
        top = (
            _("no splash up to {:.2f} kA").format(answer["currents_kA"][-1])
            if high is None
            else _("splash from {:.2f} kA").format(high)
        )
        text = _("{:.4g} ms: least weld from {:.2f} kA, {}; set {:.2f} kA").format(
            time, low, top, robust
        )
    return say.wrapped(text)
