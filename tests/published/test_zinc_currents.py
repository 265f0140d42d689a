"""Current that zinc-coated sheet takes over bare sheet for a nugget of 5*sqrt(t).

Role: calibration (the widening of a contact by molten zinc was set by these ratios). Source:
ISO 14373:2015 guideline settings, middles of the printed ranges (tables ``schedule_iso14373_*``).
Tolerance: the printed ranges are two to three kA wide; the middles give 1.10 to 1.25 at 0.8 to
1.0 mm and 1.2 to 1.4 at 1.2 to 1.6 mm.
"""

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import Resolution, simulate

GRID = Resolution(cell=0.2e-3, t_step=90.0)


def middle(row: dict[str, object], quantity: str, unit: str) -> float:
    return (
        float(str(row[f"{quantity}_min [{unit}]"])) + float(str(row[f"{quantity}_max [{unit}]"]))
    ) / 2


def current_for(coating: Coating, t: float, face: float, force: float, time: float) -> float:
    """Bisection on the current [A]."""
    sheet, cap = Sheet(find_steel("DC04"), t, coating), ElectrodeCap(face_diameter=face)
    low, high = 3e3, 30e3
    for _ in range(9):
        current = (low + high) / 2
        asked = SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, cap, cap, 0.3, 0.0)
        d = float(simulate(StackUp((sheet, sheet)), asked, GRID).nugget[0])
        low, high = (current, high) if d < 5e-3 * (t * 1e3) ** 0.5 else (low, current)
    return (low + high) / 2


@pytest.mark.parametrize(("over", "low", "high"), [("0.8", 1.10, 1.25), ("1.2", 1.20, 1.40)])
def test_hot_dip_zinc_takes_more(over: str, low: float, high: float) -> None:
    bare = table("schedule_iso14373_uncoated").where("condition", "high force, short time")
    zinc = table("schedule_iso14373_zinc").where("coating", "hot-dip zinc")
    (b,), (z,) = bare.where("t_over [mm]", over).rows(), zinc.where("t_over [mm]", over).rows()
    t = (float(str(b["t_over [mm]"])) + float(str(b["t_upto [mm]"]))) / 2 * 1e-3
    face = float(str(b["face [mm]"])) * 1e-3
    plain = current_for(
        Coating.BARE, t, face, 1e3 * middle(b, "force", "kN"),
        middle(b, "weld_time", "cycle50") / 50.0,
    )  # fmt: skip
    coated = current_for(
        Coating.GI, t, face, 1e3 * middle(z, "force", "kN"),
        1e-3 * middle(z, "weld_time", "ms"),
    )  # fmt: skip
    assert low <= coated / plain <= high
