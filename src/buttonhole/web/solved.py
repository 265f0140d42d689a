"""Arc welds that were worked out, kept: the same keys give the same figures."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from buttonhole.desk.arc_view import Keys
from buttonhole.desk.predict_arc import arc_answer, solve_arc
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile, arc_weld_file_from
from buttonhole.paper.figure import from_arc
from buttonhole.paper.figure.arc_section import DrawnArcSection
from buttonhole.web.pictures import Lettered, arc_back_picture, arc_section_picture

if TYPE_CHECKING:  # the compiled kernels are slow to import
    from buttonhole.weld.arc.plug.result import PlugWeld
    from buttonhole.weld.arc.seam.result import SeamWeld


@dataclass(frozen=True, slots=True)
class SolvedArc:
    """An arc weld as described, as predicted, as JSON says it, and drawn."""

    described: PlugWeldFile | SeamWeldFile
    weld: "PlugWeld | SeamWeld"
    answer: Mapping[str, Any]
    drawn: DrawnArcSection
    section: Lettered
    back: Lettered

    @property
    def is_plug(self) -> bool:
        """Whether it is a plug."""
        return isinstance(self.described, PlugWeldFile)


def solved(keys: Keys, *, quick: bool = False) -> SolvedArc:
    """Work an arc weld out, or take the one that was worked out for the same keys.

    Parameters
    ----------
    keys : mapping
        Of a weld file.
    quick : bool
        Coarsely, while somebody moves a setting.

    Returns
    -------
    SolvedArc
        With its pictures.

    Raises
    ------
    BadInput
        The keys make no weld, or it can't be computed.
    """
    return _kept(_named(keys), quick)


def is_solved(keys: Keys) -> bool:
    """Whether this weld was worked out a moment ago, finely."""
    return _named(keys) in _DONE


def _named(keys: Keys) -> str:
    return json.dumps(keys, sort_keys=True)


_DONE: set[str] = set()
_MOST = 64


@lru_cache(maxsize=_MOST)
def _kept(named: str, quick: bool) -> SolvedArc:
    from buttonhole.weld.arc.plug.result import PlugWeld

    described = arc_weld_file_from(json.loads(named))
    weld = solve_arc(described, quick=quick)
    answer = arc_answer(described, weld)
    if isinstance(weld, PlugWeld):
        assert isinstance(described, PlugWeldFile)  # noqa: S101 - solved for this very file
        section = from_arc.drawn_plug(weld, described.joint)
        back = from_arc.plug_back(weld)
    else:
        assert isinstance(described, SeamWeldFile)  # noqa: S101 - solved for this very file
        section = from_arc.drawn_seam(weld, described.joint, brazed=bool(answer["brazed"]))
        back = from_arc.seam_back(weld, described.joint, str(answer["back_mark"]))
    if not quick:
        if len(_DONE) >= _MOST // 2:  # what is forgotten here is only worked out with its page
            _DONE.clear()
        _DONE.add(named)
    return SolvedArc(
        described, weld, answer, section, arc_section_picture(section), arc_back_picture(back)
    )
