"""What a torn weld is measured with, and how far a reading may be off.

The usual figures are assumptions, no source: the trade has published none. A shop that had several
people read kept buttons has its own, and they go before.
"""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.coupon.reading import CALLIPER_BUTTON, CALLIPER_FACE, READER
from buttonhole.units import BadInput

MOST = 2e-3  # m; a spread over this is a slip of the unit (our own limit)


class GaugeKind(StrEnum):
    """What is used; the value is the word in files and records."""

    CALLIPER = "calliper"
    POINTED = "pointed_calliper"
    LOUPE = "loupe"
    SECTION = "section_scale"
    RULER = "ruler"

    @property
    def words(self) -> str:
        """What it is called."""
        return _USUAL[self][0]

    @property
    def how(self) -> str:
        """How it is used, in one line."""
        return _USUAL[self][1]


_USUAL: dict[GaugeKind, tuple[str, str, float, float, float]] = {
    # words, how, standard uncertainty on a clean edge, on a broken face, between readers, all m
    GaugeKind.CALLIPER: (
        "Calliper",
        "From edge to edge, jaws square to the sheet.",
        CALLIPER_BUTTON,
        CALLIPER_FACE,
        READER,
    ),
    GaugeKind.POINTED: (
        "Calliper with points",
        "Points on the torn edge, not over the bright ring.",
        0.08e-3,
        0.20e-3,
        READER,
    ),
    GaugeKind.LOUPE: (
        "Loupe with a scale",
        "Scale flat on the face, light from the side.",
        0.06e-3,
        0.15e-3,
        0.12e-3,
    ),
    GaugeKind.SECTION: (
        "Scale on an etched section",
        "Cut through the middle, ground and etched, under a loupe or microscope.",
        0.05e-3,
        0.10e-3,
        0.10e-3,
    ),
    GaugeKind.RULER: (
        "Steel ruler",
        "Only to learn by: too coarse for most limits.",
        0.30e-3,
        0.40e-3,
        0.20e-3,
    ),
}


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge as readings use it: standard uncertainties (one sigma) [m].

    ``edge`` on a clean edge, ``face`` on a broken face, ``reader`` between readers; ``study`` says
    what its figures come from, empty where they are the usual ones.

    Raises
    ------
    BadInput
        No name, or a figure no gauge has.
    """

    name: str
    kind: GaugeKind
    edge: float  # m
    face: float  # m
    reader: float  # m
    study: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise BadInput("name", "is empty; give what is written on the gauge")
        for key in ("edge", "face", "reader"):
            value = getattr(self, key)
            if not 0.0 <= value <= MOST:  # also catches NaN
                raise BadInput(key, f"is {value * 1e3:g} mm; give one standard deviation, 0 to 2")

    def instrument(self, *, clean: bool) -> float:
        """Standard uncertainty of one reading [m], of a clean edge or of a broken face."""
        return self.edge if clean else self.face


def usual_gauge(kind: GaugeKind) -> Gauge:
    """Return a gauge of a kind with the usual figures.

    Sources
    -------
    assumption, no source.
    """
    words, _, edge, face, reader = _USUAL[kind]
    return Gauge(words, kind, edge, face, reader)


def studied_gauge(name: str, kind: GaugeKind, repeat: float, reader: float, study: str) -> Gauge:
    """Return a gauge with the figures of the shop's own study of kept buttons.

    Parameters
    ----------
    name : str
        What is written on it.
    kind : GaugeKind
        What it is.
    repeat : float
        Spread of one reader's repeated readings [m].
    reader : float
        Spread between readers [m].
    study : str
        What was read by whom, for those who look later.

    Returns
    -------
    Gauge
        On a broken face the usual figure holds where the study's is smaller: kept buttons have
        clean edges.

    Raises
    ------
    BadInput
        No name, or a figure no gauge has.
    """
    return Gauge(name, kind, repeat, max(repeat, usual_gauge(kind).face), reader, study)


def find_gauge_kind(text: str) -> GaugeKind:
    """Return the kind of a word.

    Raises
    ------
    BadInput
        Another word; the message lists those there are.
    """
    try:
        return GaugeKind(text.strip())
    except ValueError as error:
        raise BadInput("kind", f"{text[:40]!r} is none of: {', '.join(GaugeKind)}") from error
