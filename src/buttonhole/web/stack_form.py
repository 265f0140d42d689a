"""The sheets of a joint as a form: read from it, put back into it, offered in it."""

from functools import cache

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import MAX_SHEETS, StackUp
from buttonhole.joint.steel import find_steel, steels
from buttonhole.joint.steel_book import book
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.words import typed_figure

Choices = tuple[tuple[str, tuple[tuple[str, str], ...]], ...]  # group, then value and words

_COATINGS = {
    Coating.UNKNOWN: "don't know",
    Coating.BARE: "bare",
    Coating.GI: "GI – hot-dip zinc",
    Coating.GA: "GA – galvannealed",
    Coating.EG: "EG – electrolytic zinc",
    Coating.ZM: "ZM – zinc-magnesium",
    Coating.ALSI: "AlSi – hot-stamped part",
    Coating.PRIMER: "weld-through primer",
}


@cache
def steel_choices() -> Choices:
    """The steels: not knowing first, then the usual ones by family, the others by standard."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for one in book():
        steel = one.steel
        group = steel.family.value if steel in steels() else one.system
        groups.setdefault(group, []).append((steel.designation, steel.designation))
    listed = tuple((family, tuple(found)) for family, found in groups.items())
    return (("", (("unknown", "don't know"),)), *listed)


def coating_choices() -> Choices:
    """The coatings; not knowing comes first."""
    return (("", tuple((one.value, words) for one, words in _COATINGS.items())),)


def read_stack(form: Answers) -> StackUp | None:
    """Read the sheets of a form; what is wrong is marked in it."""
    sheets = []
    blank_at = 0
    for number in range(1, MAX_SHEETS + 1):
        key = f"thickness-{number}"
        if not form.text(key):
            blank_at = blank_at or number
            if number <= 2:
                form.faults[key] = f"Give the thickness of sheet {number}."
            continue
        if blank_at:
            form.faults[key] = f"Sheet {blank_at} is empty. Give the sheets without a hole in it."
        sheet = _sheet(form, number)
        if sheet is not None:
            sheets.append(sheet)
    gap = form.quantity("gap", "length", "mm") or 0.0
    if form.faults:
        return None
    try:
        return StackUp(tuple(sheets), gap)
    except BadInput as bad:
        form.blame(bad, {"sheet": "thickness-1"})
        return None


def _sheet(form: Answers, number: int) -> Sheet | None:
    keys = {name: f"{name}-{number}" for name in ("thickness", "steel", "coating")}
    thickness = form.quantity(keys["thickness"], "length", "mm")
    allowed = tuple(one.value for one in Coating)
    coating = form.choice(keys["coating"], allowed, f"Choose the coating of sheet {number}.")
    if thickness is None or not coating:
        return None
    try:
        steel = find_steel(form.text(keys["steel"]) or "unknown")
        return Sheet(steel, thickness, Coating(coating))
    except BadInput as bad:
        form.blame(bad, keys)
        return None


def typed_stack(stack: StackUp) -> dict[str, str]:
    """Put a stack-up back into the fields of its form."""
    typed: dict[str, str] = {"gap": typed_figure(stack.gap, "mm") if stack.gap else ""}
    for number, sheet in enumerate(stack.sheets, start=1):
        typed[f"thickness-{number}"] = typed_figure(sheet.thickness, "mm")
        typed[f"steel-{number}"] = sheet.steel.designation
        typed[f"coating-{number}"] = sheet.coating.value
    return typed
