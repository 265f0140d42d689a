"""Drawings of torn arc welds, with the words of the core."""

from markupsafe import Markup

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.imperfection import Imperfection
from buttonhole.coupon.arc.piece import ArcForm, ArcPiece
from buttonhole.paper import figure
from buttonhole.paper.figure import Said, Style
from buttonhole.web.render import drawing
from buttonhole.weld.arc.plug.marks import BackMark


def torn_arc_picture(piece: ArcPiece, how: ArcFracture, *, notes: bool = True) -> Markup:
    """Draw how a weld let go, with what to measure in words."""
    form = f"brazed {piece.form.value}" if piece.brazed else piece.form.value
    said = Said(how.words.name, how.words.sign, how.words.measure)
    style = Style(lettering=18.0 if notes else 26.0)
    return drawing(figure.arc_torn(form, how.value, said, style=style, notes=notes))


def back_choice(mark: BackMark, *, seam: bool) -> tuple[str, str, Markup]:
    """Name of a mark on the back, how it is known, and its picture."""
    name, sign = figure.back_words(mark.value)
    return name, sign, drawing(figure.back_look(mark.value, seam=seam, notes=False))


def back_picture(mark: BackMark, *, seam: bool) -> Markup:
    """Draw a mark on the back with its words."""
    return drawing(figure.back_look(mark.value, seam=seam, style=Style(lettering=16.0)))


def fault_picture(seen: Imperfection, piece: ArcPiece) -> Markup:
    """Draw something that can be seen; nothing where it has no picture."""
    if seen.key not in figure.WELD_FAULTS:
        return Markup()
    plug = piece.form is ArcForm.PLUG
    return drawing(
        figure.weld_fault(seen.key, seen.name, seen.sign, plug=plug, brazed=piece.brazed)
    )
