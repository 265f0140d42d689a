"""From a predicted spot weld to what it holds."""

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.carbon_equivalent import carbon_equivalent
from buttonhole.weld.hardness.of_spot import SpotMetal
from buttonhole.weld.hardness.peak import base_hardness
from buttonhole.weld.hardness.zone import strength_left
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.strength.spot import SpotMade


def spot_made(weld: SpotWeld, metal: SpotMetal, stack: StackUp) -> SpotMade | None:
    """Take from a prediction what its strength depends on.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    metal : SpotMetal
        What its heat leaves of the steel.
    stack : StackUp
        The sheets.

    Returns
    -------
    SpotMade or None
        None where a steel is not known, as its strength is not.
    """
    sheets = stack.sheets
    if any(one.steel.is_unknown for one in sheets):
        return None
    soft: list[Estimate] = []
    for sheet, zone in zip(sheets, metal.soft, strict=True):
        base = base_hardness(sheet.steel)
        soft.append(base if zone is None or not zone.softened.known else zone.softened.softest)
    return SpotMade(
        thicknesses=tuple(one.thickness for one in sheets),
        strengths=tuple(
            strength_left(one.steel.tensile_strength, zone)
            for one, zone in zip(sheets, metal.soft, strict=True)
        ),
        nuggets=tuple(one.nugget_diameter for one in weld.interfaces),
        nugget_hardness=metal.peak.hardness,
        soft_hardness=tuple(soft),
        carbon_equivalents=tuple(
            carbon_equivalent(one.steel.composition, "CE_spot") for one in sheets
        ),
    )
