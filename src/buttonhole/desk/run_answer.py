"""A run of welds as one object with units in the key names: for the CLI."""

from typing import Any

from buttonhole.weld.spot.run import WeldRun


def run_answer(found: WeldRun, interval: float) -> dict[str, Any]:
    """What a run of welds came to, ready for JSON.

    Parameters
    ----------
    found : WeldRun
        The run.
    interval : float
        From one weld to the next [s].

    Returns
    -------
    dict
        Keys with units, one row a weld.
    """
    return {
        "process": "spot",
        "interval_s": interval,
        "settled_after_welds": found.settled,
        "welds": [
            {
                "number": number,
                "nugget_diameter_mm": (1e3 * nugget).tolist(),
                "cap_start_degC": start.tolist(),
                "cap_hottest_degC": hottest.tolist(),
            }
            for number, (nugget, start, hottest) in enumerate(
                zip(found.nugget, found.start, found.peak_face, strict=True), start=1
            )
        ],
    }
