"""Our own drawings: pure functions that return SVG text.

Every drawing carries a title and a description in words, is readable in black and white, uses
presentation attributes only (a strict content-security policy needs no exception) and names its
parts by CSS classes, so that a page can give them other colours.
"""

from buttonhole.paper.figure.band import DrawnBand, band
from buttonhole.paper.figure.cycle import DrawnCourse, DrawnCycle, cycle
from buttonhole.paper.figure.growth import DrawnGrowth, growth
from buttonhole.paper.figure.how_to import HOW_TO, how_to
from buttonhole.paper.figure.icon import ICONS, advice, icon
from buttonhole.paper.figure.lobe import DrawnBoundary, DrawnForce, DrawnLobe, lobe
from buttonhole.paper.figure.margin import DrawnMargin, margin
from buttonhole.paper.figure.section import DrawnNugget, DrawnSection, SheetLevels, section
from buttonhole.paper.figure.stack import DrawnCap, DrawnLimit, DrawnSheet, DrawnStack, stack
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import words_of
from buttonhole.paper.figure.torn import FRACTURE_MODES, torn
from buttonhole.paper.figure.window import DrawnCurve, DrawnScatter, DrawnWindow, window

__all__ = [
    "FRACTURE_MODES",
    "HOW_TO",
    "ICONS",
    "DrawnBand",
    "DrawnBoundary",
    "DrawnCap",
    "DrawnCourse",
    "DrawnCurve",
    "DrawnCycle",
    "DrawnForce",
    "DrawnGrowth",
    "DrawnLimit",
    "DrawnLobe",
    "DrawnMargin",
    "DrawnNugget",
    "DrawnScatter",
    "DrawnSection",
    "DrawnSheet",
    "DrawnStack",
    "DrawnWindow",
    "SheetLevels",
    "Style",
    "advice",
    "band",
    "cycle",
    "growth",
    "how_to",
    "icon",
    "lobe",
    "margin",
    "section",
    "stack",
    "torn",
    "window",
    "words_of",
]
