"""A spot coupon of other sheets or with other settings than the joint: only what was changed."""

from dataclasses import replace

from buttonhole.desk.view import JointView
from buttonhole.joint.stack_up import StackUp
from buttonhole.web.fields import Answers
from buttonhole.web.set_up_form import KEYS, read_set_up, typed_set_up
from buttonhole.web.stack_form import read_stack, typed_stack
from buttonhole.weld.spot.set_up import SpotSetUp


def as_joint(view: JointView) -> dict[str, str]:
    """What stands in the fields of a coupon's form while it is as the joint."""
    set_up = typed_set_up(view.set_up.set_up) if view.set_up else {}
    return {**typed_stack(view.stack), **set_up}


def is_other(form: Answers, view: JointView) -> bool:
    """Whether a field differs from the joint's."""
    return bool(_changed(form, view))


def own_stack(form: Answers, view: JointView) -> StackUp | None:
    """The sheets of the coupon where they are not the joint's; what is wrong is marked."""
    if not _changed(form, view) - set(KEYS):
        return None
    return read_stack(form)


def own_set_up(form: Answers, view: JointView) -> SpotSetUp | None:
    """What was set on the gun where it is not the joint's; what is wrong is marked."""
    changed = _changed(form, view) & set(KEYS)
    if view.set_up is None or not changed:
        return None
    base = view.set_up.set_up
    found = read_set_up(form, view.stack)
    if found is None:
        return None
    pulse = found.pulses[0]
    first = replace(base.pulses[0], current=pulse.current, time=pulse.time)
    caps = changed & {"electrode_face", "electrode_radius"}
    return replace(
        base,
        pulses=(first, *base.pulses[1:]),
        current_type=found.current_type,
        electrode_force=found.electrode_force,
        cap_a=found.cap_a if caps else base.cap_a,
        cap_b=found.cap_b if caps else base.cap_b,
        squeeze_time=found.squeeze_time,
        hold_time=found.hold_time,
    )


def _changed(form: Answers, view: JointView) -> set[str]:
    """The fields that were sent and differ from the joint's."""
    return {
        key for key, old in as_joint(view).items() if key in form.typed and form.text(key) != old
    } | set(_more(form, view))


def _more(form: Answers, view: JointView) -> tuple[str, ...]:
    """A sheet more than the joint has."""
    number = len(view.stack.sheets) + 1
    return (f"thickness-{number}",) if form.text(f"thickness-{number}") else ()
