"""What an arc weld's keys join and set, as coupons are read and compared by."""

from typing import Any

from buttonhole.coupon.arc.piece import ArcForm, ArcPiece, ArcSettings, ArcSheet, settings_of
from buttonhole.desk.arc_view import Keys
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile, arc_weld_file_from
from buttonhole.joint.coating import Coating
from buttonhole.joint.designation import sheet_as_printed
from buttonhole.weld.arc.seam.joint import JointKind


def arc_piece(keys: Keys) -> ArcPiece:
    """
    Say what a weld joins.

    Parameters
    ----------
    keys : mapping
        Of an arc weld's file.

    Returns
    -------
    ArcPiece
        Its sheets in the order of the file.

    Raises
    ------
    BadInput
        The first thing that is wrong.
    """
    weld = arc_weld_file_from(keys)
    filler = weld.set_up.wire.metal
    backing = str(keys.get("coupon", {}).get("backing", "none"))
    if isinstance(weld, PlugWeldFile):
        joint = weld.joint
        sheets = tuple(
            _sheet(entry, thickness)
            for entry, thickness in zip(keys["sheet"], joint.thicknesses, strict=True)
        )
        gap = joint.stack.gap
        return ArcPiece(ArcForm.PLUG, filler, sheets, joint.hole_diameters, gap, backing=backing)
    seam = weld.joint
    lap = seam.kind is JointKind.LAP
    listed = [seam.upper, seam.lower]
    if len(keys["sheet"]) == 3:
        listed.insert(1, seam.right or seam.upper)
    sheets = tuple(
        _sheet(entry, one.thickness) for entry, one in zip(keys["sheet"], listed, strict=True)
    )
    return ArcPiece(
        ArcForm.LAP if lap else ArcForm.BUTT_BACKED,
        filler,
        sheets,
        gap=seam.gap,
        root_gap=seam.root_opening,
        length=seam.length,
        backing=backing,
    )


def arc_settings(keys: Keys) -> ArcSettings:
    """
    Say what a weld sets.

    Parameters
    ----------
    keys : mapping
        Of an arc weld's file.

    Returns
    -------
    ArcSettings
        By the names of wire and gas.

    Raises
    ------
    BadInput
        The first thing that is wrong.
    """
    weld = arc_weld_file_from(keys)
    path = weld.joint.path.value if isinstance(weld, PlugWeldFile) else ""
    return settings_of(weld.set_up, path=path, parts=_parts(weld))


def _parts(weld: PlugWeldFile | SeamWeldFile) -> str:
    """How a seam is divided, in the order welded."""
    if isinstance(weld, PlugWeldFile) or weld.runs is None:
        return ""
    return ", ".join(
        f"{one.start * 1e3:g}-{one.end * 1e3:g} mm"
        + (f" after {one.pause:g} s" if one.pause else "")
        for one in weld.runs
    )


def _sheet(entry: Any, thickness: float) -> ArcSheet:
    if entry.get("alloy"):
        return ArcSheet(thickness, alloy=str(entry["alloy"]).strip())
    printed = Coating(entry.get("coating", Coating.UNKNOWN.value))
    steel, coating = sheet_as_printed(entry["steel"], printed)
    return ArcSheet(thickness, steel, coating=coating)
