"""Ranges of sheet steels as printed, rows of the book that are marked as read (verification).

Quantities: yield and tensile strength [MPa], smallest elongation [%], composition limits [%],
coating mass [g/m2] and thickness of the layer [um]. Inputs and expected values as printed in
suppliers' tables and catalogues that quote JIS G 3135, JIS G 3113, EN 10130 (as FeP01 to FeP04),
EN 10326:2004, EN 10268:1998, EN 10149-2 and the compositions of EN 10346; no standard was opened.
Copied here a second time, apart from the tables of the program.

Tolerance: none, they are the printed digits. Where two sources print different limits the row is
left out (HX300LAD: 0.11 and 0.12 % C); the table steel_conflicts names those.
"""

import math

import pytest

from buttonhole.joint.coating_name import find_coating
from buttonhole.joint.steel import find_steel
from buttonhole.joint.steel_book import entry, relatives

# lowest tensile and yield strength, elongation of 0.6 to 1.0 mm (of the hot-rolled one to 2 mm)
JIS = {
    "SPFC340": (340, 175, 34), "SPFC370": (370, 205, 32), "SPFC390": (390, 235, 30),
    "SPFC440": (440, 265, 26), "SPFC490": (490, 295, 23), "SPFC540": (540, 325, 20),
    "SPFC590": (590, 355, 17), "SPFC490Y": (490, 225, 24), "SPFC540Y": (540, 245, 21),
    "SPFC590Y": (590, 265, 18), "SPFC780Y": (780, 365, 13), "SPFC980Y": (980, 490, 6),
    "SPFC340H": (340, 185, 34), "SAPH310": (310, 195, 33), "SAPH370": (370, 225, 32),
    "SAPH400": (400, 255, 31), "SAPH440": (440, 305, 29),
}  # fmt: skip
STRUCTURAL = {
    "S220GD": (300, 220, 20), "S250GD": (330, 250, 19), "S280GD": (360, 280, 18),
    "S320GD": (390, 320, 17), "S350GD": (420, 350, 16),
}  # fmt: skip
# tensile strength from, to; least yield strength; elongation; C, Si, Mn, P, S at most
HOT_ROLLED = {
    "S315MC": (390, 510, 315, 20, 0.12, 0.50, 1.30, 0.025, 0.020),
    "S355MC": (430, 550, 355, 19, 0.12, 0.50, 1.50, 0.025, 0.020),
    "S420MC": (480, 620, 420, 16, 0.12, 0.50, 1.60, 0.025, 0.015),
    "S460MC": (520, 670, 460, 14, 0.12, 0.50, 1.60, 0.025, 0.015),
    "S500MC": (550, 700, 500, 12, 0.12, 0.50, 1.70, 0.025, 0.015),
}
# tensile strength from, to; most yield strength; elongation
DRAWING = {"FeP01": (270, 410, 280, 28), "FeP03": (270, 370, 240, 34), "FeP04": (270, 350, 210, 38)}
# along the strip: tensile and yield strength from, to; elongation
ALONG = {
    "H240LA": (340, 420, 240, 310, 27), "H280LA": (370, 470, 280, 360, 24),
    "H320LA": (400, 500, 320, 410, 22), "H360LA": (430, 550, 360, 460, 20),
    "H400LA": (460, 580, 400, 500, 18),
}  # fmt: skip
RENAMED = {"HC260LA": "H240LA", "HC300LA": "H280LA", "HC340LA": "H320LA", "HC380LA": "H360LA",
           "HC420LA": "H400LA"}  # fmt: skip
