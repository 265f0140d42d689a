"""Count the welds a gun made since its tips were dressed, on coupons and on vehicles."""

from buttonhole.desk.desk import Desk
from buttonhole.desk.folding import CORRECTION
from buttonhole.procedure.welding import TipCount


def tip_count(desk: Desk, machine: str, every: int) -> TipCount:
    """
    Count the welds since the tips of a gun were dressed.

    What somebody counted when a coupon was welded goes before our own count: welds outside the
    program are in it. The coupon itself counts as one.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    machine : str
        The gun.
    every : int
        After how many welds its tips are due [-].

    Returns
    -------
    TipCount
        The count.
    """
    events = desk.store.events(f"machine/{machine}")
    kinds = {"tip_dressed", "coupon_welded"}
    withdrawn: set[str] = set()
    if any(one.type in kinds for one in events):
        withdrawn = {one.payload["corrects"] for one in desk.store.events_of_type(CORRECTION)}
    counted: dict[str, None] = {}
    start = 0
    for one in events:
        if one.id in withdrawn:
            continue
        payload = one.payload
        if one.type == "tip_dressed" and payload["machine"] == machine:
            start, counted = 0, {}
        elif (
            one.type == "coupon_welded"
            and "weld" not in payload
            and payload["surroundings"]["machine"] == machine
        ):
            start, counted = payload["welds_since_dress"] + 1, {}
        elif one.type == "vehicle_weld_made":
            counted[one.id] = None
        elif one.type == "vehicle_weld_undone":
            counted.pop(payload["weld"], None)
    return TipCount(start + len(counted), every)
