"""Hardness of cold-rolled strip beside its tensile strength, EN 10139 (validation).

Quantity: the span of tensile strength that goes with the span of hardness which the standard asks
of one delivery condition of DC01 and of DC03/DC04. Read in two stockholders' tables that quote
EN 10139:1998; the standard itself was not opened. The conversion is another source (DIN 50150),
read apart.

Expected: the converted ends of the hardness span meet the ends of the span of strength within the
10 % that the conversion claims. The hardest conditions are cold-worked, for which the conversion is
not made; they still agree, so they are kept.
"""

import pytest

from buttonhole.joint.hardness_tensile import SPREAD, tensile_of_hardness

# condition: tensile strength [MPa], hardness [HV]
DC01 = {
    "C290": ((290, 430), (95, 125)),
    "C340": ((340, 490), (105, 155)),
    "C390": ((390, 540), (117, 172)),
    "C440": ((440, 590), (135, 185)),
    "C490": ((490, 640), (155, 200)),
    "C590": ((590, 740), (185, 225)),
}
DC03 = {
    "C290": ((290, 390), (95, 117)),
    "C340": ((340, 440), (105, 130)),
    "C390": ((390, 490), (117, 155)),
    "C440": ((440, 540), (135, 172)),
    "C490": ((490, 590), (155, 185)),
}
CASES = [
    (f"{grade} {condition} {end}", strengths[i], hardnesses[i])
    for grade, rows in (("DC01", DC01), ("DC03", DC03))
    for condition, (strengths, hardnesses) in rows.items()
    for i, end in enumerate(("least", "most"))
]


@pytest.mark.parametrize(
    ("strength", "hardness"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_strength_by_hardness(strength: int, hardness: int) -> None:
    found = tensile_of_hardness(float(hardness)).value / 1e6
    assert found == pytest.approx(strength, rel=SPREAD)
