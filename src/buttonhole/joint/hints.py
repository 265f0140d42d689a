"""What a sheet that nobody knows may be, by what can be measured on it; never one grade.

The joint's steel stays the unknown one for every rule, whatever is measured: hints bound what is
possible, and tell a person what to look for. A hint takes a steel out only where it can't be that
steel; habits take none out, they mark what is usual.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from buttonhole.joint.hardness_tensile import spread, tensile_of_hardness
from buttonhole.joint.steel import UNKNOWN_STEEL, Family, Steel
from buttonhole.joint.steel_book import Entry, book
from buttonhole.units import BadInput

# Common practice and judged, no source, all of them: how a sheet on a body may differ from the
# sheet as delivered. Pressing thins and thickens, strains and so strengthens; paint is baked.
THINNED, THICKENED = 0.70, 1.15  # -, of the thickness as delivered
WEAKER = 0.95  # -, of the lowest tensile strength: test direction, ageing
OPEN_END = 1.30  # -, of the lowest tensile strength where a standard sets no upper limit
STRONGER = {  # -, of the highest tensile strength, by pressing
    Family.LOW_CARBON: 1.40,
    Family.BAKE_HARDENING: 1.35,
    Family.HSLA: 1.25,
    Family.DP: 1.20,
    Family.TRIP: 1.25,
    Family.CP: 1.15,
    Family.MS: 1.08,
    Family.PHS: 1.08,
    Family.STAINLESS: 1.80,
}
THICKNESS_OFF = 0.05e-3  # m, a micrometer on a bared edge
HARDNESS_OFF = 0.15  # -, of the reading, a portable tester on sheet
HARDEST_ALUMINIUM = 200.0  # HV; body alloys stay below 140, from memory
UCI_NEEDS, REBOUND_NEEDS = 2e-3, 20e-3  # m of wall; portable-hardness (read)


class Magnet(StrEnum):
    """What a magnet does on the bare metal."""

    STICKS = "sticks"
    WEAK = "weak"
    NOT = "not"


class HardnessTester(StrEnum):
    """What measured the hardness."""

    VICKERS = "vickers"  # on a piece cut out
    UCI = "uci"  # ultrasonic contact impedance
    REBOUND = "rebound"


class Look(StrEnum):
    """How the sheet looks where the paint is off."""

    SPANGLE = "spangle"
    SMOOTH_GREY = "smooth grey"
    MATT_GREY = "matt grey"
    DARK = "dark grey to violet"
    BRIGHT = "bright metal"


class Spark(StrEnum):
    """The sparks of a grinder, beside those of a known mild sheet."""

    PLAIN = "few forks"
    FORKED = "some forks"
    BURSTS = "many bursts"


LOOKS = {  # which coatings look so; from memory
    Look.SPANGLE: ("GI",),
    Look.SMOOTH_GREY: ("GI", "EG", "ZM"),
    Look.MATT_GREY: ("GA", "EG"),
    Look.DARK: ("AlSi", "GA"),
    Look.BRIGHT: ("bare", "AlSi"),
}
SPARKS = {Spark.PLAIN: (0.0, 0.13), Spark.FORKED: (0.08, 0.25), Spark.BURSTS: (0.17, 1.0)}  # wt% C


@dataclass(frozen=True, slots=True)
class Hints:
    """What was found on an unknown sheet, each with how far it may be off (95 %).

    ``thickness`` [m] on bared metal, off by ``thickness_off`` [m]; ``hardness`` [HV], off by
    ``hardness_off`` [HV], None for 15 % of the reading. None: not looked at.

    Raises
    ------
    BadInput
        A figure that no body sheet has.
    """

    thickness: float | None = None
    thickness_off: float = THICKNESS_OFF
    magnet: Magnet | None = None
    hardness: float | None = None
    hardness_off: float | None = None
    tester: HardnessTester = HardnessTester.UCI
    look: Look | None = None
    place: str = ""
    spark: Spark | None = None

    def __post_init__(self) -> None:
        if self.thickness is not None and not 0.2e-3 <= self.thickness <= 6.5e-3:
            raise BadInput(
                "thickness",
                f"is {1e3 * self.thickness:g} mm; give what was measured on bared metal, "
                "0.2 to 6.5 mm",
            )
        if not 0.0 < self.thickness_off <= 1e-3:
            raise BadInput("thickness_off", "give how far it may be off, over 0 up to 1 mm")
        if self.hardness is not None and not 80.0 <= self.hardness <= 650.0:
            raise BadInput("hardness", f"is {self.hardness:g} HV; give a reading of 80 to 650 HV")
        if self.hardness_off is not None and not 0.0 < self.hardness_off <= 200.0:
            raise BadInput("hardness_off", "give how far it may be off, over 0 up to 200 HV")
        if self.place and self.place not in places():
            raise BadInput("place", f"{self.place[:40]!r} is none of: {', '.join(places())}")

    @property
    def nothing(self) -> bool:
        """Nothing was looked at."""
        seen = (self.thickness, self.magnet, self.hardness, self.look, self.spark)
        return not self.place and all(one is None for one in seen)


@dataclass(frozen=True, slots=True)
class Bounded:
    """What remains of the book: ``possible`` steels, and those of them that are ``usual`` so.

    ``tensile`` [Pa] is the span of what the sheet may hold, ``carbon`` [wt%] that of its carbon.
    ``steel`` is the unknown one, always. ``dropped`` counts what each hint took out.
    """

    possible: tuple[Entry, ...]
    usual: tuple[Entry, ...]
    aluminium: bool  # it may be no steel at all
    tensile: tuple[float, float]
    carbon: tuple[float, float]
    families: tuple[Family, ...]
    coatings: tuple[str, ...]  # that look so; () where nothing was said
    dropped: tuple[tuple[str, int], ...]
    notes: tuple[str, ...]

    @property
    def steel(self) -> Steel:
        """The steel of the joint for every rule: unknown."""
        return UNKNOWN_STEEL


SETTLES = (
    "the vehicle maker's material data for this part and vehicle number",
    "the label or stamp of a new part, with its designation",
    "a spectrometer reading (spark or portable optical emission) on bared metal: it gives the "
    "composition",
    "a tensile test or Vickers hardness on a piece cut from the part that is thrown away",
)


def places() -> tuple[str, ...]:
    """Return the places in a body that the habits name."""
    return tuple(sorted({place for one in book() for place in one.habit.places}))


def bounds(hints: Hints) -> Bounded:
    """Bound what an unknown sheet may be.

    Parameters
    ----------
    hints : Hints
        What was found on it.

    Returns
    -------
    Bounded
        The steels that remain possible. The true one stays among them as long as each reading is
        no farther off than it says and the sheet was not softened by heat.

    Sources
    -------
    iso-18265 (hardness); portable-hardness (wall that a tester needs); common practice, no source
    """
    notes: list[str] = []
    left = list(book())
    dropped = []
    for name, stays in _tests(hints, notes):
        kept = [one for one in left if stays(one)]
        dropped.append((name, len(left) - len(kept)))
        left = kept
    read = hints.hardness is not None and not _is_set_aside(hints)
    too_hard = read and _reading_span(hints)[0] > HARDEST_ALUMINIUM
    aluminium = hints.magnet in (None, Magnet.NOT) and not too_hard
    usual = [one for one in left if _is_usual(one, hints)]
    if not left:
        notes.append(
            "No steel of the book fits: measure again on bared metal, away from welds. It may be "
            "aluminium, or a steel that the book does not hold."
        )
    elif len(left) == 1:
        notes.append(
            f"One steel of the book remains, {left[0].steel.designation}. It is still not known to "
            "be that one: the book does not hold every steel."
        )
    elif not usual:
        notes.append("No steel that remains is usual with all of these hints: check each of them.")
    return Bounded(
        possible=tuple(left),
        usual=tuple(usual),
        aluminium=aluminium,
        tensile=_tensile(left, hints),
        carbon=_carbon(left),
        families=tuple(family for family in Family if any(e.steel.family is family for e in left)),
        coatings=LOOKS[hints.look] if hints.look else (),
        dropped=tuple(dropped),
        notes=tuple(notes + _general_notes(hints)),
    )


Stays = Callable[[Entry], bool]


class _Test:
    """One hint that can take steels out."""

    def __init__(self, hints: Hints) -> None:
        self.hints = hints

    def thickness(self, one: Entry) -> bool:
        measured, off = self.hints.thickness or 0.0, self.hints.thickness_off
        low, high = one.habit.made
        return THINNED * low - off <= measured <= THICKENED * high + off

    def magnet(self, one: Entry) -> bool:
        # Iron that is not austenitic is drawn to a magnet. Austenitic steel that was pressed may
        # be too, so a magnet that sticks takes no steel out.
        return self.hints.magnet is not Magnet.NOT or one.steel.family is Family.STAINLESS

    def hardness(self, one: Entry) -> bool:
        low, high = on_the_body(one.steel)
        band = _by_hardness(self.hints, one.steel.family)
        return band[0] <= high and low <= band[1]


def _tests(hints: Hints, notes: list[str]) -> Iterator[tuple[str, Stays]]:
    test = _Test(hints)
    if hints.thickness is not None:
        yield "thickness", test.thickness
    if hints.magnet is not None:
        yield "magnet", test.magnet
    if hints.hardness is not None:
        if _is_set_aside(hints):
            notes.append(
                "The hardness is set aside: a rebound tester needs about 20 mm of wall, and body "
                "sheet swings. Use ultrasonic contact, or cut a piece out."
            )
        else:
            yield "hardness", test.hardness


def _is_set_aside(hints: Hints) -> bool:
    wall = hints.thickness if hints.thickness is not None else 0.0
    return hints.tester is HardnessTester.REBOUND and wall < REBOUND_NEEDS


def on_the_body(steel: Steel) -> tuple[float, float]:
    """Span of tensile strength that a sheet of a steel may have once it is part of a body.

    Parameters
    ----------
    steel : Steel
        A listed steel.

    Returns
    -------
    tuple of float
        Lowest and highest tensile strength [Pa], pressed and paint-baked, not softened by heat.

    Sources
    -------
    common practice, no source
    """
    low, high = steel.tensile_range
    top = high if math.isfinite(high) else OPEN_END * low
    return WEAKER * low, STRONGER[steel.family] * top


def _reading_span(hints: Hints) -> tuple[float, float]:
    reading = hints.hardness or 0.0
    off = hints.hardness_off if hints.hardness_off is not None else HARDNESS_OFF * reading
    wall = hints.thickness
    if hints.tester is HardnessTester.UCI and (wall is None or wall < UCI_NEEDS):
        off *= 1.5  # a thin wall swings with the probe; judged, no source
    return max(reading - off, 80.0), min(reading + off, 650.0)


@lru_cache(maxsize=64)
def _by_hardness(hints: Hints, family: Family) -> tuple[float, float]:
    """Tensile strengths that a reading allows [Pa]; at the ends of the table it bounds no more."""
    low, high = _reading_span(hints)
    share = spread(family)
    least = tensile_of_hardness(low).value * (1.0 - share) if low > 80.0 else 0.0
    most = tensile_of_hardness(high).value * (1.0 + share) if high < 650.0 else math.inf
    return least, most


def _tensile(left: list[Entry], hints: Hints) -> tuple[float, float]:
    if not left:
        return math.nan, math.nan
    use = hints.hardness is not None and not _is_set_aside(hints)
    spans = []
    for one in left:
        low, high = on_the_body(one.steel)
        least, most = _by_hardness(hints, one.steel.family) if use else (0.0, math.inf)
        spans.append((max(low, least), min(high, most)))
    return min(low for low, _ in spans), max(high for _, high in spans)


CAST = 1.0 / 3.0  # -, how far a cast may be off its typical composition


def composition_span(one: Entry, element: str) -> tuple[float, float]:
    """Least and most that a cast of a steel may hold of an element [wt%], by its limit if known."""
    typical = one.steel.composition.get(element, 0.0)
    most = one.steel.composition_limit.get(element, typical * (1.0 + CAST))
    return typical * (1.0 - CAST), max(most, typical)


def _carbon(left: list[Entry]) -> tuple[float, float]:
    if not left:
        return math.nan, math.nan
    spans = [composition_span(one, "C") for one in left]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _is_usual(one: Entry, hints: Hints) -> bool:
    low, high = one.habit.usual
    fits = [
        hints.thickness is None
        or 0.85 * low - hints.thickness_off <= hints.thickness <= 1.05 * high + hints.thickness_off,
        not hints.place or hints.place in one.habit.places,
        hints.magnet is not Magnet.STICKS or one.steel.family is not Family.STAINLESS,
        hints.magnet is not Magnet.WEAK or one.steel.family is Family.STAINLESS,
    ]
    if hints.spark is not None:
        least, most = SPARKS[hints.spark]
        fits.append(least <= one.steel.composition.get("C", 0.0) <= most)
    if hints.look is Look.DARK:
        fits.append(one.steel.family is Family.PHS)
    return all(fits)


def _general_notes(hints: Hints) -> list[str]:
    said = []
    if hints.hardness is not None:
        said.append(
            "Measure hardness on bared metal at least 20 mm from welds and from where it was "
            "heated: a softened zone reads like a weaker steel."
        )
    if hints.magnet is Magnet.WEAK:
        said.append(
            "A weak pull is no proof: paint, filler and thin sheet weaken it, and pressed "
            "austenitic steel pulls a little. Try again on bared metal."
        )
    if hints.spark is not None:
        said.append("Sparks of thin sheet tell little: taken as a habit, nothing was taken out.")
    return said
