"""What the papers draw and say of a joint, from its read model."""

from buttonhole.coupon.criterion import Criterion, minimum_diameter
from buttonhole.desk.view import ProcedureView
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper.figure.stack import DrawnCap, DrawnLimit, DrawnSheet, DrawnStack
from buttonhole.procedure.authority import Deviation
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp


def drawn_stack(stack: StackUp, set_up: SpotSetUp, criterion: Criterion) -> DrawnStack:
    """
    Give a stack-up to the drawing.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        Whose caps are drawn.
    criterion : Criterion
        Whose least diameters are named.

    Returns
    -------
    DrawnStack
        For papers and pictures.
    """
    return DrawnStack(
        sheets=tuple(
            DrawnSheet(one.thickness, one.steel.designation, one.coating.value)
            for one in stack.sheets
        ),
        cap_a=_cap(set_up.cap_a),
        cap_b=_cap(set_up.cap_b),
        limits=tuple(
            (DrawnLimit(minimum_diameter(criterion, stack, one), criterion.name),)
            for one in stack.interfaces
        ),
        gap=stack.gap,
    )


def _cap(cap: ElectrodeCap) -> DrawnCap:
    return DrawnCap(cap.face_diameter, cap.radius, cap.body_diameter)


def set_values(set_up: SpotSetUp) -> tuple[tuple[str, str, str], ...]:
    """
    List the numbers to set.

    Parameters
    ----------
    set_up : SpotSetUp
        The set-up.

    Returns
    -------
    tuple of (str, str, str)
        Name, value, and the same in a second unit.
    """
    rows: list[tuple[str, str, str]] = []
    for place, pulse in enumerate(set_up.pulses, 1):
        slopes = [
            f"{name} {value * 1e3:.0f} ms"
            for name, value in (
                ("up", pulse.up_slope),
                ("down", pulse.down_slope),
                ("then cool", pulse.cool_time),
            )
            if value
        ]
        kind = set_up.current_type.value
        current, time = f"{pulse.current / 1e3:.1f} kA", f"{pulse.time * 1e3:.0f} ms"
        if len(set_up.pulses) == 1:
            rows.append(("Welding current", current, kind))
            rows.append(("Weld time", time, ", ".join(slopes)))
        else:  # one row each, or a programme of pulses would not fit a card
            rows.append((f"Pulse {place}", f"{current}, {time}", ", ".join([kind, *slopes])))
    force = set_up.electrode_force
    rows.append(("Electrode force", f"{force / 1e3:.2f} kN", f"{force / 10:.0f} daN"))
    rows.append(("Squeeze time", f"{set_up.squeeze_time * 1e3:.0f} ms", ""))
    rows.append(("Hold time", f"{set_up.hold_time * 1e3:.0f} ms", ""))
    return tuple(rows)


def authority_words(procedure: ProcedureView) -> str:
    """
    Say by which authority a joint is welded.

    Parameters
    ----------
    procedure : ProcedureView
        The cited procedure or the deviation.

    Returns
    -------
    str
        One line.
    """
    one = procedure.authority
    if isinstance(one, Deviation):
        return f"Deviation: {one.reason} ({one.signed_by}, {one.second_signature})"
    return f"{one.reference}, revision {one.revision}, read {one.read_on.isoformat()}"
