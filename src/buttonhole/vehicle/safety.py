"""Which gates a job has: what is made safe before work, and why it applies here.

A gate informs and records. The vehicle maker's procedure and local rules decide what is enough.
The figures (300 mm, 100 mm) are common practice without a source.
"""

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.units import BadInput


class Powertrain(StrEnum):
    """What drives the vehicle; the value is the word in records."""

    UNKNOWN = "unknown"
    COMBUSTION = "combustion"
    HYBRID = "hybrid"
    ELECTRIC = "electric"
    GAS = "gas"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "unknown": "Nobody looked yet",
            "combustion": "Petrol or diesel only",
            "hybrid": "Hybrid, mild hybrid too",
            "electric": "Electric",
            "gas": "Gas or hydrogen tank",
        }[self.value]


class Answer(StrEnum):
    """What a person signs at a gate."""

    DONE = "done"
    NOT_NEEDED = "not_needed"
    CLEARED = "cleared"
    NOT_CLEARED = "not_cleared"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "done": "signed",
            "not_needed": "not needed here",
            "cleared": "cleared",
            "not_cleared": "not cleared",
        }[self.value]


class Asks(StrEnum):
    """What a gate asks beside the signature."""

    WHO = "who"  # made safe by whom
    WHEN = "when"  # at which time of day
    WAIT = "wait"  # the maker's waiting time
    WHAT = "what"  # which parts


@dataclass(frozen=True, slots=True)
class Gate:
    """A gate: its key in the record, the sentence a person signs, what it asks beside.

    ``daily``: a signature of another day says nothing about today. ``private``: only cleared or not
    cleared is kept, nobody's name but the signer's.
    """

    key: str
    words: str
    asks: tuple[Asks, ...] = ()
    daily: bool = False
    private: bool = False


@dataclass(frozen=True, slots=True)
class JobFacts:
    """What is known of a job that gates follow from.

    ``zinc``, ``aluminium`` and ``arc`` name the joints they are true of; ``steel`` says whether any
    sheet is steel; ``near`` holds what heat could reach, as told at the joints.
    """

    powertrain: Powertrain = Powertrain.UNKNOWN
    zinc: tuple[str, ...] = ()
    aluminium: tuple[str, ...] = ()
    arc: tuple[str, ...] = ()
    steel: bool = False
    near: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class GateNeed:
    """Whether a gate applies to a job, and why."""

    gate: Gate
    needed: bool
    because: str = ""


GATES = (
    Gate(
        "high_voltage",
        "High voltage: none in this vehicle, or made safe by a trained person.",
        (Asks.WHO, Asks.WHEN),
    ),
    Gate(
        "gas",
        "Gas or hydrogen tank: shut off, vented and guarded as the maker says.",
        (Asks.WHO, Asks.WHEN),
    ),
    Gate(
        "battery",
        "12 V battery: both cables isolated, the maker's waiting time is over.",
        (Asks.WHEN, Asks.WAIT),
    ),
    Gate(
        "restraints",
        "Airbags, belts and control units within 300 mm of a weld are out, as the maker says.",
        (Asks.WHAT,),
    ),
    Gate(
        "sealer",
        "Sealer, foam, adhesive and underseal within 100 mm of a weld are removed.",
    ),
    Gate(
        "fire",
        "Fuel and brake lines, wiring and glass are away or covered; blankets and extinguisher are "
        "there; fire watch set.",
        daily=True,
    ),
    Gate(
        "extraction",
        "Extraction runs at the weld; eyes, ears, gloves, breathing protection on.",
        daily=True,
    ),
    Gate(
        "aluminium",
        "Tools, discs and brushes of aluminium and steel are kept apart; dust is drawn off apart.",
        daily=True,
    ),
    Gate(
        "implants",
        "Everybody near the gun is cleared for strong magnetic fields.",
        daily=True,
        private=True,
    ),
    Gate("dimensions", "The body is measured and in its dimensions before welding."),
)


def find_gate(key: str) -> Gate:
    """
    Find a gate.

    Parameters
    ----------
    key : str
        Its key.

    Returns
    -------
    Gate
        The gate.

    Raises
    ------
    BadInput
        When there is no such gate.
    """
    for one in GATES:
        if one.key == key:
            return one
    raise BadInput("gate", f"is {key!r}; one of {', '.join(g.key for g in GATES)}")


def needed_gates(facts: JobFacts) -> tuple[GateNeed, ...]:
    """
    Say which gates apply to a job. What nobody told makes a gate apply, never the reverse.

    Parameters
    ----------
    facts : JobFacts
        What is known.

    Returns
    -------
    tuple of GateNeed
        All gates in their order.
    """
    return tuple(_need(one, facts) for one in GATES)


def _need(gate: Gate, facts: JobFacts) -> GateNeed:
    plain = {
        "high_voltage": _high_voltage,
        "gas": _gas,
        "aluminium": _aluminium,
        "extraction": _extraction,
        "sealer": _sealer,
        "fire": _fire,
        "restraints": _restraints,
    }.get(gate.key)
    needed, because = plain(facts) if plain else (True, "")
    return GateNeed(gate, needed, because)


def _high_voltage(facts: JobFacts) -> tuple[bool, str]:
    if facts.powertrain in (Powertrain.HYBRID, Powertrain.ELECTRIC):
        return True, "The vehicle has a high-voltage battery. Only a trained person makes it safe."
    if facts.powertrain is Powertrain.COMBUSTION:
        return False, "Told at intake: petrol or diesel only."
    return True, "What drives the vehicle is not told, or may be assisted: look for orange cables."


def _gas(facts: JobFacts) -> tuple[bool, str]:
    if facts.powertrain is Powertrain.GAS:
        return True, "The vehicle has a gas or hydrogen tank."
    if facts.powertrain is Powertrain.UNKNOWN:
        return True, "What drives the vehicle is not told: look for a tank and its filler."
    return False, "Told at intake: no gas tank."


def _aluminium(facts: JobFacts) -> tuple[bool, str]:
    if not facts.aluminium:
        return False, "No joint of this job has aluminium."
    mixed = " Its dust with iron powder burns like thermite." if facts.steel else ""
    return True, f"Aluminium in {_listed(facts.aluminium)}.{mixed}"


def _extraction(facts: JobFacts) -> tuple[bool, str]:
    if facts.zinc:
        return True, (
            f"Zinc burns off at {_listed(facts.zinc)}: breathing it brings fever hours later."
        )
    return True, "All welding fume harms."


def _sealer(facts: JobFacts) -> tuple[bool, str]:
    if "sealer" in facts.near:
        return True, "Told at a joint: sealer or foam is near. Heated it gives off poison."
    return True, "Heated they give off poison and feed a fire."


def _fire(facts: JobFacts) -> tuple[bool, str]:
    told = [word for word in ("fuel", "glass") if word in facts.near]
    near = f"Told at a joint: {' and '.join(told)} near. " if told else ""
    arc = f"An arc burns at {_listed(facts.arc)}." if facts.arc else "Spots splash."
    return True, near + arc


def _restraints(facts: JobFacts) -> tuple[bool, str]:
    if "airbag" in facts.near:
        return True, "Told at a joint: an airbag or its module is near."
    return True, ""


def _listed(names: Collection[str]) -> str:
    shown = list(names)[:4]
    return ", ".join(shown) + (" and others" if len(names) > len(shown) else "")
