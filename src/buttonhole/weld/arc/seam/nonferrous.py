"""Aluminium sheet for a seam, and the fillers that braze one."""

from buttonhole.weld.arc.nonferrous import (
    aluminium,
    aluminium_alloys,
    braze_filler,
    check_thickness,
)
from buttonhole.weld.arc.seam.joint import SeamSheet

__all__ = ["aluminium", "aluminium_alloys", "aluminium_sheet", "braze_filler"]


def aluminium_sheet(designation: str, thickness: float) -> SeamSheet:
    """Return a sheet of a listed aluminium alloy.

    Parameters
    ----------
    designation : str
        By EN 573, with or without "EN AW-".
    thickness : float
        Of the sheet [m].

    Returns
    -------
    SeamSheet
        Without zinc.

    Raises
    ------
    BadInput
        The alloy is not listed, or the sheet is not 1 to 3 mm thick.
    """
    check_thickness(thickness)
    return SeamSheet(aluminium(designation), thickness)
