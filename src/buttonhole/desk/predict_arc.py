"""Predict the arc weld of a weld file."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from buttonhole.desk.plug_answer import plug_answer
from buttonhole.desk.seam_answer import seam_answer
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
from buttonhole.desk.weld_file.process import process_number
from buttonhole.units import BadInput

if TYPE_CHECKING:  # the compiled kernels are slow to import
    from buttonhole.weld.arc.plug.result import PlugWeld
    from buttonhole.weld.arc.seam.result import SeamWeld

ArcWeldFile = PlugWeldFile | SeamWeldFile

# Members over what is doubted while a setting is moved; a table of them needs no more.
FEW_PLUGS, FEW_SEAMS = 24, 6

SET_KEYS = frozenset(
    {"gas", "wire", "wire_diameter", "wire_feed_speed", "arc_voltage", "contact_tube_distance"}
    | {"arc_time", "travel_speed", "work_angle", "travel_angle", "aim_offset"}
)


def predict_arc(described: ArcWeldFile) -> dict[str, Any]:
    """Predict an arc weld and say all of it.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        As read from a file.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadInput
        The set-up can't be computed or must not be welded.
    """
    return arc_answer(described, solve_arc(described))


def solve_arc(described: ArcWeldFile, *, quick: bool = False) -> "PlugWeld | SeamWeld":
    """Weld what a file describes in the model.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        As read from a file.
    quick : bool
        Coarse cells and few members: an answer while somebody moves a setting.

    Returns
    -------
    PlugWeld or SeamWeld
        In SI units, with its section.

    Raises
    ------
    BadInput
        The set-up can't be computed or must not be welded.
    """
    with placed_refusals():
        if isinstance(described, PlugWeldFile):
            return _plug(described, quick=quick)
        return _seam(described, quick=quick)


@contextmanager
def placed_refusals() -> Iterator[None]:
    """Give every refusal of an arc weld the key it has in the file.

    Raises
    ------
    BadInput
        In place of any other, and where the solver can't follow the weld.
    """
    from buttonhole.weld.arc.plug import PlugFailed
    from buttonhole.weld.arc.seam import SeamFailed

    try:
        yield
    except (PlugFailed, SeamFailed) as failed:
        raise BadInput(
            "set_up",
            f"the solver can't follow this weld ({failed}); give feed, voltage and time nearer to "
            "what such sheets are welded with",
        ) from failed
    except BadInput as bad:
        key = f"set_up {bad.key}" if bad.key in SET_KEYS else bad.key
        raise BadInput(key, bad.message) from bad


def arc_answer(described: ArcWeldFile, weld: "PlugWeld | SeamWeld") -> dict[str, Any]:
    """Say all of a predicted arc weld.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        As read from a file.
    weld : PlugWeld or SeamWeld
        What `solve_arc` made of it.

    Returns
    -------
    dict
        Keys with units, as for JSON.
    """
    from buttonhole.weld.arc.machine_map import operating_point
    from buttonhole.weld.arc.plug.result import PlugWeld
    from buttonhole.weld.arc.seam.machine import speed_of

    set_up = described.set_up
    number = process_number(set_up.wire, set_up.gas)
    if isinstance(described, PlugWeldFile):
        assert isinstance(weld, PlugWeld)  # noqa: S101 - solved for this very file
        return plug_answer(weld, described.joint, set_up, number)
    assert not isinstance(weld, PlugWeld)  # noqa: S101 - solved for this very file
    speed = speed_of(described.joint, set_up)
    point = operating_point(set_up, described.law)
    return seam_answer(weld, described, point, speed, number)


def _plug(described: PlugWeldFile, *, quick: bool) -> "PlugWeld":
    from buttonhole.weld.arc import plug

    joint, set_up, law = described.joint, described.set_up, described.law
    if quick:
        return plug.predict(joint, set_up, resolution=plug.COARSE, law=law, count=FEW_PLUGS)
    return plug.predict(joint, set_up, law=law)


def _seam(described: SeamWeldFile, *, quick: bool) -> "SeamWeld":
    from buttonhole.weld.arc import seam

    refuse_pairs(described)
    joint, set_up, law = described.joint, described.set_up, described.law
    if quick:
        asked = seam.seam_set_up(joint, set_up, described.runs, law=law)
        return seam.predict(joint, asked, resolution=seam.PREVIEW, count=FEW_SEAMS)
    return seam.predict_set_up(joint, set_up, described.runs, law=law)


def refuse_metals(described: ArcWeldFile) -> None:
    """Refuse wire, gas and metals that make no joint, before anything is computed.

    Raises
    ------
    BadInput
        With the reason; the key is the one in a weld file.
    """
    with placed_refusals():
        if isinstance(described, PlugWeldFile):
            from buttonhole.weld.arc.plug.prediction import refuse_pairs as refuse_plug

            refuse_plug(described.joint, described.set_up)
        else:
            refuse_pairs(described)


def refuse_pairs(described: SeamWeldFile) -> None:
    """Refuse wire, gas and metals that make no joint."""
    from buttonhole.weld.arc.pairing import alloy_objections, gas_objections, sheet_objections

    set_up, joint = described.set_up, described.joint
    steels = tuple(one.metal.steel for one in joint.sheets if one.metal.steel is not None)
    if steels and len(steels) < len(joint.sheets):
        raise BadInput(
            "sheet", "mixes steel and aluminium; an arc does not join them, ask the maker"
        )
    said = sheet_objections(set_up.wire, steels) if steels else alloy_objections(set_up.wire)
    for one in (*said, *gas_objections(set_up.wire, set_up.gas)):
        if one.refused:
            raise BadInput(one.key, one.text)
