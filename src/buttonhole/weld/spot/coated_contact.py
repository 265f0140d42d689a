"""What a coating does to the contacts of a spot weld.

Sources: handbook-memory (films and melting points, from memory); the widening is derived from the
ratio of the currents published for zinc-coated and bare sheet, iso-14373.
"""

from dataclasses import dataclass

from buttonhole.joint.coating import Coating


@dataclass(frozen=True, slots=True)
class CoatedContact:
    """Factors on the bare film, and how much molten coating widens a contact.

    The widening is per sheet thickness and comes about once the coating melts.
    """

    faying: float  # -
    cap: float  # -
    widening: float  # -
    melts: float = 420.0  # degC
    zinc: float = 0.0  # m, thickness of the zinc on one face; common practice, no source


# Zinc: the widening is set by the published ratios of current for coated and bare sheet (ISO 14373,
# BS 1140), so those ratios are calibration and prove nothing; the films and the other coatings are
# from memory, ranked by published static resistances. An unknown coating is taken as hot-dip
# zinc: of the common ones it needs the most current, so the weld is not made out too large.
CONTACTS = {
    Coating.BARE: CoatedContact(1.0, 1.0, 0.0, 1e4),
    Coating.GI: CoatedContact(0.10, 0.30, 0.42, zinc=7e-6),
    Coating.ZM: CoatedContact(0.10, 0.30, 0.42, 367.0, 5e-6),
    Coating.EG: CoatedContact(0.15, 0.40, 0.30, zinc=7e-6),
    Coating.GA: CoatedContact(0.50, 0.70, 0.17, 650.0, 6e-6),
    Coating.ALSI: CoatedContact(4.0, 2.0, 0.0, 1000.0),
    Coating.PRIMER: CoatedContact(3.0, 1.0, 0.0, zinc=2e-6),
    Coating.UNKNOWN: CoatedContact(0.10, 0.30, 0.42, zinc=7e-6),
}


def between(a: Coating, b: Coating) -> float:
    """Return the factor on the faying film [-] where two faces meet: their geometric mean."""
    return float((CONTACTS[a].faying * CONTACTS[b].faying) ** 0.5)
