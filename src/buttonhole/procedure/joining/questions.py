"""The questions only the vehicle maker can answer: a yes or no, or open ones, then figures."""

from buttonhole.procedure.joining.decision import (
    Decision,
    MethodStanding,
    Question,
    Standing,
)
from buttonhole.procedure.joining.method import SEAMS, SQUEEZE, JoiningMethod

MOST = 8  # questions a maker will answer
_FIGURES = {
    JoiningMethod.SPOT: ("number of spots", "pitch", "least weld size"),
    JoiningMethod.WELD_BOND: ("adhesive", "number of spots", "pitch", "least weld size"),
    JoiningMethod.PLUG: ("number of plugs", "hole", "wire and gas"),
    JoiningMethod.BRAZE: ("number and size of slots or length", "wire and gas"),
    JoiningMethod.RIVET_BOND: ("rivet", "adhesive", "number and pitch"),
    JoiningMethod.BOND: ("adhesive", "width of the bond"),
    JoiningMethod.ALUMINIUM_MIG: ("wire and gas", "length", "heat limit"),
}
_SEAM_FIGURES = ("place of the cut", "gap and backing", "wire and gas")


def questions(decision: Decision) -> tuple[Question, ...]:
    """Return what to ask the maker about a decision.

    Parameters
    ----------
    decision : Decision
        As decided so far.

    Returns
    -------
    tuple of Question
        What holds the joint first, then contradictions, then methods; at most ``MOST``.
    """
    found = [*_sheets(decision), *_contradictions(decision), *_line(decision)]
    found += [_obstacle(one) for one in decision.methods if one.obstacles]
    asked = {one.about for one in found}
    found += [
        _method(one)
        for one in (*decision.allowed, *decision.of(Standing.ASK))
        if one.method not in asked and not one.is_makers
    ]
    found += _count(decision)
    return tuple(found[:MOST])


def _sheets(decision: Decision) -> list[Question]:
    found = []
    for place, sheet in enumerate(decision.joint.sheets, start=1):
        if sheet.steel is not None and sheet.steel.is_unknown:
            found.append(
                Question(
                    f"Which steel is sheet {place} (measured {sheet.thickness * 1e3:g} mm)?",
                    ("designation", "tensile strength", "coating", "hot-stamped, yes or no"),
                    is_open=True,
                )
            )
    if decision.joint.circumstances.earlier_repair:
        found.append(
            Question(
                "An earlier repair was found. Which steels and thicknesses belong at this joint, "
                "so that we can compare them with what is there?",
                ("designation and thickness of each sheet",),
                is_open=True,
            )
        )
    return found


def _contradictions(decision: Decision) -> list[Question]:
    found = []
    for one in decision.methods:
        if not one.in_conflict:
            continue
        texts = "; ".join(f"{each.source}: “{each.reason}”" for each in one.reasons)
        found.append(
            Question(
                f"These texts contradict each other about {one.method.words}: {texts} Which one "
                "holds at this joint?",
                ("the text that holds",),
                one.method,
                is_open=True,
            )
        )
    return found


def _line(decision: Decision) -> list[Question]:
    told = decision.joint.circumstances
    if not told.sectioning or any(one.is_makers for one in decision.allowed if one.method in SEAMS):
        return []
    return [
        Question(
            "Do you give a sectioning line here? If so, where, and closed by which seam?",
            _SEAM_FIGURES,
        )
    ]


def _obstacle(one: MethodStanding) -> Question:
    return Question(
        f"Your text asks for: {one.method.words}. {' '.join(one.obstacles)} What is to be done?",
        ("method",),
        one.method,
        is_open=True,
    )


def _method(one: MethodStanding) -> Question:
    figures = _SEAM_FIGURES if one.method in SEAMS else _FIGURES[one.method]
    silent = "We found no text of yours that says so. " if one.standing is Standing.ALLOWED else ""
    return Question(
        f"{silent}Is this permitted at this joint: {one.method.words}?", figures, one.method
    )


def _count(decision: Decision) -> list[Question]:
    count = decision.joint.circumstances.original_count
    open_ones = {one.method for one in decision.methods if one.standing is not Standing.REJECTED}
    if not count or not open_ones & {*SQUEEZE, JoiningMethod.PLUG}:
        return []
    return [
        Question(
            f"The factory made {count} welds. How many take their place, at which pitch, and on "
            "the old places or beside them?",
            ("number", "pitch", "place"),
            is_open=True,
        )
    ]
