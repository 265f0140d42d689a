"""How a cap's face grows from weld to weld, and what a worn cap presses like."""

from functools import cache

from buttonhole.joint.coating import Coating
from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.pressing import DOME_FACE
from buttonhole.weld.spot.set_up import ElectrodeCap

PER = 100  # welds the table counts by


@cache
def _growth() -> dict[str, tuple[float, float]]:
    """Least and most growth of a face [m] in so many welds, by coating."""
    found = table("cap_wear")
    lows, highs = (found.column(f"{name} [mm]") for name in ("least", "most"))
    return {
        coating: (1e-3 * float(low), 1e-3 * float(high))
        for coating, low, high in zip(found.text("coating"), lows, highs, strict=True)
    }


def face_growth(welds: int, coating: Coating) -> Estimate:
    """How much wider a cap's face is after so many welds since it was dressed.

    Parameters
    ----------
    welds : int
        Since dressing.
    coating : Coating
        Of the sheet the cap presses on; unknown counts as the worst.

    Returns
    -------
    Estimate
        Growth of the diameter [m]; the range of the sources, and its middle.

    Raises
    ------
    BadInput
        A negative number of welds, or more than any cap lasts.

    Sources
    -------
    handbook-memory, rw-supplier-chart (see table cap_wear).
    """
    if not 0 <= welds <= 20_000:
        raise BadInput("welds_since_dressing", f"is {welds}; give 0 to 20000 welds")
    rows = _growth()
    low, high = rows.get(coating.value, max(rows.values(), key=lambda one: one[1]))
    share = welds / PER
    return Estimate(share * (low + high) / 2, share * low, share * high)


def worn(cap: ElectrodeCap, growth: float) -> ElectrodeCap:
    """The cap after its face has grown.

    A face gets wider, as far as the body. A curved one gets flatter too, so that at the same depth
    its mark, ``a = sqrt(2 R d)``, is wider by the growth when it is as wide as the face, or on a
    dome as a full weld's.

    Parameters
    ----------
    cap : ElectrodeCap
        As dressed.
    growth : float
        Of the face's diameter [m].

    Returns
    -------
    ElectrodeCap
        The worn one.
    """
    if growth <= 0.0:
        return cap
    face = cap.face_diameter if cap.face_diameter is not None else 2.0 * DOME_FACE
    flatter = None if cap.radius is None else cap.radius * (1.0 + growth / face) ** 2
    wider = cap.face_diameter
    if wider is not None:
        wider = min(wider + growth, cap.body_diameter)
    return ElectrodeCap(wider, flatter, cap.body_diameter)
