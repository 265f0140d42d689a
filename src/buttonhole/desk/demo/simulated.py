"""Coupons that nobody welded: the model's weld, scattered and read as coupons are.

The scatter from weld to weld and between readers are our own assumptions, no source; the way a
simulated weld lets go is a rule from memory. Nothing of this judges a real weld.
"""

from dataclasses import replace

import numpy as np

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.reading import ArcReading, usual_gauge_uncertainty
from buttonhole.coupon.difference import ReadBack
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading, usual_instrument_uncertainty
from buttonhole.coupon.test import TestKind, suited
from buttonhole.desk.look_inside import Looked
from buttonhole.desk.weld_file import PlugWeldFile
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.spot.result import InterfaceWeld, SpotWeld
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

SCATTER = 0.25e-3  # m, from weld to weld
READER = 0.15e-3  # m, between readers
OVAL = 0.03  # -, how far a button is from round
CURRENT_SHOWN = 0.005  # -, of the machine's own ammeter
LEAST_FUSED = 1.0e-3  # m; less pulls off clean
PULLS_BUTTON = 3.5  # mm^0.5, times the root of the thinner sheet


def worn(set_up: SpotSetUp, face_diameter: float) -> SpotSetUp:
    """
    Give a set-up tips that have spread.

    Parameters
    ----------
    set_up : SpotSetUp
        As it is set.
    face_diameter : float
        What the tips measure [m].

    Returns
    -------
    SpotSetUp
        What really presses on the sheets.
    """
    return replace(
        set_up,
        cap_a=_spread(set_up.cap_a, face_diameter),
        cap_b=_spread(set_up.cap_b, face_diameter),
    )


def _spread(cap: ElectrodeCap, face_diameter: float) -> ElectrodeCap:
    """A domed cap whose face has grown is flat by then."""
    dressed = cap.face_diameter is None or face_diameter <= cap.face_diameter
    return replace(cap, face_diameter=face_diameter, radius=cap.radius if dressed else None)


def torn(weld: SpotWeld, stack: StackUp, chance: np.random.Generator) -> tuple[Reading, ...]:
    """
    Tear and read one simulated coupon.

    Parameters
    ----------
    weld : SpotWeld
        What the model says this weld is.
    stack : StackUp
        Its sheets.
    chance : numpy.random.Generator
        Scatter of the weld and of the reader.

    Returns
    -------
    tuple of Reading
        One for each faying interface, by the test that suits it first.
    """
    splashed = bool(chance.random() < weld.expulsion_probability.value)
    return tuple(_read(one, stack, splashed, chance) for one in weld.interfaces)


def shown(set_up: SpotSetUp, chance: np.random.Generator) -> ReadBack:
    """
    Read back what a machine that keeps its settings shows.

    Parameters
    ----------
    set_up : SpotSetUp
        As it is set.
    chance : numpy.random.Generator
        Scatter of the ammeter.

    Returns
    -------
    ReadBack
        Current and weld time.
    """
    main = max(pulse.current for pulse in set_up.pulses)
    current = main * (1.0 + CURRENT_SHOWN * chance.standard_normal())
    return ReadBack(current=round(current, -1), weld_time=set_up.weld_time)


def seen_on(plug: PlugWeldFile, chance: np.random.Generator) -> tuple[Looked, dict[str, str]]:
    """
    Weld a plug in the model and look at its back with a calliper.

    Parameters
    ----------
    plug : PlugWeldFile
        What is welded, and how.
    chance : numpy.random.Generator
        Scatter of the reader.

    Returns
    -------
    Looked and dict
        Zinc ring and molten spot to the tenth of a millimetre, the class of the back; the same as
        texts with their units.
    """
    from buttonhole.weld.arc.plug.marks import read_marks
    from buttonhole.weld.arc.plug.outside import USUAL_SPREAD, Look
    from buttonhole.weld.arc.plug.simulation import simulate

    marks = read_marks(simulate(plug.joint, plug.set_up))
    shown = {Look.ZINC_RING: marks.zinc_ring, Look.BACK_SPOT: marks.back_spot}
    found = {}
    for look, value in shown.items():
        off = USUAL_SPREAD[look] * chance.standard_normal() if value > 0.0 else 0.0
        found[look.value] = round(max(0.0, value + off), 4)
    said = {name: f"{1e3 * value:g} mm" for name, value in found.items()}
    mark = marks.back_mark.value
    looked = Looked({name: (value, None) for name, value in found.items()}, mark)
    return looked, {**said, "back": mark}


