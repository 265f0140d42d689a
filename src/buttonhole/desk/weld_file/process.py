"""Which process wire and gas make, by its number."""

from collections.abc import Sequence

from buttonhole.desk.weld_file.arc_keys import ArcEntry, ReadingEntry
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import Gas, GasKind, find_gas
from buttonhole.weld.arc.machine_map import free_length
from buttonhole.weld.arc.melting import DisplayedReading, MeltingLaw, learn, melting_law
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


Reading = tuple[float, float, float]  # m/s, m, A: wire feed, contact tube to work, current


def readings_of(entries: Sequence[ReadingEntry]) -> tuple[Reading, ...]:
    """Displayed readings of a file: wire feed [m/s], contact tube to work [m], current [A]."""
    return tuple((one.wire_feed_speed, one.contact_tube_distance, one.current) for one in entries)


def law_from(readings: Sequence[Reading], wire: Wire, diameter: float) -> MeltingLaw | None:
    """What readings teach of this machine with this wire; None where there are none.

    Parameters
    ----------
    readings : sequence of tuple
        Wire feed [m/s], contact tube to work [m], current [A].
    wire : Wire
        In the machine.
    diameter : float
        Of the wire [m].

    Returns
    -------
    MeltingLaw or None
        Most probable constants and what doubt is left.

    Raises
    ------
    BadInput
        A reading is of another wire, or a slip; its key counts it.
    """
    if not readings:
        return None
    law = melting_law(wire, diameter)
    shown = [DisplayedReading(feed, free_length(far), current) for feed, far, current in readings]
    for number, one in enumerate(shown, start=1):
        try:
            learn(law, [one])
        except BadInput as bad:
            raise BadInput(f"reading {number} {bad.key}", bad.message) from bad
    return learn(law, shown)
