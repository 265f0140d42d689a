"""The quick answer as an object for programs: marked, with its error, or the solver's and why."""

from buttonhole.desk.quick_answer import quick_answer
from buttonhole.desk.rules import listed_rules, rule_for
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.emulator import quick
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

CAP = ElectrodeCap(face_diameter=6e-3)
TWO = StackUp((Sheet(find_steel("DC04"), 1e-3),) * 2)


def set_up(time: float) -> SpotSetUp:
    return SpotSetUp((Pulse(9e3, time),), CurrentType.MFDC, 2.4e3, CAP, CAP, 0.3, 0.16)


def test_inside_the_ground_the_figures_are_the_emulators() -> None:
    rule = rule_for(TWO, None)
    answer = quick_answer(TWO, set_up(0.2), rule, listed_rules())
    weld = quick(TWO, set_up(0.2))
    assert answer["quick"]["is_quick"]
    assert answer["quick"]["nugget_error_mm"] == [1e3 * weld.emulator_error[0]]
    (one,) = answer["interfaces"]
    assert one["nugget_diameter_mm"] == 1e3 * weld.interfaces[0].nugget_diameter.value
    assert one["minimum_rule"] == rule.key
    assert "solver_seconds" not in answer
    assert answer["model_version"].endswith("quick")


def test_outside_the_solver_answers_and_the_reason_is_said() -> None:
    answer = quick_answer(TWO, set_up(0.02), rule_for(TWO, None), listed_rules())
    assert answer["quick"] == {"is_quick": False, "why_not": quick(TWO, set_up(0.02)).why_outside}
    assert answer["solver_seconds"] > 0.0
    assert "thermal_cycles" in answer
