"""What the heat leaves, read from predicted spot welds and arc welds."""

from pathlib import Path

import numpy as np
import pytest

from buttonhole.desk.spot_weld import predict_spot
from buttonhole.desk.weld_file import PlugWeldFile, read_any_weld_file
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc import plug
from buttonhole.weld.hardness.of_arc import plug_metal
from buttonhole.weld.hardness.of_spot import SpotMetal, spot_metal
from buttonhole.weld.spot.condition import SpotCondition
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

CAP = ElectrodeCap(face_diameter=6e-3)
SET_UP = SpotSetUp((Pulse(7.2e3, 0.28),), CurrentType.MFDC, 3.6e3, CAP, CAP, 0.3, 0.3)


def stack(first: str, second: str, coating: Coating = Coating.GI) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(one), 1.2e-3, coating) for one in (first, second)))


@pytest.fixture(scope="module")
def mixed() -> tuple[SpotWeld, SpotMetal]:
    return predict_spot(stack("HCT980X", "DC04"), SET_UP)


def test_only_the_sheet_with_martensite_softens(mixed: tuple[SpotWeld, SpotMetal]) -> None:
    weld, metal = mixed
    zone, none = metal.soft
    assert none is None
    assert zone is not None
    assert zone.at is not None
    assert zone.band is not None
    # softest at the edge of the heat-affected zone, beyond the nugget
    assert zone.at.value == pytest.approx(0.5 * weld.sheets[0].haz_diameter.value, rel=0.02)
    assert zone.at.value > 0.5 * weld.interfaces[0].nugget_diameter.value
    assert 0.1e-3 < zone.band.value < 2e-3
    assert zone.softened.softest.high < zone.softened.base.value


def test_the_weld_says_what_its_metal_says(mixed: tuple[SpotWeld, SpotMetal]) -> None:
    weld, metal = mixed
    assert weld.peak_hardness == metal.peak.hardness
    assert metal.peak.relation == "martensite by carbon"
    said = " ".join(weld.warnings)
    assert "softens beside the weld" in said
    assert "liquid zinc" in said


def test_no_zinc_no_flag_and_a_tilted_gun_makes_it_likely() -> None:
    assert predict_spot(stack("HCT980X", "DC04", Coating.BARE), SET_UP)[1].zinc == ()
    tilted = SpotCondition(tilt=float(np.radians(5.0)))
    weld, metal = predict_spot(stack("HCT980X", "DC04"), SET_UP, condition=tilted)
    assert any("tilted" in one.text for one in metal.zinc)
    assert all(one.sheet == 1 for one in metal.zinc)
    assert any("tilted" in one for one in weld.warnings)


def test_a_weld_without_heat_leaves_everything_as_it_was() -> None:
    cold = SpotSetUp((Pulse(0.5e3, 0.02),), CurrentType.MFDC, 3.6e3, CAP, CAP, 0.3, 0.1)
    weld, metal = predict_spot(stack("22MnB5", "HCT980X"), cold)
    assert metal.soft == (None, None)
    assert metal.zinc == ()
    assert metal.peak.relation == "sheet as delivered"
    assert spot_metal(weld, stack("22MnB5", "HCT980X"), cold) == metal


def test_an_arc_softens_more_than_a_spot(mixed: tuple[SpotWeld, SpotMetal], tmp_path: Path) -> None:
    file = tmp_path / "plug.toml"
    text = Path("examples/plug.toml").read_text(encoding="utf-8")
    file.write_text(text.replace('"DC04"', '"HCT980X"'), encoding="utf-8")
    described = read_any_weld_file(file)
    assert isinstance(described, PlugWeldFile)
    weld = plug.predict(described.joint, described.set_up)
    metal = plug_metal(weld, described.joint)
    assert weld.peak_hardness == weld.hardening.hardness
    spot = mixed[1].soft[0]
    assert spot is not None
    for number, zone in enumerate(metal.soft):
        assert zone is not None
        assert zone.at is not None
        assert zone.softened.softest.value < spot.softened.softest.value
        # Ac1 lies higher the faster it is heated; both readings are of the same field
        assert zone.at.value == pytest.approx(0.5 * weld.haz_diameter[number].value, rel=0.1)
    assert metal.peak is weld.hardening
