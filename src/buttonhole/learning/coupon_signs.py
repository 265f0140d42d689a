"""What a judged coupon shows, as rows of the list of signs and as evidence of a machine.

Which row a fracture or an imperfection stands for is common practice, no source.
"""

from buttonhole.coupon.arc.fracture import ArcFracture as How
from buttonhole.coupon.arc.piece import ArcForm, ArcInterface, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.fracture import FractureMode as Mode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.uncertainty import combined
from buttonhole.coupon.verdict import LONG, Verdict
from buttonhole.learning.evidence import Evidence, Kind, back_evidence, shown_evidence
from buttonhole.weld.arc.plug.marks import BackMark

_SPOT = {
    Mode.EXPELLED: "S3",
    Mode.NO_WELD: "S2",
    Mode.STUCK_WELD: "S2",
    Mode.INTERFACIAL: "S7",
}
_FRACTURES = {
    "plug": {
        How.SMOOTH_FACE: "P1",
        How.RING_ONLY: "P1",
        How.BURNT_THROUGH: "P2",
        How.PULLED_THROUGH: "P3",
        How.POROUS_FACE: "P4",
        How.PARTED_ROUGH: "P7",
    },
    "seam": {
        How.PEELED_SMOOTH: "M1",
        How.PARTLY_PEELED: "M1",
        How.BURNT_THROUGH: "M2",
        How.TOE_TORN: "M3",
        How.POROUS_FACE: "M5",
        How.ROOT_OPENED: "M6",
        How.COLD_ENDS: "M7",
        How.CRACKED: "M9",
    },
    "braze": {
        How.POROUS_FACE: "B3",
        How.CRACKED: "B4",
        How.CLEAN_ON_ONE: "B5",
        How.PARTLY_PEELED: "B5",
        How.SMOOTH_FACE: "B2",
        How.BURNT_THROUGH: "B1",
    },
    "aluminium": {
        How.COLD_ENDS: "A2",
        How.PEELED_SMOOTH: "A2",
        How.SMOOTH_FACE: "A2",
        How.POROUS_FACE: "A3",
        How.CRACKED: "A4",
        How.BURNT_THROUGH: "A6",
        How.TOE_TORN: "A7",
        How.SOFT_ZONE_TORN: "A8",
    },
}
_SEEN = {
    "plug": {
        "burn_through": "P2",
        "tall_head": "P3",
        "surface_pore": "P4",
        "pore_row": "P4",
        "crater_pipe": "P5",
        "undercut": "P6",
        "brittle_ring": "P8",
        "no_fusion": "P1",
        "spatter": "P10",
    },
    "seam": {
        "no_fusion": "M1",
        "burn_through": "M2",
        "sagging": "M2",
        "undercut": "M3",
        "narrow_bead": "M4",
        "overlap": "M4",
        "surface_pore": "M5",
        "pore_row": "M5",
        "crater_pipe": "M7",
        "crater_crack": "M7",
        "poor_restart": "M7",
        "crack": "M9",
    },
    "braze": {
        "melted_edge": "B1",
        "no_wetting": "B2",
        "surface_pore": "B3",
        "pore_row": "B3",
        "crack": "B4",
        "crater_pipe": "B7",
        "zinc_burnt_wide": "B8",
    },
    "aluminium": {
        "soot_stays": "A1",
        "cold_hump": "A2",
        "no_fusion": "A2",
        "surface_pore": "A3",
        "pore_row": "A3",
        "crater_crack": "A4",
        "crater_pipe": "A4",
        "burn_through": "A6",
    },
}
SMALL = {"spot": "S1", "plug": "P7", "seam": "M1", "braze": "B5", "aluminium": "A2"}


def process_of(piece: ArcPiece) -> str:
    """Return the process by which causes are listed: plug, seam, braze or aluminium."""
    if piece.brazed:
        return "braze"
    if piece.aluminium:
        return "aluminium"
    return "plug" if piece.form is ArcForm.PLUG else "seam"


def spot_signs(reading: Reading, verdict: Verdict) -> tuple[str, ...]:
    """Return the rows that a torn spot stands for.

    Parameters
    ----------
    reading : Reading
        As measured.
    verdict : Verdict
        What it means; a size under its limit is a sign.

    Returns
    -------
    tuple of str
        The most telling first; empty where nothing speaks.
    """
    if reading.expulsion:
        return ("S3",)
    found = [_SPOT[reading.mode]] if reading.mode in _SPOT else []
    if 0.0 < verdict.measured < verdict.limit:
        found.insert(0, SMALL["spot"])
    if reading.d_min > 0.0 and reading.aspect_ratio > LONG:
        found.append("S6")
    return tuple(dict.fromkeys(found))


def arc_signs(reading: ArcReading, verdict: Verdict, piece: ArcPiece) -> tuple[str, ...]:
    """Return the rows that a torn, bent or sectioned arc weld stands for.

    Parameters
    ----------
    reading : ArcReading
        As measured and seen.
    verdict : Verdict
        What it means; a size under its limit is a sign.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    tuple of str
        The most telling first: how it let go, then the back, the size, what was seen.
    """
    process = process_of(piece)
    how = _FRACTURES[process]
    found = [how[reading.fracture]] if reading.fracture in how else []
    if process == "plug" and reading.back in (BackMark.DRIP, BackMark.HOLE):
        found.append("P2")
    if 0.0 < verdict.measured < verdict.limit:
        # A small plug that left no mark behind was cold below: the same causes as no fusion.
        cold = process == "plug" and reading.back is BackMark.NONE
        found += ["P1", "P7"] if cold else [SMALL[process]]
    seen = _SEEN[process]
    found += [seen[one.key] for one in reading.imperfections if one.key in seen]
    return tuple(dict.fromkeys(found))


def plug_evidence_of(reading: ArcReading, interface: ArcInterface) -> tuple[Evidence, ...]:
    """Return what a torn plug teaches the machine.

    Parameters
    ----------
    reading : ArcReading
        As measured.
    interface : ArcInterface
        Whose hole a weld that held is at least as large as.

    Returns
    -------
    tuple of Evidence
        The back first. A plug that burnt through teaches that alone.
    """
    at = interface.index
    if reading.burnt_through:
        return (Evidence(Kind.EXPULSION, at),)
    found = [] if reading.back is None else [back_evidence(reading.back.value)]
    if reading.zinc_ring:
        found.append(shown_evidence("ring", reading.zinc_ring))
    size = reading.mean_diameter
    held = reading.fracture is not None and reading.fracture.is_at_least
    if reading.fracture is not None and not reading.fracture.fused:
        return (*found, Evidence(Kind.NO_BUTTON, at))
    if size is None and held:
        size = reading.mean_hole or interface.hole or None
    if size is None or not reading.smooth_left_out:
        return tuple(found)
    if size <= 0.0:
        return (*found, Evidence(Kind.NO_BUTTON, at))
    u = combined((reading.instrument_uncertainty, reading.reader_uncertainty))
    kind = Kind.AT_LEAST if held else Kind.MEASURED
    return (*found, Evidence(kind, at, size, uncertainty=u))
