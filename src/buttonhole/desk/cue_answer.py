"""The weld of a cue, computed now, as for JSON."""

from typing import Any

from buttonhole.coupon.criterion import find_criterion
from buttonhole.desk.arc_view import Keys
from buttonhole.desk.predict_arc import predict_arc
from buttonhole.desk.spot_answer import spot_answer
from buttonhole.desk.spot_weld import predict_spot
from buttonhole.desk.weld_file import arc_weld_file_from, weld_file_from

RULE = "5-root-t"  # shown in drawings of a spot


def cue_answer(keys: Keys) -> dict[str, Any]:
    """
    Weld a case of a cue in the model.

    Parameters
    ----------
    keys : mapping
        Of a weld file.

    Returns
    -------
    dict
        As ``buttonhole predict --json``.

    Raises
    ------
    BadInput
        When it can't be computed.
    """
    if keys["process"] != "spot":
        return dict(predict_arc(arc_weld_file_from(keys)))
    weld = weld_file_from(dict(keys))
    assert weld.set_up is not None  # noqa: S101 - every case of a cue has one
    solved, metal = predict_spot(weld.stack, weld.set_up, condition=weld.condition)
    rule = find_criterion(RULE)
    return spot_answer(solved, metal, weld.stack, rule, (rule,))
