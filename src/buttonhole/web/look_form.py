"""Marks on a weld as a form asks for them: each with how far it may be off."""

from dataclasses import dataclass

from buttonhole.web.fields import Answers

Looks = dict[str, tuple[float, float | None]]  # mark [m], how far it may be off [m]


@dataclass(frozen=True, slots=True)
class LookField:
    """One look: its key, what it is called, how it is taken, and how far off it usually is [mm]."""

    key: str
    label: str
    hint: str
    usual: str


def read_marks(form: Answers, fields: tuple[LookField, ...]) -> tuple[Looks, dict[str, str]]:
    """Read marks; what is wrong is marked in the form. Also the same as texts with units."""
    looks: Looks = {}
    said: dict[str, str] = {}
    for one in fields:
        value = form.quantity(one.key, "length", "mm")
        off = form.quantity(f"{one.key}_off", "length", "mm")
        if value is None:
            continue
        looks[one.key] = (value, off or None)
        said[one.key] = form.quantity_text(one.key, "length", "mm") or ""
        if off:
            said[one.key] += f" +/- {form.quantity_text(f'{one.key}_off', 'length', 'mm')}"
    return looks, said


def kept_answers(form: Answers) -> dict[str, str]:
    """What was typed, to be sent again with the look that is kept."""
    return {
        key: value for key, value in form.typed.items() if value and key not in ("seen", "once")
    }
