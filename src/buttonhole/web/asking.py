"""Questions one a screen: what a screen asks, which is the next, and the way back.

The answers so far stand in the address of the page: the back button, a tablet that slept and a
server that started again lose none of them. Nothing is in the record before the last step.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from markupsafe import Markup

from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.gauge import Gauge, GaugeKind, usual_gauge
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.uncertainty import combined
from buttonhole.coupon.verdict import COVERAGE
from buttonhole.web.fields import Answers
from buttonhole.web.words import plain_figure

NO_PICTURE = Markup()
GAUGE = "gauge"
DIAMETERS = ("max-", "d_max-")  # begin the keys of the figures that a photo can give


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to tap."""

    value: str
    words: str
    more: str = ""
    picture: Markup = NO_PICTURE


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure to type: key of its field, label and unit beside it."""

    key: str
    label: str
    unit: str
    need: bool = True


@dataclass(frozen=True, slots=True)
class Question:
    """One screen: answers to tap, or figures to type. ``keys`` are what it fills in.

    ``several``: as many answers as are true may be tapped, each a key of its own, also none;
    ``keys[0]`` then says that the question was answered.
    """

    keys: tuple[str, ...]
    question: str
    hint: str = ""
    place: str = ""
    choices: tuple[Choice, ...] = ()
    figures: tuple[Figure, ...] = ()
    pictures: tuple[Markup, ...] = ()
    several: bool = False


Measured = Callable[[Question, Answers], bool]


def open_question(
    asked: tuple[Question, ...], form: Answers, measured: Measured
) -> Question | None:
    """The first question without a usable answer; what is wrong with it is marked in the form.

    ``measured`` reads the figures of a question and says whether they can be what they should.
    """
    for one in asked:
        if not _answered(one, form):
            return one
        if one.choices and not one.several:
            if form.typed[one.keys[0]] not in {each.value for each in one.choices}:
                form.faults[one.keys[0]] = "Tap one of these."
                return one
        elif one.figures and not measured(one, form):
            return one
    return None


def _answered(one: Question, form: Answers) -> bool:
    """Whether every answer that is needed is there; a figure left out on a sent page is marked."""
    needed = needed_keys(one)
    if one.figures and not needed:  # nothing here must be typed: sent is answered
        return any(key in form.typed for key in one.keys)
    if all(form.typed.get(key, "").strip() for key in needed):
        return True
    if any(key in form.typed for key in needed):
        for figure in one.figures:
            if figure.need and not form.text(figure.key):
                form.faults[figure.key] = f"{figure.label}: measure it and type it in."
    return False


def needed_keys(one: Question) -> tuple[str, ...]:
    """The answers without which a question is open."""
    if one.figures:
        return tuple(figure.key for figure in one.figures if figure.need)
    return one.keys[:1]


def address(given: Mapping[str, str], asked: tuple[Question, ...], upto: Question | None) -> str:
    """The answers before a question, as the end of an address."""
    kept: dict[str, str] = {}
    for one in asked:
        if one is upto:
            break
        kept.update({key: given[key] for key in one.keys if key in given})
    return f"?{urlencode(kept)}" if kept else ""


def which_gauge(gauges: tuple[Gauge, ...]) -> Question:
    """Ask what it was measured with; each gauge with how far a reading may be off."""
    choices = []
    for one in gauges:
        off = f"Clean edge ± {plain_figure(2 * one.edge, 'mm')}, "
        off += f"broken face ± {plain_figure(2 * one.face, 'mm')}, "
        off += f"reader ± {plain_figure(2 * one.reader, 'mm')}. "
        whence = f"Own study: {one.study}" if one.study else f"Usual figures. {one.kind.how}"
        choices.append(Choice(gauge_value(one), one.name, off + whence))
    return Question(
        (GAUGE,),
        "What did you measure with?",
        "How far a reading may be off becomes the guard band of the verdict.",
        choices=tuple(choices),
    )


def gauge_value(gauge: Gauge) -> str:
    """The answer that stands for a gauge."""
    return f"own {gauge.name}" if gauge.study else gauge.kind.value


def gauge_of(gauges: tuple[Gauge, ...], given: Mapping[str, str]) -> Gauge:
    """The gauge that was tapped; a calliper with the usual figures where none was yet."""
    wanted = given.get(GAUGE, "")
    found = [one for one in gauges if gauge_value(one) == wanted]
    return found[0] if found else usual_gauge(GaugeKind.CALLIPER)


def instrument_words(gauge: Gauge) -> str:
    """What the record says of a gauge."""
    return f"{gauge.name} ({gauge.kind.words.lower()})" if gauge.study else gauge.name


def asked_page(
    form: Answers, asked: tuple[Question, ...], measured: Measured, coupon: str
) -> dict[str, Any]:
    """What the page of the next question shows; ``ask`` is None when no question is open.

    ``coupon`` is the address of the coupon.
    """
    now = open_question(asked, form, measured)
    place = asked.index(now) if now else len(asked)
    here = f"{coupon}/tear"
    before = asked[place - 1] if place else None
    return {
        "ask": now,
        "form": form,
        "here": here,
        "carried": {
            key: form.typed[key] for one in asked[:place] for key in one.keys if key in form.typed
        },
        "count": place + 1,
        "total": len(asked) + 1,
        "photo": _photo(now, form, asked[:place], coupon),
        "back": here + address(form.typed, asked, before) if before else f"{coupon}/compare",
    }


def _photo(now: Question | None, form: Answers, before: tuple[Question, ...], coupon: str) -> str:
    """The page that measures the diameters asked for in a photo, with the answers so far."""
    if now is None or not now.figures or not now.keys[0].startswith(DIAMETERS):
        return ""
    kept = {key: form.typed[key] for one in before for key in one.keys if key in form.typed}
    kept["interface"] = now.keys[0].rpartition("-")[2]
    return f"{coupon}/photo?{urlencode(kept)}"


def reading_off(one: Reading | ArcReading) -> float:
    """How far a reading may be off, gauge and reader together, two standard deviations [m]."""
    return COVERAGE * combined((one.instrument_uncertainty, one.reader_uncertainty))
