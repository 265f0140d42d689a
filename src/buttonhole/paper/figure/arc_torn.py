"""Torn arc welds: the drawing of each way a plug, a seam or a braze lets go."""

from collections.abc import Mapping

from buttonhole.paper.figure.parted import Parted, Said, parted
from buttonhole.paper.figure.parted_braze import BRAZE_SCENES
from buttonhole.paper.figure.parted_butt import BUTT_SCENES
from buttonhole.paper.figure.parted_lap import LAP_SCENES
from buttonhole.paper.figure.parted_plug import BRAZED_PLUG_SCENES, PLUG_SCENES
from buttonhole.paper.figure.style import Style

ARC_SCENES: Mapping[str, Mapping[str, Parted]] = {
    "plug": PLUG_SCENES,
    "brazed plug": BRAZED_PLUG_SCENES,
    "lap": LAP_SCENES,
    "butt_backed": BUTT_SCENES,
    "brazed lap": BRAZE_SCENES,
    "brazed butt_backed": {**BUTT_SCENES, **BRAZE_SCENES},
}


def arc_torn(
    form: str, fracture: str, said: Said, *, style: Style | None = None, notes: bool = True
) -> str:
    """Draw how an arc weld let go.

    Parameters
    ----------
    form : str
        One of ``ARC_SCENES``: the form of the weld, with "brazed" before it where nothing melts.
    fracture : str
        How it let go, one of the scenes of that form.
    said : Said
        Its words.
    style : Style, optional
        Letter size and language.
    notes : bool
        Whether words stand in and under the picture; they are always in its description.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If form or fracture is not known.
    """
    scenes = ARC_SCENES.get(form)
    if scenes is None:
        raise ValueError(f"no picture shows a torn {form!r}; known: {', '.join(ARC_SCENES)}")
    if fracture not in scenes:
        raise ValueError(f"{fracture!r} is no fracture of a {form}; known: {', '.join(scenes)}")
    return parted(scenes[fracture], said, kind=fracture, style=style, notes=notes)
