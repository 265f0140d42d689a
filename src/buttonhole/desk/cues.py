"""All that the trade looks for, of spots, plugs and seams."""

from buttonhole.desk.arc_cues import ARC_CUES, ARC_FIGURES, Answer, Compared, Cue
from buttonhole.desk.spot_cues import SPOT_CUES, SPOT_FIGURES
from buttonhole.units import BadInput

CUES = (*SPOT_CUES, *ARC_CUES)
FIGURES = {**ARC_FIGURES, **SPOT_FIGURES}
# What would not be told apart: a smaller difference is none [unit of the figure]; our own.
_SAME = {"mm": 0.05, "A": 1.0, "°C": 5.0, "%": 1.0, "kN": 0.05, "J": 10.0}
_SAME_ARC = 0.1  # mm; what is measured of an arc weld is coarser


def find_cue(key: str) -> Cue:
    """
    Find a cue by its key.

    Parameters
    ----------
    key : str
        For example ``stick-out``.

    Returns
    -------
    Cue
        With its cases.

    Raises
    ------
    BadInput
        When there is none; the message lists them.
    """
    for one in CUES:
        if one.key == key:
            return one
    listed = ", ".join(one.key for one in CUES)
    raise BadInput("cue", f"is {key[:40]!r}; give one of {listed}")


def compared(cue: Cue, good: Answer, other: Answer) -> tuple[Compared, ...]:
    """
    Compare two welds of a cue, figure by figure.

    Parameters
    ----------
    cue : Cue
        Says what to look at.
    good, other : mapping
        Predictions as for JSON.

    Returns
    -------
    tuple of Compared
        In the order of the cue.
    """
    found = []
    for one in cue.watched:
        name, unit, read = FIGURES[one.figure]
        before, after = read(good), read(other)
        gain = after[0] - before[0]
        least = _SAME_ARC if unit == "mm" and cue.process == "arc" else _SAME[unit]
        went = "same" if abs(gain) < least else "more" if gain > 0.0 else "less"
        agrees = went == one.bad_is if one.bad_is else None
        found.append(Compared(name, unit, before, after, agrees))
    return tuple(found)


def statement(cue: Cue) -> str:
    """Say in one line how much of a cue the model explains, and why."""
    return f"{cue.explained.words}. {cue.model}"
