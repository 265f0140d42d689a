"""What is made safe before work begins: each gate is ticked by a person, at a time."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Gate:
    """A gate: its key in the record and the sentence a person signs. Common practice, no source."""

    key: str
    words: str


GATES = (
    Gate("high_voltage", "High voltage: none in this vehicle, or made safe by a trained person."),
    Gate("battery", "12 V battery: both cables isolated, the maker's waiting time is over."),
    Gate(
        "restraints",
        "Airbags and control units near the weld are out, as the maker says.",
    ),
    Gate("fire", "Fuel, sealer, foam and glass near the weld are away or covered; fire watch set."),
    Gate("extraction", "Extraction runs at the weld; eyes, ears, gloves, breathing protection on."),
    Gate("implants", "Everybody near the gun is cleared for strong magnetic fields."),
    Gate("dimensions", "The body is measured and in its dimensions before welding."),
)
