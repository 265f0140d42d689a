"""A decision on a joint and its diagnosis, as lines."""

from collections.abc import Mapping
from typing import Any

from buttonhole.cli import say
from buttonhole.cli.words import _


def decision_lines(answer: Mapping[str, Any]) -> list[str]:
    """What was decided, why, and what to weld next.

    Parameters
    ----------
    answer : mapping
        Keys with units, as the record keeps them.

    Returns
    -------
    list of str
        Lines for a terminal.
    """
    lines = say.wrapped(answer["words"])
    for reason in answer["reasons"]:
        lines += say.wrapped(reason, first="  - ")
    weld = answer.get("next_weld")
    if weld:
        text = _("next weld, interface {}: {:.1f} mm ({:.1f} to {:.1f}), {:.2f} mm asked")
        for face, (size, least) in enumerate(
            zip(weld["size_mm"], answer["least_mm"], strict=True), start=1
        ):
            lines.append(text.format(face, size["value"], size["low"], size["high"], least))
        text = _("too small {:.1f} %, splash {:.1f} %")
        if answer.get("process", "spot") != "spot":
            text = _("too small {:.1f} %, burnt through {:.1f} %")
        lines.append(text.format(100.0 * weld["too_small"], 100.0 * weld["splash"]))
    if answer.get("next"):
        lines += ["", *say.wrapped(answer["next"]["words"])]
    return [*lines, "", *say.wrapped(answer["caution"])]
