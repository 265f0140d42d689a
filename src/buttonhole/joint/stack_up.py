"""The sheets of one weld from side A to side B, and what to mind about them."""

import math
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import HARDENED, MULTIPHASE, Family, Steel
from buttonhole.units import BadInput

MIN_SHEETS, MAX_SHEETS = 2, 4
MAX_GAP = 5e-3  # m; more is no gap but parts that do not fit
NEGLIGIBLE = 1e-9  # relative; 2.1 mm on 0.7 mm is 3:1, not more


class ThicknessRule(StrEnum):
    """Which sheet's thickness governs; the documents differ, so the rule is part of the answer."""

    THINNER_OF_INTERFACE = "thinner of the interface"
    AWS_GMT = "AWS D8.1M GMT"  # two sheets: the thinner; three: the second thickest
    BS_1140 = "BS 1140 second thinnest"  # two sheets: the thinner; three: the second thinnest
    THINNEST_OUTSIDE = "thinnest outside sheet"


@dataclass(frozen=True, slots=True)
class FayingInterface:
    """Where two sheets of a stack-up meet; ``index`` counts from side A, from 0."""

    index: int
    sheet_a: Sheet
    sheet_b: Sheet

    @property
    def thinner_thickness(self) -> float:
        """Thickness of the thinner sheet of the two [m]."""
        return min(self.sheet_a.thickness, self.sheet_b.thickness)

    @property
    def coated(self) -> bool:
        """Something lies between the sheets; an unknown coating counts as one."""
        return any(s.coating is not Coating.BARE for s in (self.sheet_a, self.sheet_b))


@dataclass(frozen=True, slots=True)
class StackUp:
    """Two to four sheets from side A to side B; ``gap`` [m] before force, the widest of them.

    Raises
    ------
    BadInput
        Fewer than two or more than four sheets, or a gap that is none.
    """

    sheets: tuple[Sheet, ...]
    gap: float = 0.0

    def __post_init__(self) -> None:
        if not MIN_SHEETS <= len(self.sheets) <= MAX_SHEETS:
            raise BadInput(
                "sheet",
                f"{_counted(len(self.sheets))} given; a stack-up has "
                f"{MIN_SHEETS} to {MAX_SHEETS} sheets",
            )
        if not 0.0 <= self.gap <= MAX_GAP:  # also catches NaN
            raise BadInput(
                "gap",
                f"is {self.gap * 1e3:g} mm; give the widest gap between two sheets before the "
                f"electrodes close, 0 to {MAX_GAP * 1e3:g} mm",
            )

    @property
    def interfaces(self) -> tuple[FayingInterface, ...]:
        """The faying interfaces from side A."""
        pairs = zip(self.sheets, self.sheets[1:], strict=False)
        return tuple(FayingInterface(i, a, b) for i, (a, b) in enumerate(pairs))

    @property
    def total_thickness(self) -> float:
        """Thickness of all sheets [m], without the gap."""
        return math.fsum(sheet.thickness for sheet in self.sheets)

    @property
    def thickness_ratio(self) -> float:
        """Thickest over thinnest sheet [-]."""
        found = [sheet.thickness for sheet in self.sheets]
        return max(found) / min(found)

    @property
    def has_unknown(self) -> bool:
        """Some sheet's steel or coating is not known."""
        return any(s.steel.is_unknown or s.coating is Coating.UNKNOWN for s in self.sheets)


def _counted(number: int) -> str:
    return "1 sheet" if number == 1 else f"{number} sheets"


