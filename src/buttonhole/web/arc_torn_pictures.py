"""Drawings of torn arc welds, with the words of the core."""

from functools import lru_cache

from markupsafe import Markup

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.imperfection import Imperfection
from buttonhole.coupon.arc.piece import ArcForm, ArcPiece
from buttonhole.language.display import Display, display_now
from buttonhole.paper import figure
from buttonhole.paper.figure import Said
from buttonhole.web.pictures import at_both_sizes, style_of
from buttonhole.web.render import drawing
from buttonhole.weld.arc.plug.marks import BackMark


def torn_arc_picture(piece: ArcPiece, how: ArcFracture, *, notes: bool = True) -> Markup:
    """Draw how a weld let go, with what to measure in words."""
    form = f"brazed {piece.form.value}" if piece.brazed else piece.form.value
    return _torn(form, how, notes, display_now())


def back_choice(mark: BackMark, *, seam: bool) -> tuple[str, str, Markup]:
    """Name of a mark on the back, how it is known, and its picture."""
    name, sign = figure.back_words(mark.value)
    return name, sign, _back(mark, seam, False, display_now())


def back_picture(mark: BackMark, *, seam: bool) -> Markup:
    """Draw a mark on the back with its words."""
    return _back(mark, seam, True, display_now())


def fault_picture(seen: Imperfection, piece: ArcPiece) -> Markup:
    """Draw something that can be seen; nothing where it has no picture."""
    if seen.key not in figure.WELD_FAULTS:
        return Markup()
    return _fault(seen, piece.form is ArcForm.PLUG, piece.brazed, display_now())


# The drawings do not depend on anybody's weld: each is drawn once for each language.


@lru_cache(maxsize=500)
def _torn(form: str, how: ArcFracture, notes: bool, _display: Display) -> Markup:
    said = Said(how.words.name, how.words.sign, how.words.measure)
    if notes:
        return at_both_sizes(lambda style: figure.arc_torn(form, how.value, said, style=style))
    return drawing(figure.arc_torn(form, how.value, said, style=style_of(26.0), notes=False))


@lru_cache(maxsize=100)
def _back(mark: BackMark, seam: bool, notes: bool, _display: Display) -> Markup:
    return drawing(figure.back_look(mark.value, seam=seam, style=style_of(16.0), notes=notes))


@lru_cache(maxsize=300)
def _fault(seen: Imperfection, plug: bool, brazed: bool, _display: Display) -> Markup:
    style = style_of(16.0)
    return drawing(
        figure.weld_fault(seen.key, seen.name, seen.sign, plug=plug, brazed=brazed, style=style)
    )
