"""One piece of each kind, and a good reading of it."""

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.piece import ArcForm, ArcPiece, ArcSheet
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.test import TestKind
from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc.plug.marks import BackMark
from buttonhole.weld.arc.wire import WireMetal


def sheet(thickness: float, steel: str = "DC04") -> ArcSheet:
    return ArcSheet(thickness * 1e-3, find_steel(steel))


PLUG = ArcPiece(ArcForm.PLUG, WireMetal.STEEL, (sheet(0.8), sheet(1.5)), (8e-3,))
THREE = ArcPiece(ArcForm.PLUG, WireMetal.STEEL, (sheet(0.8), sheet(0.8), sheet(1.5)), (10e-3, 8e-3))
STRONG = ArcPiece(ArcForm.PLUG, WireMetal.STEEL, (sheet(0.8), sheet(1.5, "22MnB5")), (8e-3,))
LAP = ArcPiece(ArcForm.LAP, WireMetal.STEEL, (sheet(1.0), sheet(1.0)), length=40e-3)
BUTT = ArcPiece(
    ArcForm.BUTT_BACKED,
    WireMetal.STEEL,
    (sheet(0.8), sheet(0.8)),
    root_gap=1e-3,
    length=40e-3,
)
BRAZE = ArcPiece(ArcForm.LAP, WireMetal.CUSI, (sheet(1.0), sheet(1.0)), length=40e-3)
BRAZED_PLUG = ArcPiece(ArcForm.PLUG, WireMetal.CUSI, (sheet(0.8), sheet(1.5)), (8e-3,))
ALUMINIUM = ArcPiece(
    ArcForm.LAP,
    WireMetal.ALUMINIUM,
    (ArcSheet(2e-3, alloy="EN AW-6082"), ArcSheet(2e-3, alloy="EN AW-6082")),
    length=40e-3,
)
ALL = {
    "plug": PLUG,
    "three": THREE,
    "strong": STRONG,
    "lap": LAP,
    "butt": BUTT,
    "braze": BRAZE,
    "brazed_plug": BRAZED_PLUG,
    "aluminium": ALUMINIUM,
}


def torn(d_max: float = 6.6e-3, d_min: float = 6.2e-3, **more: object) -> ArcReading:
    """A plug that pulled a hole, in peel; sizes in m."""
    values = {"back": BackMark.CLEAR, **more}
    how = values.pop("fracture", ArcFracture.HOLE_PULLED)
    test = values.pop("test", TestKind.PEEL)
    return ArcReading(0, test, how, d_max, d_min, **values)


def seam(how: ArcFracture = ArcFracture.SHEET_TORN, **more: object) -> ArcReading:
    """A seam of which 40 mm were tested."""
    values = {"tested_length": 40e-3, "leg": 1.8e-3, "back": BackMark.FAINT, **more}
    test = values.pop("test", TestKind.PEEL)
    return ArcReading(0, test, how, **values)
