"""The ways sheets of a body are joined in repair, and the groups rules speak of."""

from enum import StrEnum

from buttonhole.units import BadInput


class JoiningMethod(StrEnum):
    """A way of joining; the value is the word in files and rules."""

    SPOT = "spot"
    WELD_BOND = "weld_bond"
    PLUG = "plug"
    LAP_SEAM = "lap_seam"
    BUTT_BACKED = "butt_backed"
    BUTT_OPEN = "butt_open"
    BRAZE = "braze"
    RIVET_BOND = "rivet_bond"
    BOND = "bond"
    ALUMINIUM_MIG = "aluminium_mig"

    @property
    def words(self) -> str:
        """What it is called."""
        return _WORDS[self]

    @property
    def process(self) -> str:
        """Its number in ISO 4063 (from memory); empty where it has none."""
        return _PROCESS.get(self, "")


_WORDS = {
    JoiningMethod.SPOT: "spot weld with a squeeze gun",
    JoiningMethod.WELD_BOND: "weld bond: spots through adhesive",
    JoiningMethod.PLUG: "plug weld (MAG)",
    JoiningMethod.LAP_SEAM: "lap seam, joggled (MAG)",
    JoiningMethod.BUTT_BACKED: "butt seam on a backing strip (MAG)",
    JoiningMethod.BUTT_OPEN: "open butt seam (MAG)",
    JoiningMethod.BRAZE: "arc brazing (MIG)",
    JoiningMethod.RIVET_BOND: "rivet bond: rivets with adhesive",
    JoiningMethod.BOND: "adhesive alone",
    JoiningMethod.ALUMINIUM_MIG: "aluminium seam (MIG)",
}
_PROCESS = {
    JoiningMethod.SPOT: "21",
    JoiningMethod.WELD_BOND: "21",
    JoiningMethod.PLUG: "135",
    JoiningMethod.LAP_SEAM: "135",
    JoiningMethod.BUTT_BACKED: "135",
    JoiningMethod.BUTT_OPEN: "135",
    JoiningMethod.BRAZE: "973",
    JoiningMethod.ALUMINIUM_MIG: "131",
}

SQUEEZE = (JoiningMethod.SPOT, JoiningMethod.WELD_BOND)
SEAMS = (JoiningMethod.LAP_SEAM, JoiningMethod.BUTT_BACKED, JoiningMethod.BUTT_OPEN)
ARC = (JoiningMethod.PLUG, *SEAMS)
BURNING = (*ARC, JoiningMethod.BRAZE, JoiningMethod.ALUMINIUM_MIG)
GROUPS = {
    "all": tuple(JoiningMethod),
    "squeeze": SQUEEZE,  # a gun presses from both sides
    "seams": SEAMS,
    "arc": ARC,  # steel melted by an arc
    "burning": BURNING,  # every arc, brazing too
    "hot": (*SQUEEZE, *BURNING),  # whatever heats
}


def methods_named(text: str) -> tuple[JoiningMethod, ...]:
    """Return the methods of a text such as ``plug|lap_seam`` or ``arc``.

    Parameters
    ----------
    text : str
        Methods and groups with ``|`` between them.

    Returns
    -------
    tuple of JoiningMethod
        Each once, in the order of the list of methods.

    Raises
    ------
    BadInput
        A word that is neither; the message lists them.
    """
    found: set[JoiningMethod] = set()
    for word in (one.strip() for one in text.split("|")):
        if word in GROUPS:
            found.update(GROUPS[word])
        else:
            found.add(find_method(word))
    return tuple(one for one in JoiningMethod if one in found)


def find_method(text: str) -> JoiningMethod:
    """Return the method of a word; hyphens, spaces and capital letters do not count.

    Raises
    ------
    BadInput
        No such method; the message lists them.
    """
    word = text.strip().casefold().replace("-", "_").replace(" ", "_")
    try:
        return JoiningMethod(word)
    except ValueError:
        listed = ", ".join(JoiningMethod)
        raise BadInput("method", f"{text[:40]!r} is none of: {listed}") from None
