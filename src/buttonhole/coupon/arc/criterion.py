"""Criteria for arc welds: what is measured, the smallest acceptable, and who asks for it.

They stand in the table ``arc_criteria``; the vehicle maker's own figure goes before them.
"""

from functools import cache

from buttonhole.coupon.arc.fracture import family
from buttonhole.coupon.arc.piece import ArcForm, ArcInterface, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Criterion, Limits, root_rule
from buttonhole.joint.stack_up import ThicknessRule
from buttonhole.sources import Status, table
from buttonhole.units import BadInput

HOLE, THINNER, ROOT = "hole", "thinner sheet", "root of the thinner sheet"
TESTED, SHEET = "tested length", "sheet"
# Taken where nobody chose; our own choice among the rules of the table.
USUAL = {
    "plug": "plug-5-of-8",
    "plug aluminium": "plug-5-of-8",
    "plug braze": "plug-braze-wetted",
    "seam": "seam-leg-t",
    "aluminium seam": "seam-leg-t",
    "braze": "fused-whole-length",
}
STRICTEST = {"plug": "plug-whole-hole"}  # where a sheet is not known
NO_HOLE = "plug-4.5-root-t"


@cache
def _listed() -> tuple[tuple[Criterion, frozenset[str]], ...]:
    listed = table("arc_criteria")
    return tuple(
        (
            Criterion(
                key=str(row["key"]),
                name=str(row["name"]),
                quantity=Limits(str(row["quantity"])),
                factor=float(row["factor [-]"] or 0.0),
                thickness_rule=ThicknessRule.THINNER_OF_INTERFACE,
                used_by=str(row["used_by"]),
                source=str(row["source"]),
                status=Status(str(row["status"])),
                note=str(row["note"] or ""),
                base=str(row["base"]),
                offset=float(row["offset [mm]"] or 0.0) * 1e-3,
                counts=row["counts"] == "must",
                version="1",
            ),
            frozenset(str(row["on"]).split("|")),
        )
        for row in listed.rows()
    )


def arc_criteria(piece: ArcPiece | None = None) -> tuple[Criterion, ...]:
    """Return every published criterion, or those for welds of one kind, in the table's order."""
    if piece is None:
        return tuple(one for one, _ in _listed())
    return tuple(one for one, on in _listed() if family(piece) in on)


def find_arc_criterion(key: str, piece: ArcPiece | None = None) -> Criterion:
    """Return a published criterion by its key.

    Parameters
    ----------
    key : str
        As listed.
    piece : ArcPiece or None
        What it is to be used on.

    Returns
    -------
    Criterion
        The criterion.

    Raises
    ------
    BadInput
        No such key for such a weld; the message lists them.
    """
    listed = arc_criteria(piece)
    for one in listed:
        if one.key == key:
            return one
    on = "" if piece is None else f" for a {piece.form.words}"
    keys = ", ".join(one.key for one in listed)
    raise BadInput("criterion", f"{key[:40]!r} is no rule{on}; give one of: {keys}")


def usual_arc_criterion(piece: ArcPiece) -> Criterion:
    """Return the criterion where nobody chose one: stricter where a sheet is not known."""
    kind = family(piece)
    if piece.form is ArcForm.BUTT_BACKED:
        return find_arc_criterion("fused-whole-length", piece)
    if piece.form is ArcForm.PLUG and piece.holes[0] <= 0.0:
        return find_arc_criterion(NO_HOLE if not piece.brazed else USUAL[kind], piece)
    if piece.has_unknown and kind in STRICTEST:
        return find_arc_criterion(STRICTEST[kind], piece)
    return find_arc_criterion(USUAL[kind], piece)


