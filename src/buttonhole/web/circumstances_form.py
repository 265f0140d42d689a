"""What is around a joint as a form: read from it, put back into it, offered in it."""

from enum import StrEnum

from buttonhole.procedure.joining.circumstances import (
    Access,
    Adhesive,
    Circumstances,
    Near,
    Original,
    RemainingFlange,
    Zone,
)
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.stack_form import Choices
from buttonhole.web.words import typed_figure

WORDS = {
    Access.TWO_SIDES: "the gun reaches both sides",
    Access.ONE_SIDE: "one side only",
    Access.CLOSED_SECTION: "closed section",
    Adhesive.NONE: "none",
    Adhesive.FRESH: "between the sheets, fresh",
    Adhesive.CURED: "between the sheets, cured",
    Adhesive.NEARBY: "not in the joint, but near it",
    Zone.COSMETIC: "cosmetic: carries no load",
    Zone.STRUCTURE: "structure",
    Zone.REINFORCEMENT: "high-strength reinforcement",
    Zone.PILLAR_FOOT: "at a pillar foot",
    Zone.RESTRAINT_MOUNT: "at a mount of belt or seat",
    Zone.LASER_WELD: "beside a laser weld",
    Original.SPOT: "spot welds",
    Original.WELD_BOND: "spots through adhesive",
    Original.PLUG: "plug welds",
    Original.SEAM: "arc seam",
    Original.LASER: "laser weld",
    Original.BRAZE: "brazing",
    Original.RIVET: "rivets",
    Original.BOND: "adhesive alone",
    RemainingFlange.SOUND: "sound",
    RemainingFlange.DRILLED: "drilled through",
    RemainingFlange.THINNED: "thinned",
}
NEAR = {
    Near.AIRBAG: ("Restraint module", "airbag or belt tensioner within 300 mm"),
    Near.FUEL: ("Fuel", "line or tank within 300 mm"),
    Near.HIGH_VOLTAGE: ("High voltage", "cable or battery within 300 mm"),
    Near.SEALER: ("Sealer or foam", "within 100 mm"),
    Near.GLASS: ("Glass", "within 300 mm"),
}
_LENGTHS = ("flange_width", "reach_needed", "arm_reach")
_ENUMS: dict[str, type[StrEnum]] = {
    "access": Access,
    "adhesive": Adhesive,
    "zone": Zone,
    "original_joining": Original,
    "remaining_flange": RemainingFlange,
}
_FLAGS = ("visible", "sectioning", "earlier_repair")


def choices(key: str) -> Choices:
    """Offer the answers of one field."""
    return (("", tuple((one.value, WORDS[one]) for one in _ENUMS[key])),)


def method_choices() -> Choices:
    """Offer the ways of joining."""
    return (("", tuple((one.value, one.words) for one in JoiningMethod)),)


def read_circumstances(form: Answers, sheets: int) -> Circumstances | None:
    """Read what is around a joint of some sheets; what is wrong is marked in the form."""
    found: dict[str, object] = {key: form.quantity(key, "length", "mm") for key in _LENGTHS}
    for key, kind in _ENUMS.items():
        allowed = ("", *(one.value for one in kind))
        given = form.choice(key, allowed, "Choose one of the answers, or none.")
        found[key] = kind(given) if given else None
    found |= {key: form.text(key) == "yes" for key in _FLAGS}
    found["near"] = tuple(one for one in Near if form.text(f"near-{one.value}") == "yes")
    found["original_count"] = form.number("original_count", low=0, high=500, need="")
    found["model_year"] = form.number("model_year", low=1950, high=2100, need="")
    found["aluminium"] = tuple(
        place for place in range(1, sheets + 1) if form.text(f"aluminium-{place}") == "yes"
    )
    found["means"] = tuple(one for one in JoiningMethod if form.text(f"means-{one.value}") == "yes")
    if form.faults:
        return None
    try:
        return Circumstances(**found)  # type: ignore[arg-type] # by name
    except BadInput as bad:
        form.blame(bad)
        return None


def typed_circumstances(told: Circumstances) -> dict[str, str]:
    """Put circumstances back into the fields of their form."""
    typed: dict[str, str] = {}
    for key in _LENGTHS:
        value = getattr(told, key)
        typed[key] = typed_figure(value, "mm") if value is not None else ""
    for key in _ENUMS:
        value = getattr(told, key)
        typed[key] = value.value if value is not None else ""
    typed |= {key: "yes" if getattr(told, key) else "" for key in _FLAGS}
    typed |= {f"near-{one.value}": "yes" for one in told.near}
    typed |= {f"aluminium-{one}": "yes" for one in told.aluminium}
    typed |= {f"means-{one.value}": "yes" for one in told.means}
    for key in ("original_count", "model_year"):
        value = getattr(told, key)
        typed[key] = "" if value is None else str(value)
    return typed