COMPOSITION = {  # C, Si, Mn, P, S, Nb, Ti at most
    "HX160YD": (0.01, 0.30, 0.60, 0.060, 0.025, 0.09, 0.12),
    "HX180YD": (0.01, 0.30, 0.70, 0.060, 0.025, 0.09, 0.12),
    "HX220YD": (0.01, 0.30, 0.90, 0.080, 0.025, 0.09, 0.12),
    "HX260YD": (0.01, 0.30, 1.60, 0.100, 0.025, 0.09, 0.12),
    "HX300YD": (0.015, 0.30, 1.60, 0.100, 0.025, 0.09, 0.12),
    "HX180BD": (0.06, 0.50, 0.70, 0.060, 0.025, 0.09, 0.12),
    "HX220BD": (0.08, 0.50, 0.70, 0.085, 0.025, 0.09, 0.12),
    "HX260BD": (0.10, 0.50, 1.00, 0.100, 0.030, 0.09, 0.12),
    "HX300BD": (0.11, 0.50, 0.80, 0.120, 0.025, 0.09, 0.12),
    "HX260LAD": (0.11, 0.50, 1.00, 0.030, 0.025, 0.09, 0.15),
}
NUMBERS = {
    "HX160YD": "1.0910", "HX180YD": "1.0921", "HX180BD": "1.0914", "HX220YD": "1.0923",
    "HX220BD": "1.0919", "HX260YD": "1.0926", "HX260BD": "1.0924", "HX260LAD": "1.0929",
    "HX300YD": "1.0927", "HX300BD": "1.0930", "HX300LAD": "1.0932", "HX340BD": "1.0945",
    "S220GD": "1.0241", "S250GD": "1.0242", "S280GD": "1.0244", "S320GD": "1.0250",
    "S350GD": "1.0529", "S550GD": "1.0531", "DC05": "1.0312", "DC07": "1.0898", "HC260LA": "1.0480",
}  # fmt: skip
LAYERS = {  # guiding thickness of each side, from, to
    "Z100": (7, 5, 12), "Z140": (10, 7, 15), "Z200": (14, 10, 20), "Z225": (16, 11, 22),
    "Z275": (20, 15, 27), "Z350": (25, 19, 33), "Z450": (32, 24, 42), "Z600": (42, 32, 55),
    "ZF100": (7, 5, 12), "ZF140": (10, 7, 15), "ZA095": (7, 5, 12), "ZA130": (10, 7, 15),
    "ZA185": (14, 10, 20),
}  # fmt: skip


@pytest.mark.parametrize(("name", "printed"), [*JIS.items(), *STRUCTURAL.items()])
def test_least_strengths(name: str, printed: tuple[int, int, int]) -> None:
    steel = find_steel(name)
    assert steel.tensile_range[0] / 1e6 == printed[0]
    assert steel.yield_range[0] / 1e6 == printed[1]
    assert 100.0 * entry(steel).elongation == pytest.approx(printed[2])
    assert entry(steel).verified


@pytest.mark.parametrize(("name", "printed"), HOT_ROLLED.items())
def test_hot_rolled_steels(name: str, printed: tuple[float, ...]) -> None:
    steel = find_steel(name)
    found = (*steel.tensile_range, steel.yield_range[0], 1e8 * entry(steel).elongation)
    assert [round(one / 1e6) for one in found] == list(printed[:4])
    limits = steel.composition_limit
    assert tuple(limits[element] for element in ("C", "Si", "Mn", "P", "S")) == printed[4:]


@pytest.mark.parametrize(("name", "printed"), DRAWING.items())
def test_drawing_steels(name: str, printed: tuple[int, int, int, int]) -> None:
    steel = find_steel(name)
    found = (*steel.tensile_range, steel.yield_range[1], 1e8 * entry(steel).elongation)
    assert [round(one / 1e6) for one in found] == list(printed)


@pytest.mark.parametrize(("name", "printed"), ALONG.items())
def test_micro_alloyed_steels_along_the_strip(name: str, printed: tuple[int, ...]) -> None:
    steel = find_steel(name)
    found = (*steel.tensile_range, *steel.yield_range, 1e8 * entry(steel).elongation)
    assert [round(one / 1e6) for one in found] == list(printed)


@pytest.mark.parametrize(("now", "then"), RENAMED.items())
def test_what_the_older_standard_called_them(now: str, then: str) -> None:
    kin = {one.steel.designation: one.kinship.value for one in relatives(find_steel(now))}
    assert kin[then] == "same"


@pytest.mark.parametrize(("name", "printed"), COMPOSITION.items())
def test_composition_limits(name: str, printed: tuple[float, ...]) -> None:
    limits = find_steel(name).composition_limit
    assert tuple(limits[element] for element in ("C", "Si", "Mn", "P", "S", "Nb", "Ti")) == printed


@pytest.mark.parametrize(("name", "number"), NUMBERS.items())
def test_material_numbers(name: str, number: str) -> None:
    assert find_steel(number) is find_steel(name)
    assert entry(find_steel(name)).number == number


@pytest.mark.parametrize(("name", "printed"), LAYERS.items())
def test_layers(name: str, printed: tuple[int, int, int]) -> None:
    found = find_coating(name, "EN 10346")
    spans = (found.thickness[0], *found.thickness_range)
    assert [round(one * 1e6) for one in spans] == list(printed)
    assert math.fsum(found.mass) * 1e3 == pytest.approx(float(name.lstrip("ZFA")))