def governing_thickness(
    stack: StackUp, rule: ThicknessRule | str, interface: int | None = None
) -> float:
    """Return the sheet thickness a rule goes by.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    rule : ThicknessRule or str
        Which sheet governs. The AWS and BS rules are printed for two and three sheets; for four
        they are carried on in the same words and then differ from each other.
    interface : int or None
        Faying interface from side A; needed by the interface rule only.

    Returns
    -------
    float
        Thickness [m].

    Raises
    ------
    BadInput
        No such rule, or no such interface.

    Sources
    -------
    aws-d8-1m (definition read); bs-1140 (read in an equipment brochure); rw-practice-notes.
    """
    try:
        rule = ThicknessRule(rule)
    except ValueError as error:
        raise BadInput("rule", f"{rule!r} is none of: {', '.join(ThicknessRule)}") from error
    ordered = sorted(sheet.thickness for sheet in stack.sheets)
    if rule is ThicknessRule.AWS_GMT:
        return ordered[-2]
    if rule is ThicknessRule.BS_1140:
        return ordered[0] if len(ordered) == 2 else ordered[1]
    if rule is ThicknessRule.THINNEST_OUTSIDE:
        return min(stack.sheets[0].thickness, stack.sheets[-1].thickness)
    faces = stack.interfaces
    if interface is None or not 0 <= interface < len(faces):
        raise BadInput(
            "interface", f"is {interface}; say which faying interface, 0 to {len(faces) - 1}"
        )
    return faces[interface].thinner_thickness


# Mildest first. An unknown steel may be any of them, so it counts as the worst.
SENSITIVITY = (
    Family.LOW_CARBON,
    Family.BAKE_HARDENING,
    Family.HSLA,
    Family.STAINLESS,
    Family.DP,
    Family.CP,
    Family.TRIP,
    Family.MS,
    Family.PHS,
    Family.UNKNOWN,
)


def governing_steel(stack: StackUp) -> Steel:
    """Return the steel of the stack that suffers most from the heat; an unknown one before all."""
    return max((s.steel for s in stack.sheets), key=lambda steel: SENSITIVITY.index(steel.family))


@dataclass(frozen=True, slots=True)
class Caution:
    """Something to mind: ``code`` for programs, ``text`` for people, ``rule`` and its source."""

    code: str
    text: str
    rule: str
    source: str  # key in the bibliography


def cautions(stack: StackUp) -> tuple[Caution, ...]:
    """Return what to mind about a stack-up, the sheets' sizes first, then what they are made of."""
    return tuple(_sizes(stack) + _steels(stack) + _coatings(stack))


def _over(value: float, limit: float) -> bool:
    return value > limit * (1.0 + NEGLIGIBLE)


def _mm(length: float) -> str:
    return f"{length * 1e3:.3g} mm"


def _sizes(stack: StackUp) -> list[Caution]:
    return _proportions(stack) + _totals(stack) + _scope(stack)


def _proportions(stack: StackUp) -> list[Caution]:
    found = []
    total = stack.total_thickness
    outside = min(stack.sheets[0].thickness, stack.sheets[-1].thickness)
    if _over(stack.thickness_ratio, 3.0):
        found.append(
            Caution(
                "thickness-ratio",
                f"The thickest sheet is {stack.thickness_ratio:.3g} times the thinnest. ISO 14373 "
                "ends at 3:1: the weld may not reach the thin sheet. Prove it on coupons or ask "
                "the vehicle maker.",
                "ISO 14373: thickness ratio not over 3:1",
                "iso-14373",
            )
        )
    if _over(total, 4.0 * outside):
        found.append(
            Caution(
                "pile-up",
                f"The stack is {total / outside:.3g} times its thinner outside sheet. Over 4 times "
                "the heat centre lies far from that sheet.",
                "pile-up not over 4 times the thinnest outside sheet",
                "rw-practice-notes",
            )
        )
    if len(stack.sheets) > 2 and not _over(outside, 0.8e-3) and _over(total, 4.0 * outside):
        found.append(
            Caution(
                "thin-outer-sheet",
                f"An outside sheet of {_mm(outside)} lies on {_mm(total - outside)}. Its interface "
                "melts last: look at that interface first when you read the coupon.",
                "thin outer sheet (up to 0.8 mm, stack over 4 times as thick)",
                "common-practice",
            )
        )
    return found


def _totals(stack: StackUp) -> list[Caution]:
    found = []
    total = stack.total_thickness
    if len(stack.sheets) == 3 and _over(total, 9e-3):
        found.append(
            Caution(
                "total-thickness",
                f"Three sheets of together {_mm(total)}: ISO 14373:2006 ends at 9 mm.",
                "ISO 14373:2006: three sheets not over 9 mm",
                "iso-14373",
            )
        )
    elif _over(total, 6e-3):
        found.append(
            Caution(
                "total-thickness",
                f"The stack is {_mm(total)} thick. Many squeeze guns end at 5 to 6 mm; "
                "check yours.",
                "total thickness of squeeze guns, 5 to 6 mm",
                "common-practice",
            )
        )
    if stack.gap > 0.0:
        found.append(
            Caution(
                "gap",
                f"A gap of {_mm(stack.gap)} takes force away from the weld and invites splash. "
                "Close it with clamps first.",
                "close the gap before welding",
                "common-practice",
            )
        )
    return found


