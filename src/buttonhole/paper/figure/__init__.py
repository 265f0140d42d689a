"""Our own drawings: pure functions that return SVG text.

Every drawing carries a title and a description in words, is readable in black and white, uses
presentation attributes only (a strict content-security policy needs no exception) and names its
parts by CSS classes, so that a page can give them other colours.
"""

from buttonhole.paper.figure.arc_back import DrawnBack, DrawnRing, arc_back
from buttonhole.paper.figure.arc_joint import DrawnArcJoint, arc_joint
from buttonhole.paper.figure.arc_section import (
    DrawnArcSection,
    DrawnFact,
    DrawnSpan,
    arc_section,
    at_one_scale,
)
from buttonhole.paper.figure.arc_torn import ARC_SCENES, arc_torn
from buttonhole.paper.figure.back_look import BACK_MARKS, back_look, back_words
from buttonhole.paper.figure.band import DrawnBand, band
from buttonhole.paper.figure.cycle import DrawnCourse, DrawnCycle, cycle
from buttonhole.paper.figure.growth import DrawnGrowth, growth
from buttonhole.paper.figure.hidden_fusion import DrawnHidden, hidden_fusion
from buttonhole.paper.figure.how_to import HOW_TO, how_to
from buttonhole.paper.figure.hundred import DrawnHundred, hundred
from buttonhole.paper.figure.icon import ICONS, advice, icon
from buttonhole.paper.figure.lobe import DrawnBoundary, DrawnForce, DrawnLobe, lobe
from buttonhole.paper.figure.margin import DrawnMargin, margin
from buttonhole.paper.figure.parted import Said
from buttonhole.paper.figure.section import DrawnNugget, DrawnSection, SheetLevels, section
from buttonhole.paper.figure.stack import (
    DrawnCap,
    DrawnLens,
    DrawnLimit,
    DrawnSheet,
    DrawnStack,
    stack,
)
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import words_of
from buttonhole.paper.figure.torn import FRACTURE_MODES, torn
from buttonhole.paper.figure.twist_angle import twist_angle
from buttonhole.paper.figure.weld_fault import WELD_FAULTS, weld_fault
from buttonhole.paper.figure.window import DrawnCurve, DrawnScatter, DrawnWindow, window

__all__ = [
    "ARC_SCENES",
    "BACK_MARKS",
    "FRACTURE_MODES",
    "HOW_TO",
    "ICONS",
    "WELD_FAULTS",
    "DrawnArcJoint",
    "DrawnArcSection",
    "DrawnBack",
    "DrawnBand",
    "DrawnBoundary",
    "DrawnCap",
    "DrawnCourse",
    "DrawnCurve",
    "DrawnCycle",
    "DrawnFact",
    "DrawnForce",
    "DrawnGrowth",
    "DrawnHidden",
    "DrawnHundred",
    "DrawnLens",
    "DrawnLimit",
    "DrawnLobe",
    "DrawnMargin",
    "DrawnNugget",
    "DrawnRing",
    "DrawnScatter",
    "DrawnSection",
    "DrawnSheet",
    "DrawnSpan",
    "DrawnStack",
    "DrawnWindow",
    "Said",
    "SheetLevels",
    "Style",
    "advice",
    "arc_back",
    "arc_joint",
    "arc_section",
    "arc_torn",
    "at_one_scale",
    "back_look",
    "back_words",
    "band",
    "cycle",
    "growth",
    "hidden_fusion",
    "how_to",
    "hundred",
    "icon",
    "lobe",
    "margin",
    "section",
    "stack",
    "torn",
    "twist_angle",
    "weld_fault",
    "window",
    "words_of",
]
