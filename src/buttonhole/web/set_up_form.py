"""A set-up as a form: read from it, and put back into it."""

from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.words import typed_figure
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

CURRENT_TYPES = (("", tuple((one.value, one.value) for one in CurrentType)),)

# key, kind, unit beside the field, unit of the filter, lowest, highest, in words
_FIGURES = (
    ("welding_current", "current", "kA", "kA", 100.0, 60e3, "0.1 to 60 kA"),
    ("electrode_force", "force", "kN", "kN", 100.0, 30e3, "0.1 to 30 kN"),
    ("weld_time", "time", "ms", "ms", 1e-3, 5.0, "1 to 5000 ms"),
    ("squeeze_time", "time", "ms", "ms", 0.0, 10.0, "0 to 10000 ms"),
    ("hold_time", "time", "ms", "ms", 0.0, 10.0, "0 to 10000 ms"),
)
_CAP = (
    ("electrode_face", 1.5e-3, 20e-3, "1.5 to 20 mm"),
    ("electrode_radius", 3e-3, 1.0, "3 to 1000 mm"),
)
KEYS = (*(one[0] for one in _FIGURES), *(one[0] for one in _CAP), "current_type")


def read_set_up(form: Answers, stack: StackUp) -> SpotSetUp | None:
    """Read a set-up of one pulse; what is wrong is marked in the form."""
    found: dict[str, float] = {}
    for key, kind, unit, _, low, high, span in _FIGURES:
        value = form.quantity(key, kind, unit, need=f"Give {span}.")
        if value is not None and not low <= value <= high:
            form.faults[key] = f"Give {span}."
        elif value is not None:
            found[key] = value
    cap = read_cap(form, "electrode_face", "electrode_radius")
    allowed = tuple(one.value for one in CurrentType)
    kind = form.choice("current_type", allowed, "Choose the kind of current.")
    if form.faults or cap is None:
        return None
    try:
        return SpotSetUp(
            pulses=(Pulse(found["welding_current"], found["weld_time"]),),
            current_type=CurrentType(kind),
            electrode_force=found["electrode_force"],
            cap_a=cap,
            cap_b=cap,
            squeeze_time=found["squeeze_time"],
            hold_time=found["hold_time"],
        )
    except BadInput as bad:
        form.blame(bad)
        return None


def read_cap(form: Answers, face_key: str, radius_key: str) -> ElectrodeCap | None:
    """Read a cap: a flat face, a dome, or both for a radiused face."""
    values: list[float | None] = []
    for key, (_, low, high, span) in zip((face_key, radius_key), _CAP, strict=True):
        value = form.quantity(key, "length", "mm")
        if value is not None and not low <= value <= high:
            form.faults[key] = f"Give {span}."
        values.append(value)
    face, radius = values
    if face is None and radius is None and face_key not in form.faults:
        form.faults[face_key] = "Give the face, the radius, or both."
    if form.faults.keys() & {face_key, radius_key}:
        return None
    try:
        return ElectrodeCap(face, radius)
    except BadInput as bad:
        form.blame(bad, {"face_diameter": face_key, "radius": radius_key})
        return None


def typed_set_up(set_up: SpotSetUp) -> dict[str, str]:
    """Put a set-up back into the fields of its form; of many pulses the first."""
    pulse = set_up.pulses[0]
    return {
        "welding_current": typed_figure(pulse.current, "kA"),
        "electrode_force": typed_figure(set_up.electrode_force, "kN"),
        "weld_time": typed_figure(pulse.time, "ms"),
        "squeeze_time": typed_figure(set_up.squeeze_time, "ms"),
        "hold_time": typed_figure(set_up.hold_time, "ms"),
        "electrode_face": typed_figure(set_up.cap_a.face_diameter, "mm"),
        "electrode_radius": typed_figure(set_up.cap_a.radius, "mm"),
        "current_type": set_up.current_type.value,
    }
