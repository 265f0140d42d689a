"""What is round a weld besides sheets and settings, as a form: read from it, put back into it."""

from collections.abc import Mapping

from buttonhole.coupon.difference import Surroundings
from buttonhole.web.fields import Answers
from buttonhole.web.stack_form import Choices

FIELDS = (
    "machine", "arm_pair", "program_version", "position", "coating_state", "between", "torch",
    "liner", "wire_batch", "gas_batch",
)  # fmt: skip
_STATES = {
    "bare": "ground bare",
    "primer": "weld-through primer",
    "e-coat": "e-coat left on",
}
COATING_STATES: Choices = (("", tuple(_STATES.items())),)


def read_around(form: Answers) -> Surroundings:
    """What was typed of the surroundings; outlet, lead and welder are asked for by each page."""
    return Surroundings(**{key: form.text(key) for key in FIELDS})


def typed_around(around: Surroundings | None) -> Mapping[str, str]:
    """Put surroundings back into the fields of their form."""
    if around is None:
        return {}
    return {key: getattr(around, key) for key in FIELDS if getattr(around, key)}