def torn_plug(plug: PlugWeldFile, chance: np.random.Generator) -> ArcReading:
    """
    Weld a plug in the model, look at its back, peel it and read it.

    Parameters
    ----------
    plug : PlugWeldFile
        What is welded, and how.
    chance : numpy.random.Generator
        Scatter of the weld and of the reader.

    Returns
    -------
    ArcReading
        To the tenth of a millimetre, as a calliper is read.
    """
    from buttonhole.weld.arc.plug.marks import read_marks
    from buttonhole.weld.arc.plug.simulation import simulate

    marks = read_marks(simulate(plug.joint, plug.set_up))
    size = max(0.0, marks.fused_diameter[0] + SCATTER * chance.standard_normal())
    how = _plug_mode(size, plug.joint.thicknesses[1])
    torn_size = sorted(_diameters(size, False, chance), reverse=True) if how.fused else None
    head = sorted(_diameters(marks.head_diameter, False, chance), reverse=True)
    return ArcReading(
        interface=0,
        test=TestKind.PEEL,
        fracture=how,
        d_max=None if torn_size is None else torn_size[0],
        d_min=None if torn_size is None else torn_size[1],
        head_max=head[0],
        head_min=head[1],
        head_height=round(marks.head_height, 4),
        back=marks.back_mark,
        zinc_ring=round(marks.zinc_ring, 4),
        instrument_uncertainty=usual_gauge_uncertainty(how),
        reader_uncertainty=READER,
    )


def shown_arc(set_up: ArcSetUp, chance: np.random.Generator) -> ReadBack:
    """
    Read what a feeder would have shown.

    Parameters
    ----------
    set_up : ArcSetUp
        As it is set.
    chance : numpy.random.Generator
        Scatter of its meters.

    Returns
    -------
    ReadBack
        Current, voltage, wire feed and arc time.
    """
    from buttonhole.weld.arc.machine_map import operating_point

    def near(value: float, digits: int) -> float:
        return round(value * (1.0 + CURRENT_SHOWN * chance.standard_normal()), digits)

    return ReadBack(
        current=near(operating_point(set_up).current.value, 0),
        voltage=near(set_up.arc_voltage, 1),
        wire_feed_speed=set_up.wire_feed_speed,
        arc_time=set_up.arc_time,
    )


def _plug_mode(size: float, below: float) -> ArcFracture:
    if size < LEAST_FUSED:
        return ArcFracture.SMOOTH_FACE
    if size < PULLS_BUTTON * np.sqrt(below * 1e3) * 1e-3:
        return ArcFracture.PARTED_ROUGH
    return ArcFracture.HOLE_PULLED


def _read(
    weld: InterfaceWeld, stack: StackUp, splashed: bool, chance: np.random.Generator
) -> Reading:
    face = stack.interfaces[weld.index]
    test = suited(face)[0].test
    section = test is TestKind.MACRO
    best = weld.nugget_diameter.value if section else weld.button_diameter.value
    size = max(0.0, best + SCATTER * chance.standard_normal()) if best > 0.0 else 0.0
    mode = None if section else _mode(size, face.thinner_thickness, face.coated)
    if mode is not None and not mode.fused:
        size = 0.0
    diameters = sorted(_diameters(size, section, chance), reverse=True)
    return Reading(
        interface=weld.index,
        test=test,
        mode=mode,
        d_max=diameters[0],
        d_min=diameters[1],
        expulsion=splashed,
        instrument_uncertainty=usual_instrument_uncertainty(mode),
        reader_uncertainty=READER,
    )


def _diameters(size: float, section: bool, chance: np.random.Generator) -> tuple[float, float]:
    """Two readings to the tenth of a millimetre, as a calliper is read."""
    if size == 0.0:
        return 0.0, 0.0
    if section:
        one = max(0.0, size + READER * chance.standard_normal())
        return round(one, 4), round(one, 4)
    longer = size * (1.0 + OVAL) + READER * chance.standard_normal()
    shorter = size * (1.0 - OVAL) + READER * chance.standard_normal()
    return round(max(0.0, longer), 4), round(max(0.0, shorter), 4)


def _mode(size: float, thickness: float, coated: bool) -> FractureMode:
    if size < LEAST_FUSED:
        return FractureMode.STUCK_WELD if coated else FractureMode.NO_WELD
    if size < PULLS_BUTTON * np.sqrt(thickness * 1e3) * 1e-3:
        return FractureMode.INTERFACIAL
    return FractureMode.FULL_BUTTON