def maker_arc_criterion(document: str, quantity: Limits, size: float) -> Criterion:
    """Return the vehicle maker's own criterion for an arc weld as somebody read it.

    Parameters
    ----------
    document : str
        Reference of the maker's text, with revision.
    quantity : Limits
        What it limits: torn diameter, leg, ...
    size : float
        The smallest it prints [m].

    Returns
    -------
    Criterion
        With status read: the person who read it answers for it in the record.

    Raises
    ------
    BadInput
        No document, a force, or no size.
    """
    if not document.strip():
        raise BadInput("document", "give the reference and revision of the maker's text")
    return _fixed("maker", f"vehicle maker: {quantity.value}", document.strip(), quantity, size)


def own_arc_criterion(quantity: Limits, size: float, reason: str) -> Criterion:
    """Return a criterion the shop sets itself.

    Parameters
    ----------
    quantity : Limits
        What it limits.
    size : float
        The smallest accepted [m].
    reason : str
        Why.

    Returns
    -------
    Criterion
        With status common practice; it is marked as not the maker's.

    Raises
    ------
    BadInput
        No reason, a force, or no size.
    """
    if not reason.strip():
        raise BadInput("reason", "say why this limit and not a published one")
    return _fixed("own", f"set by the shop: {quantity.value}", reason.strip(), quantity, size)


def _fixed(key: str, name: str, said: str, quantity: Limits, size: float) -> Criterion:
    if quantity.is_force or quantity is Limits.DIAMETER:
        listed = ", ".join(one.quantity.value for one in arc_criteria())
        raise BadInput("quantity", f"{quantity.value} is not measured here; give one of {listed}")
    maker = key == "maker"
    return Criterion(
        key=key,
        name=f"{name} {size * 1e3:g} mm",
        quantity=quantity,
        factor=None,
        thickness_rule=ThicknessRule.THINNER_OF_INTERFACE,
        used_by="the maker of this vehicle" if maker else "this shop",
        source=said if maker else "common-practice",
        status=Status.READ if maker else Status.COMMON_PRACTICE,
        note="" if maker else said,
        fixed_diameter=size,
    )


def smallest(
    criterion: Criterion, interface: ArcInterface, reading: ArcReading | None = None
) -> float:
    """Return the smallest acceptable size at an interface.

    Parameters
    ----------
    criterion : Criterion
        One for arc welds.
    interface : ArcInterface
        Its sheets and the hole.
    reading : ArcReading or None
        Whose measured hole and tested length go before what was described; a criterion of the
        tested length needs it.

    Returns
    -------
    float
        Size [m]; for a share of each sheet that of the thinner one.

    Raises
    ------
    BadInput
        It goes by a hole or a length that nobody gave, or it is for spots.
    """
    if criterion.fixed_diameter is not None:
        return criterion.fixed_diameter
    factor = criterion.factor or 0.0
    thin = interface.thinner_thickness
    if criterion.base == ROOT:
        return root_rule(factor, thin) + criterion.offset
    if criterion.base in (THINNER, SHEET):
        return factor * thin + criterion.offset
    if criterion.base == HOLE:
        hole = (reading.mean_hole if reading else None) or interface.hole
        if hole <= 0.0:
            raise BadInput(
                "criterion", f"{criterion.name} goes by the hole, and there is none; take {NO_HOLE}"
            )
        return factor * hole + criterion.offset
    if criterion.base == TESTED:
        length = reading.tested_length if reading else None
        if length is None:
            raise BadInput("tested_length", f"is missing; {criterion.name} goes by it")
        return factor * length + criterion.offset
    raise BadInput("criterion", f"{criterion.name} is no rule for an arc weld")


def shares(criterion: Criterion, piece: ArcPiece) -> tuple[float, ...]:
    """Return the smallest acceptable depth in each sheet that is read in a section.

    Parameters
    ----------
    criterion : Criterion
        One that limits the penetration.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    tuple of float
        Of each sheet of a seam from the side welded [m]; of a plug of each sheet below a hole.
    """
    sheets = piece.sheets[1:] if piece.form is ArcForm.PLUG else piece.sheets
    if criterion.fixed_diameter is not None:
        return (criterion.fixed_diameter,) * len(sheets)
    return tuple((criterion.factor or 0.0) * sheet.thickness for sheet in sheets)
