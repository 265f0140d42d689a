"""The sill: three sheets, a worn tip, a coupon that is too small, a dressed tip, a release.

People, shop and vehicle are invented. What the coupons read is computed: the model welds with the
tips as worn or dressed, and the program judges as it judges any coupon.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np

from buttonhole.coupon.criterion import find_criterion
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.decide_method import TellCircumstances, tell_circumstances
from buttonhole.desk.demo import around
from buttonhole.desk.demo.arcs import add_arc_joints
from buttonhole.desk.demo.simulated import shown, torn, worn
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.desk import Desk
from buttonhole.desk.dress_tip import DressTip, dress_tip
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.open_job import OpenJob, TickGate, open_job, tick_gate
from buttonhole.desk.predict_weld import PredictWeld, predict_weld
from buttonhole.desk.print_card import PrintCard, print_card
from buttonhole.desk.print_coupon_sheet import PrintCouponSheet, print_coupon_sheet
from buttonhole.desk.propose_set_up import ProposeSetUp, propose_set_up
from buttonhole.desk.read_job import read_job
from buttonhole.desk.release_set_up import ReleaseSetUp, Standing, release_set_up, standing
from buttonhole.desk.view import JobView, JointView
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.machine import ArmPair, SpotMachine
from buttonhole.vehicle.safety import GATES, Powertrain
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

TITLE = "Left sill outer and B-pillar foot"
VEHICLE = "Orvanel H5, 2019, five doors"
VIN = "0BHDEM01000000017"  # no maker's code begins with a nought
TECHNICIAN = "Tomas Brindeval"
QUALITY_LEAD = "Ines Velloquar"
ASSESSOR = "Joan Ferrisund"

STACK = StackUp(
    (
        Sheet(find_steel("DC04"), 0.7e-3, Coating.GI),
        Sheet(find_steel("HCT600X"), 1.2e-3, Coating.GI),
        Sheet(find_steel("22MnB5"), 1.6e-3, Coating.ALSI),
    )
)
# The dome is worn flat by then: caps are long due. Common practice, no source.
DRESSED_FACE, WORN_FACE = 6.0e-3, 6.4e-3  # m
CAP_RADIUS = 50e-3  # m
# Three sheets with a hot-stamped one: longer and harder than proposed, so that it stays calm.
LONG_TIME, HARD, LONG_CURRENT = 0.60, 4.5e3, 8.4e3  # s, N, A
GUN = SpotMachine(
    name="Gun A",
    current_min=4e3,
    current_max=13e3,
    force_min=1.5e3,
    force_max=4.5e3,
    current_types=(CurrentType.MFDC,),
    caps=(ElectrodeCap(face_diameter=DRESSED_FACE, radius=CAP_RADIUS),),
    arm_pairs=(
        ArmPair("120", 0.12, 4.5e3),
        ArmPair("250", 0.25, 3.6e3),
        ArmPair("500", 0.50, 2.6e3),
    ),
    mains="400 V, water-cooled",
    program_version="4.2",
)
SEED = 7
TRIES = 9
MORE_CURRENT = 1.03  # -, when a coupon with dressed tips is too small and nothing is proposed


@dataclass(slots=True)
class DemoClock:
    """A clock for the story: it goes on when the story says so."""

    now: datetime

    def __call__(self) -> datetime:
        """Give the moment; asking takes a second, so no two events share one."""
        self.now += timedelta(seconds=1)
        return self.now

    def wait(self, minutes: float) -> None:
        """Let time pass.

        Parameters
        ----------
        minutes : float
            How long [min].
        """
        self.now += timedelta(minutes=minutes)


DeskOf = Callable[[str], Desk]


def play(desk_of: DeskOf, clock: DemoClock) -> JobView:
    """
    Play the story into a record, through the same steps as everybody's work.

    Parameters
    ----------
    desk_of : callable
        Gives the desk of a person.
    clock : DemoClock
        The clock of those desks.

    Returns
    -------
    JobView
        The job as it stands at the end.
    """
    chance = np.random.default_rng(SEED)
    joint = _prepare(desk_of, clock)
    technician = desk_of(TECHNICIAN)
    predict_weld(technician, PredictWeld(joint.id))
    clock.wait(6)
    # Welded in the corner by the door, with tips that should have been dressed long ago.
    joint = _coupon(desk_of, clock, joint, chance, "W1", "L10", WORN_FACE, 212)
    clock.wait(4)
    joint = dress_tip(
        technician,
        DressTip(joint.id, joint.seen, "Gun A", WORN_FACE, DRESSED_FACE, 213, "both caps"),
    )
    clock.wait(5)
    assert joint.set_up is not None  # noqa: S101 - accepted before
    pulses = (Pulse(LONG_CURRENT, LONG_TIME),)
    longer = replace(joint.set_up.set_up, pulses=pulses, electrode_force=HARD)
    joint = _accept(technician, joint, longer)
    predict_weld(technician, PredictWeld(joint.id))
    clock.wait(4)
    joint = _until_sure(desk_of, clock, joint, chance)
    clock.wait(3)
    lead = desk_of(QUALITY_LEAD)
    joint = release_set_up(lead, ReleaseSetUp(joint.id, joint.seen))
    for coupon in joint.coupons:
        print_coupon_sheet(lead, PrintCouponSheet(joint.id, coupon.id))
    print_card(lead, PrintCard(joint.id))
    job = read_job(lead, joint.job_id)
    add_arc_joints(technician, lead, clock.wait, chance, job)
    return read_job(lead, joint.job_id)


def _prepare(desk_of: DeskOf, clock: DemoClock) -> JointView:
    technician, lead = desk_of(TECHNICIAN), desk_of(QUALITY_LEAD)
    drive = Powertrain.COMBUSTION
    job = open_job(technician, OpenJob(TITLE, VEHICLE, VIN, "left sill", True, drive, "no"))
    for gate in GATES:
        clock.wait(1)
        tick_gate(technician, TickGate(job.id, gate.key))
    joint = describe_joint(
        technician,
        DescribeJoint(job.id, "J1 sill flange", STACK, "left sill, lower flange", old_spots=14),
    )
    clock.wait(1)
    joint = tell_circumstances(
        technician, TellCircumstances(joint.id, joint.seen, around.SILL_FLANGE)
    )
    clock.wait(3)
    joint = cite_procedure(
        lead,
        CiteProcedure(
            joint.id,
            joint.seen,
            reference="Body repair manual (demo), section 31-2, page 14",
            revision="2025-11",
            read_on=clock.now.date(),
            says="Resistance spot welds, 1.3 times the old spots, not on the old spots. "
            "Hot-stamped inner: no plug welds.",
            spots_factor=1.3,
        ),
    )
    joint = propose_set_up(
        technician,
        ProposeSetUp(joint.id, joint.seen, GUN, find_criterion("4.5-root-t"), arm_pair="120"),
    )
    clock.wait(2)
    return _accept(technician, joint)


def _accept(desk: Desk, joint: JointView, changed: SpotSetUp | None = None) -> JointView:
    """Accept the proposed set-up, or a changed one."""
    chosen = joint.set_up or joint.proposal
    assert chosen is not None  # noqa: S101 - a proposal was made
    return accept_set_up(
        desk,
        AcceptSetUp(
            joint.id,
            joint.seen,
            changed or chosen.set_up,
            machine=GUN.name,
            arm_pair="120",
            program_version=GUN.program_version,
            outlet="W3",
            lead="L25",
            position="PA",
            welder=TECHNICIAN,
        ),
    )


def _until_sure(
    desk_of: DeskOf, clock: DemoClock, joint: JointView, chance: np.random.Generator
) -> JointView:
    """Coupons until the program would release; where it says so, with the setting it proposes."""
    technician = desk_of(TECHNICIAN)
    for _ in range(TRIES):
        joint = _coupon(desk_of, clock, joint, chance, "W3", "L25", DRESSED_FACE, 0)
        found = standing(technician, joint.id)
        if not found.lacking:
            break
        clock.wait(4)
        if any(one.code != "not-sure" for one in found.lacking):
            joint = _accept(technician, joint, _moved(joint, found))
    return joint


def _moved(joint: JointView, found: Standing) -> SpotSetUp:
    """The setting the program proposes; a little more current where it proposes none."""
    assert joint.set_up is not None  # noqa: S101 - accepted before
    set_up = joint.set_up.set_up
    proposed = found.decided.answer["next"] if found.decided else None
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    if proposed is None or proposed["as_set"]:
        moved = replace(main, current=main.current * MORE_CURRENT)
        force = set_up.electrode_force
    else:
        moved = replace(
            main,
            current=1e3 * proposed["welding_current_kA"],
            time=1e-3 * proposed["weld_time_ms"],
        )
        force = 1e3 * proposed["electrode_force_kN"]
    pulses = tuple(moved if one is main else one for one in set_up.pulses)
    return replace(set_up, pulses=pulses, electrode_force=force)


def _coupon(
    desk_of: DeskOf,
    clock: DemoClock,
    joint: JointView,
    chance: np.random.Generator,
    outlet: str,
    lead: str,
    face: float,
    welds_since_dress: int,
) -> JointView:
    """Weld, tear, read and judge one coupon; the model welds it with the tips as they are."""
    from buttonhole.weld import spot

    assert joint.set_up is not None  # noqa: S101 - accepted before
    set_up = joint.set_up.set_up
    joint = weld_coupon(
        desk_of(TECHNICIAN),
        WeldCoupon(
            joint.id,
            joint.seen,
            outlet,
            lead,
            welds_since_dress,
            set_up=None if face == DRESSED_FACE else worn(set_up, face),
            read_back=shown(set_up, chance),
            tip_state="dressed" if face == DRESSED_FACE else "worn flat, measured afterwards",
            note="Demo: welded by the model, not in a shop.",
        ),
    )
    clock.wait(9)
    readings = torn(spot.predict(joint.stack, worn(set_up, face)), joint.stack, chance)
    return judge_coupon(
        desk_of(ASSESSOR),
        JudgeCoupon(
            joint.id,
            joint.seen,
            joint.coupons[-1].id,
            readings=readings,
            instrument="Calliper 3",
        ),
    )
