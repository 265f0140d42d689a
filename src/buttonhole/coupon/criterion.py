"""Criteria for the smallest acceptable weld, each with its source.

The figures for spots stand in the table ``acceptance_criteria``, those for arc welds in
``arc_criteria`` (read by ``coupon.arc.criterion``). The vehicle maker's own figure goes before
them: enter it with ``maker_criterion``.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

import numpy as np

from buttonhole.joint.stack_up import (
    FayingInterface,
    StackUp,
    ThicknessRule,
    governing_thickness,
)
from buttonhole.joint.steel import Steel
from buttonhole.sources import Status, table
from buttonhole.units import BadInput
from buttonhole.weld.strength import Edition, minimum_cross_tension, minimum_tensile_shear

DEFAULT = "4.5-root-t"  # a vehicle maker's own pass line for test pieces, read
STRICTEST = "5-root-t"  # used where a steel is not known

CRASH_CAUTION = (
    "AWS D8.1M says of its criteria that they are not meant for judging welds after a crash."
)


class Limits(StrEnum):
    """What a criterion sets a lower limit to."""

    DIAMETER = "diameter"
    SHEAR_FORCE = "shear force"
    CROSS_TENSION_FORCE = "cross-tension force"
    TORN_DIAMETER = "torn diameter"
    HEAD_DIAMETER = "head diameter"
    FUSED_LENGTH = "fused length"
    LEG = "leg"
    THROAT = "throat"
    PENETRATION = "penetration"
    WETTED_WIDTH = "wetted width"

    @property
    def is_force(self) -> bool:
        """It limits a load, not a size."""
        return self in (Limits.SHEAR_FORCE, Limits.CROSS_TENSION_FORCE)


@dataclass(frozen=True, slots=True)
class Criterion:
    """A rule for the smallest acceptable weld.

    The limit of a diameter is ``factor`` [mm^0.5] times sqrt(t), t in mm, or ``fixed_diameter``
    [m]. For an arc weld it is ``factor`` [-] times ``base`` (by its words) and ``offset`` [m], or
    ``fixed_diameter`` as the fixed size [m]; ``counts`` is false where a smaller one is only noted.
    ``editable`` says that the person may exchange it; what is from memory always is. ``version`` is
    that of the list it was taken from; a verdict keeps the criterion it was made by.

    Raises
    ------
    BadInput
        No source, a figure from memory that can't be edited, or a rule for a size without a figure.
    """

    key: str
    name: str
    quantity: Limits
    factor: float | None  # mm^0.5
    thickness_rule: ThicknessRule
    used_by: str
    source: str  # key in the bibliography, or the maker's document
    status: Status
    note: str = ""
    editable: bool = True
    fixed_diameter: float | None = None  # m
    base: str = ""
    offset: float = 0.0  # m
    counts: bool = True
    version: str = ""

    def __post_init__(self) -> None:
        """Keep the rules that a line has a source and that none from memory is immovable."""
        if not self.source.strip():
            raise BadInput("source", f"of {self.key} is missing; a criterion says where it is from")
        if self.status is Status.MEMORY and not self.editable:
            raise BadInput("editable", f"{self.key} is from memory: it must stay editable")
        if not self.quantity.is_force and (self.factor is None) == (self.fixed_diameter is None):
            raise BadInput("factor", "give either a factor for √t or a fixed diameter")
        for name in ("factor", "fixed_diameter"):
            value = getattr(self, name)
            if value is not None and not (value > 0.0 and math.isfinite(value)):
                raise BadInput(name, f"is {value:g}; give a value above zero")

    @property
    def verified(self) -> bool:
        """The figure was read in a published text or in the maker's document."""
        return self.status is not Status.MEMORY

    @property
    def is_makers(self) -> bool:
        """The maker of this vehicle sets it."""
        return self.key == "maker"

    @property
    def mark(self) -> str:
        """What has to be seen beside it wherever it is used; empty for the maker's own."""
        if self.is_makers:
            return ""
        return "not the maker's" if self.verified else "not the maker's, not verified"

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to say wherever the criterion is used."""
        said = []
        if self.source == "aws-d8-1m":
            said.append(CRASH_CAUTION)
        if not self.verified:
            said.append(
                f"{self.name} is not verified (from memory). Check it in the document or choose "
                "another criterion."
            )
        return tuple(said)


@cache
def criteria() -> tuple[Criterion, ...]:
    """Return every published criterion, those of diameters first."""
    listed = table("acceptance_criteria")
    found = [
        Criterion(
            key=str(row["key"]),
            name=str(row["name"]),
            quantity=Limits(str(row["quantity"])),
            factor=_number(row["factor [mm^0.5]"]),
            thickness_rule=ThicknessRule(str(row["thickness_rule"])),
            used_by=str(row["used_by"]),
            source=str(row["source"]),
            status=Status(str(row["status"])),
            note=str(row["note"] or ""),
        )
        for row in listed.rows()
    ]
    return tuple(found)


def _number(cell: float | str | None) -> float | None:
    return None if cell is None else float(cell)


def find_criterion(key: str) -> Criterion:
    """Return a published criterion by its key.

    Raises
    ------
    BadInput
        No such key; the message lists them.
    """
    for each in criteria():
        if each.key == key:
            return each
    keys = ", ".join(each.key for each in criteria())
    raise BadInput("criterion", f"{key[:40]!r} is none of: {keys}")


def maker_criterion(
    document: str, *, factor: float | None = None, fixed_diameter: float | None = None
) -> Criterion:
    """Return the vehicle maker's own criterion as somebody read it.

    Parameters
    ----------
    document : str
        Reference of the maker's text, with revision.
    factor : float or None
        Of sqrt(t), t in mm, per interface [mm^0.5]; or
    fixed_diameter : float or None
        the diameter printed [m].

    Returns
    -------
    Criterion
        With status read: the person who read it answers for it in the record.

    Raises
    ------
    BadInput
        No document, or not exactly one of the two figures.
    """
    if not document.strip():
        raise BadInput("document", "give the reference and revision of the maker's text")
    figure = (
        f"{fixed_diameter * 1e3:g} mm" if fixed_diameter is not None else f"{factor or 0.0:g} × √t"
    )
    return Criterion(
        key="maker",
        name=f"vehicle maker: {figure}",
        quantity=Limits.DIAMETER,
        factor=factor,
        thickness_rule=ThicknessRule.THINNER_OF_INTERFACE,
        used_by="the maker of this vehicle",
        source=document.strip(),
        status=Status.READ,
        fixed_diameter=fixed_diameter,
    )


def own_criterion(factor: float, reason: str) -> Criterion:
    """Return a criterion the shop sets itself.

    Parameters
    ----------
    factor : float
        Of sqrt(t), t in mm, per interface [mm^0.5].
    reason : str
        Why.

    Returns
    -------
    Criterion
        With status common practice.

    Raises
    ------
    BadInput
        No reason, or a factor not above zero.
    """
    if not reason.strip():
        raise BadInput("reason", "say why this limit and not a published one")
    return Criterion(
        key="own",
        name=f"set by the shop: {factor:g} × √t",
        quantity=Limits.DIAMETER,
        factor=factor,
        thickness_rule=ThicknessRule.THINNER_OF_INTERFACE,
        used_by="this shop",
        source="common-practice",
        status=Status.COMMON_PRACTICE,
        note=reason.strip(),
    )


def root_rule(factor: float, thickness: float) -> float:
    """Return factor times the root of the thickness, both taken in mm.

    Parameters
    ----------
    factor : float
        k [mm^0.5].
    thickness : float
        Governing thickness [m].

    Returns
    -------
    float
        Diameter [m].

    Examples
    --------
    >>> round(root_rule(4.5, 1.2e-3) * 1e3, 2)
    4.93
    """
    return factor * math.sqrt(thickness * 1e3) * 1e-3


def _face(stack: StackUp, interface: FayingInterface | int) -> FayingInterface:
    index = interface.index if isinstance(interface, FayingInterface) else interface
    faces = stack.interfaces
    if not 0 <= index < len(faces):
        raise BadInput("interface", f"is {index}; this stack-up has 0 to {len(faces) - 1}")
    return faces[index]


def _slug(thickness: float) -> float:
    """Return BS 1140's printed slug, interpolated between the cells that are no misprints [m]."""
    good = table("slug_bs1140").where("misprint", "no")
    roots = np.sqrt(good.column("t [mm]"))
    found, root = good.column("slug_min [mm]"), math.sqrt(thickness * 1e3)
    if not roots[0] - 1e-9 <= root <= roots[-1] + 1e-9:
        raise BadInput(
            "thickness",
            f"is {thickness * 1e3:g} mm; BS 1140 prints slugs for {roots[0] ** 2:g} to "
            f"{roots[-1] ** 2:g} mm. Choose another criterion",
        )
    return float(np.interp(root, roots, found)) * 1e-3