def _scope(stack: StackUp) -> list[Caution]:
    found = []
    thickness = [sheet.thickness for sheet in stack.sheets]
    if min(thickness) < 0.4e-3 * (1 - NEGLIGIBLE) or _over(max(thickness), 3e-3):
        found.append(
            Caution(
                "out-of-scope",
                "A sheet lies outside the 0.4 to 3 mm that ISO 14373 covers.",
                "ISO 14373: single sheets 0.4 to 3 mm",
                "iso-14373",
            )
        )
    if len(stack.sheets) == MAX_SHEETS:
        found.append(
            Caution(
                "four-sheets",
                "ISO 14373 covers two and three sheets. For four the published thickness rules "
                "differ: keep the rule with the record and test every interface.",
                "ISO 14373: two or three sheets",
                "iso-14373",
            )
        )
    return found


def _steels(stack: StackUp) -> list[Caution]:
    found = []
    families = {sheet.steel.family for sheet in stack.sheets}
    if Family.UNKNOWN in families:
        found.append(
            Caution(
                "unknown-steel",
                "A sheet's steel is not known. It counts as the most sensitive one: no method may "
                "be released before the vehicle maker's data names it.",
                "unknown counts as the worst",
                "common-practice",
            )
        )
    if families & HARDENED:
        found.append(
            Caution(
                "hot-stamped" if Family.PHS in families else "martensitic",
                "Hardened steel softens beside the weld and can't be hardened again. Weld it only "
                "where and how the vehicle maker says; do not heat or straighten it.",
                "the vehicle maker's procedure decides",
                "common-practice",
            )
        )
    if families & MULTIPHASE:
        found.append(
            Caution(
                "interfacial-fracture",
                "Multiphase steel may break through the weld although its diameter is 4 times "
                "the root of the thickness.",
                "4*sqrt(t) does not guarantee pull-out in high-strength steel",
                "pouranvari-2011",
            )
        )
    if Family.STAINLESS in families and len(families) > 1:
        found.append(
            Caution(
                "dissimilar",
                "Stainless steel heats several times faster than the other sheet: the nugget grows "
                "into the stainless side.",
                "stainless steel welded to carbon steel",
                "common-practice",
            )
        )
    return found


def _coatings(stack: StackUp) -> list[Caution]:
    found = []
    coatings = {sheet.coating for sheet in stack.sheets}
    strong = any(sheet.steel.is_sensitive for sheet in stack.sheets)
    if coatings & ZINC and strong:
        found.append(
            Caution(
                "zinc-on-high-strength",
                "Molten zinc can crack high-strength steel while it is hot. Keep force, hold time "
                "and electrode angle right; look at the surface of the coupon with a lens.",
                "liquid-metal embrittlement",
                "common-practice",
            )
        )
    if coatings & ZINC:
        found.append(
            Caution(
                "zinc-fume",
                "Zinc boils at 907 °C. Ventilate and keep your head out of the fume.",
                "zinc fume",
                "handbook-memory",
            )
        )
    if Coating.ALSI in coatings:
        found.append(
            Caution(
                "aluminium-silicon",
                "The layer of hot-stamped aluminium-silicon sheet resists at first and then gives "
                "way suddenly: use a slope or a first pulse.",
                "aluminium-silicon layer after the furnace",
                "handbook-memory",
            )
        )
    if Coating.PRIMER in coatings:
        found.append(
            Caution(
                "primer",
                "Use only a weld-through primer the vehicle maker allows, thin and dry; it burns: "
                "ventilate.",
                "weld-through primer",
                "common-practice",
            )
        )
    if Coating.UNKNOWN in coatings:
        found.append(
            Caution(
                "unknown-coating",
                "A sheet's coating is not known: it counts as coated. Find out before you weld.",
                "unknown counts as the worst",
                "common-practice",
            )
        )
    return found
