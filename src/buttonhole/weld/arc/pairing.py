"""Which gas goes with which wire, and which wire with which sheet: rules that can be read.

The groups are those of ISO 14175; the rules are common practice, no source.
"""

from dataclasses import dataclass

from buttonhole.joint.steel import Family, Steel
from buttonhole.weld.arc.gas import Gas
from buttonhole.weld.arc.wire import BRONZE, Wire, WireMetal

INERT = frozenset({"I1", "I2", "I3"})
STEEL_GASES = frozenset(
    {"M12", "M13", "M14", "M20", "M21", "M22", "M23", "M24", "M25", "M26", "M27"}
    | {"M31", "M32", "M33", "M34", "M35", "C1", "C2"}
)
LITTLE_ACTIVE = frozenset({"M12", "M13"})
STRONG_SHEET = 440e6  # Pa; up to here a maker allows the common wire of 483 MPa (maker-body-manual)


@dataclass(frozen=True, slots=True)
class GasRule:
    """Gas groups a metal of wire is welded with, those tolerated, and why."""

    metal: WireMetal
    good: frozenset[str]
    tolerated: frozenset[str]
    reason: str


GAS_RULES = (
    GasRule(
        WireMetal.STEEL,
        STEEL_GASES,
        frozenset(),
        "steel needs some oxygen or carbon dioxide: under argon alone the arc wanders and the "
        "melt does not wet the sheet",
    ),
    GasRule(
        WireMetal.CUSI,
        INERT,
        LITTLE_ACTIVE,
        "bronze is brazed under argon: active gas burns the silicon, the arc gets hotter and "
        "more steel melts into the braze",
    ),
    GasRule(
        WireMetal.CUAL,
        INERT,
        frozenset(),
        "aluminium bronze is brazed under argon: active gas covers it with oxide and it does not "
        "wet",
    ),
    GasRule(
        WireMetal.ALUMINIUM,
        INERT,
        frozenset(),
        "aluminium is welded under argon: any active gas leaves black oxide and no bond",
    ),
)


@dataclass(frozen=True, slots=True)
class Objection:
    """One reason against a pair; ``refused`` where no weld may be made with it."""

    key: str  # of the weld file
    text: str
    refused: bool


def gas_objections(wire: Wire, gas: Gas) -> tuple[Objection, ...]:
    """Say what stands against a gas with a wire; () where nothing does."""
    (rule,) = (rule for rule in GAS_RULES if rule.metal is wire.metal)
    if gas.group in rule.good:
        return ()
    usual = "M21" if wire.metal is WireMetal.STEEL else "I1"
    tolerated = gas.group in rule.tolerated
    verb = "is only tolerated" if tolerated else "does not go"
    text = f"Gas {gas.group} {verb} with {wire.designation}: {rule.reason}. Usual is {usual}."
    return (Objection("gas", text, refused=not tolerated),)


def sheet_objections(wire: Wire, steels: tuple[Steel, ...]) -> tuple[Objection, ...]:
    """Say what stands against a wire on sheets of steel; () where nothing does."""
    if wire.metal is WireMetal.ALUMINIUM:
        text = (
            f"{wire.designation} does not join steel: aluminium and steel make a brittle layer "
            "that falls apart. Use a steel wire, or a bronze wire if the maker says braze."
        )
        return (Objection("wire", text, refused=True),)
    said = []
    weakest = min(steels, key=lambda steel: steel.tensile_strength)
    if wire.metal in BRONZE:
        return ()
    if weakest.tensile_strength > max(wire.tensile_strength, STRONG_SHEET):
        said.append(
            Objection(
                "wire",
                f"{wire.designation} is weaker than the weakest sheet ({weakest.designation}): "
                "the maker's procedure must name the wire.",
                refused=False,
            )
        )
    if any(steel.family is Family.STAINLESS for steel in steels):
        said.append(
            Objection(
                "wire",
                f"{wire.designation} on stainless sheet rusts and may crack; a stainless wire is "
                "usual. Ask the maker.",
                refused=False,
            )
        )
    return tuple(said)


def alloy_objections(wire: Wire) -> tuple[Objection, ...]:
    """Say what stands against a wire on sheets of aluminium; () where nothing does."""
    if wire.metal is WireMetal.ALUMINIUM:
        return ()
    text = f"{wire.designation} does not join aluminium; give a wire of ISO 18273, as S Al 4043."
    return (Objection("wire", text, refused=True),)
