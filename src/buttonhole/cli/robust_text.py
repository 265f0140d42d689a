"""The chance of a good weld on a machine that scatters, in plain words."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.words import _
from buttonhole.procedure.saying import share


def robust_lines(answer: dict[str, Any]) -> list[str]:
    """Tell what a set-up leaves to the scatter of the machine, and what spoils most.

    Parameters
    ----------
    answer : dict
        As `robust_answer` gives it.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    low, high = (100 * one for one in answer["good_weld_interval"])
    chance, known = (
        share(answer[key]) for key in ("good_weld_probability", "good_weld_by_machine_alone")
    )
    told = _(
        "chance of a good weld {} ({:.0f} .. {:.0f} % with what the model does not know); the "
        "machine's scatter alone leaves {}"
    )
    lines = say.wrapped(told.format(chance, low, high, known), first="  ", rest="  ")
    small = [
        _("interface {} too small {}").format(number, share(one))
        for number, one in enumerate(answer["too_small_probability"], start=1)
    ]
    spoilt = "; ".join([*small, _("splash {}").format(share(answer["expulsion_probability"]))])
    lines += say.wrapped(
        _("what spoils welds: {}; most of it {}").format(spoilt, answer["binding"]),
        first="  ",
        rest="  ",
    )
    if not answer["is_robust"]:
        lines += say.wrapped(
            _(
                "NO ROBUST WINDOW: even with a model that is right, under {:.0f} % of the welds "
                "would be good. Change force, time, caps or method."
            ).format(100 * answer["least_good_weld_probability"]),
            first="  ! ",
            rest="    ",
        )
    return lines
