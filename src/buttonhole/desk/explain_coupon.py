"""Why a coupon is as it is: causes by what was seen on it, and what to do about them."""

from typing import Any

from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.desk.desk import Desk
from buttonhole.desk.learning_answer import diagnose_answer
from buttonhole.desk.read_job import find_coupon, read_joint
from buttonhole.desk.view import CouponView
from buttonhole.learning.coupon_signs import arc_signs, process_of, spot_signs
from buttonhole.learning.faults import signs
from buttonhole.units import BadInput


def explain_coupon(desk: Desk, joint_id: str, coupon_id: str) -> dict[str, Any]:
    """
    Say why a judged coupon may have failed. Nothing is written.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint_id : str
        Which joint.
    coupon_id : str
        Which coupon.

    Returns
    -------
    dict
        ``signs``: rows and words of what it shows; the causes as ``diagnose_answer`` gives them,
        ranked, by the most telling sign; ``suspects`` is empty where nothing speaks.

    Raises
    ------
    NotThere
        No such joint or coupon.
    BadInput
        It was not judged yet.
    """
    coupon = find_coupon(read_joint(desk, joint_id), coupon_id)
    if not coupon.is_judged:
        raise BadInput("coupon", f"{coupon.number} was not judged yet; tear it, read it, judge it")
    process, rows = shown_by(coupon)
    listed = signs()
    said = [{"row": row, "words": listed[row].words} for row in rows]
    if not rows:
        return {"process": process, "signs": [], "suspects": []}
    # The list of causes belongs to one sign: the most telling goes before the others.
    return {"signs": said, **diagnose_answer(process, rows[:1])}


def shown_by(coupon: CouponView) -> tuple[str, tuple[str, ...]]:
    """
    Name the process of a judged coupon and the signs it shows.

    Parameters
    ----------
    coupon : CouponView
        Judged.

    Returns
    -------
    tuple of str and tuple of str
        Process and rows, the most telling first.
    """
    rows: list[str] = []
    process = "spot" if coupon.weld is None else process_of(coupon.piece)
    for one in coupon.judged:
        if isinstance(one.reading, ArcReading):
            rows += arc_signs(one.reading, one.verdict, coupon.piece)
        else:
            rows += spot_signs(one.reading, one.verdict)
    return process, tuple(dict.fromkeys(rows))
