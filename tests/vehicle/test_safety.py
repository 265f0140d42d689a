"""Which gates a job has follows from what is known; what nobody told makes a gate apply."""

import pytest

from buttonhole.units import BadInput
from buttonhole.vehicle.safety import GATES, JobFacts, Powertrain, find_gate, needed_gates


def needs(**known):
    return {one.gate.key: one for one in needed_gates(JobFacts(**known))}


def test_nothing_told_leaves_out_aluminium_only():
    found = needs()
    assert [key for key, one in found.items() if not one.needed] == ["aluminium"]


@pytest.mark.parametrize(
    ("drive", "high_voltage", "gas"),
    [
        (Powertrain.COMBUSTION, False, False),
        (Powertrain.HYBRID, True, False),
        (Powertrain.ELECTRIC, True, False),
        (Powertrain.GAS, True, True),
        (Powertrain.UNKNOWN, True, True),
    ],
)
def test_high_voltage_and_gas_follow_from_what_drives_it(drive, high_voltage, gas):
    found = needs(powertrain=drive)
    assert (found["high_voltage"].needed, found["gas"].needed) == (high_voltage, gas)


def test_aluminium_beside_steel_says_why_dust_is_kept_apart():
    found = needs(aluminium=("J9",), steel=True)["aluminium"]
    assert found.needed
    assert "J9" in found.because
    assert "thermite" in found.because
    assert "thermite" not in needs(aluminium=("J9",))["aluminium"].because


def test_zinc_names_its_joints_and_what_it_does():
    found = needs(zinc=("J1", "J2", "J3", "J4", "J5"))["extraction"]
    assert "J1, J2, J3, J4 and others" in found.because
    assert "fever" in found.because


def test_what_is_near_is_said_where_it_matters():
    found = needs(near=frozenset({"sealer", "fuel", "airbag"}))
    assert "sealer" in found["sealer"].because
    assert "fuel" in found["fire"].because
    assert "airbag" in found["restraints"].because


def test_every_gate_is_found_by_its_key():
    assert [find_gate(one.key) for one in GATES] == list(GATES)
    with pytest.raises(BadInput, match="high_voltage"):
        find_gate("sunshine")