def minimum_diameter(
    criterion: Criterion, stack: StackUp, interface: FayingInterface | int
) -> float:
    """Return the smallest acceptable diameter at a faying interface.

    Parameters
    ----------
    criterion : Criterion
        One that limits a diameter.
    stack : StackUp
        The sheets.
    interface : FayingInterface or int
        Which interface, from side A.

    Returns
    -------
    float
        Diameter [m].

    Raises
    ------
    BadInput
        The criterion limits a force, the interface is not there, or its table ends before.

    Sources
    -------
    each criterion names its own; bs-1140: derived by interpolation in sqrt(t).
    """
    face = _face(stack, interface)
    if criterion.quantity is not Limits.DIAMETER:
        raise BadInput(
            "criterion",
            f"{criterion.name} limits a {criterion.quantity.value}; choose one that limits the "
            "diameter of a spot",
        )
    if criterion.fixed_diameter is not None:
        return criterion.fixed_diameter
    thickness = governing_thickness(stack, criterion.thickness_rule, face.index)
    if criterion.key == "bs-1140-slug":
        return _slug(thickness)
    assert criterion.factor is not None  # noqa: S101 - kept by the criterion itself
    return root_rule(criterion.factor, thickness)


def thinner_sheet(face: FayingInterface) -> tuple[Steel, float]:
    """Return steel and thickness [m] of the thinner sheet; of equal ones the weaker."""
    sheet = min((face.sheet_a, face.sheet_b), key=lambda s: (s.thickness, s.steel.tensile_strength))
    return sheet.steel, sheet.thickness


def minimum_force(criterion: Criterion, stack: StackUp, interface: FayingInterface | int) -> float:
    """Return the smallest acceptable load of one weld at a faying interface.

    Parameters
    ----------
    criterion : Criterion
        One that limits a force.
    stack : StackUp
        The sheets.
    interface : FayingInterface or int
        Which interface, from side A.

    Returns
    -------
    float
        Load [N].

    Raises
    ------
    BadInput
        The criterion limits a diameter, or the interface is not there.

    Sources
    -------
    aws-c1-1; aws-d8-1m (from memory).
    """
    steel, thickness = thinner_sheet(_face(stack, interface))
    if criterion.quantity is Limits.CROSS_TENSION_FORCE:
        return minimum_cross_tension(thickness)
    if criterion.quantity is Limits.SHEAR_FORCE:
        edition = Edition.C1_1 if criterion.key == "aws-c1.1-shear" else Edition.D8_1M_2007
        return minimum_tensile_shear(steel.tensile_strength, thickness, edition)
    raise BadInput(
        "criterion", f"{criterion.name} limits a diameter; choose one that limits a force"
    )
