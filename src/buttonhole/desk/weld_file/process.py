"""Which process wire and gas make, by its number."""

from buttonhole.desk.weld_file.arc_keys import ArcEntry
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import Gas, GasKind, find_gas
from buttonhole.weld.arc.wire import BRONZE, Wire, find_wire

# Process numbers of ISO 4063, from memory: what they are, and which gas and wire make them so
NUMBERS = {
    "135": "metal active gas welding with a solid wire",
    "131": "metal inert gas welding with a solid wire",
    "973": "gas metal arc brazing",
}


def process_number(wire: Wire, gas: Gas) -> str:
    """The number of ISO 4063 that wire and gas make a process: 131, 135 or 973."""
    if wire.metal in BRONZE:
        return "973"
    return "131" if gas.kind is GasKind.INERT else "135"


def wire_and_gas(entry: ArcEntry, process: str) -> tuple[Wire, Gas]:
    """Wire and gas of a set-up; refuses a process number that they do not make."""
    try:
        wire, gas = find_wire(entry.wire), find_gas(entry.gas)
    except BadInput as bad:
        raise BadInput(f"set_up {bad.key}", bad.message) from bad
    right = process_number(wire, gas)
    if process in NUMBERS and process != right:
        raise BadInput(
            "process",
            f'is "{process}", {NUMBERS[process]} (ISO 4063); {wire.designation} under {gas.group} '
            f'is "{right}", {NUMBERS[right]}: give that number, or another wire or gas',
        )
    return wire, gas
