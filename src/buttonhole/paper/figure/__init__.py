"""Our own drawings: pure functions that return SVG text.

Every drawing carries a title and a description in words, is readable in black and white, uses
presentation attributes only (a strict content-security policy needs no exception) and names its
parts by CSS classes, so that a page can give them other colours.
"""

from buttonhole.paper.figure.growth import DrawnGrowth, growth
from buttonhole.paper.figure.margin import DrawnMargin, margin
from buttonhole.paper.figure.section import DrawnNugget, DrawnSection, SheetLevels, section
from buttonhole.paper.figure.stack import DrawnCap, DrawnLimit, DrawnSheet, DrawnStack, stack
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import words_of
from buttonhole.paper.figure.window import DrawnCurve, DrawnScatter, DrawnWindow, window

__all__ = [
    "DrawnCap",
    "DrawnCurve",
    "DrawnGrowth",
    "DrawnLimit",
    "DrawnMargin",
    "DrawnNugget",
    "DrawnScatter",
    "DrawnSection",
    "DrawnSheet",
    "DrawnStack",
    "DrawnWindow",
    "SheetLevels",
    "Style",
    "growth",
    "margin",
    "section",
    "stack",
    "window",
    "words_of",
]
