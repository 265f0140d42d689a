"""What every drawing of ours must be: well-formed, described, safe in a page, free of NaN."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from xml.etree.ElementTree import Element

import pytest

from buttonhole.paper import figure
from buttonhole.paper.figure import Style
from tests.paper import examples

Placed = tuple[Element, float, float]
GERMAN = {"at least": "mindestens", "splash": "Spritzer", "limit": "Grenze"}


def german(words: str) -> str:
    return GERMAN.get(words, words)


SAID = figure.Said("Hole pulled", "The plug came away.", "Measure the hole, at least twice.")


# each scene once, though two forms of weld have some in common
SCENES = {
    id(scene): (form, fracture)
    for form, scenes in figure.ARC_SCENES.items()
    for fracture, scene in scenes.items()
}.values()

PICTURES: dict[str, Callable[[Style], str]] = {
    **{
        f"stack of {count}": lambda style, count=count: figure.stack(
            examples.drawn_stack(count), style=style
        )
        for count in (2, 3, 4)
    },
    "narrow stack": lambda style: figure.stack(examples.drawn_stack(3), style=style, wide=False),
    "bare stack": lambda style: figure.stack(examples.drawn_stack(4), style=style, labelled=False),
    "section": lambda style: figure.section(examples.drawn_section(), style=style),
    "window": lambda style: figure.window(examples.drawn_window(), style=style),
    "no window": lambda style: figure.window(
        replace(examples.drawn_window(), usable=None, expulsion_current=None, scatter=None),
        style=style,
    ),
    "lobe": lambda style: figure.lobe(examples.drawn_lobe(), style=style),
    "narrow section": lambda style: figure.section(
        examples.drawn_section(), style=style, wide=False
    ),
    "cycle": lambda style: figure.cycle(examples.drawn_cycle(), style=style),
    "cycle of one point": lambda style: figure.cycle(examples.drawn_cycle(1), style=style),
    "growth": lambda style: figure.growth(examples.drawn_growth(), style=style),
    "margin": lambda style: figure.margin(
        figure.DrawnMargin(5.1e-3, 0.36e-3, 4.5e-3, 0.36e-3, 6.3e-3, "accept"), style=style
    ),
    "margin without splash": lambda style: figure.margin(
        figure.DrawnMargin(4.1e-3, 0.36e-3, 4.5e-3, 0.0), style=style
    ),
    **{
        mode: lambda style, mode=mode: figure.torn(mode, style=style)
        for mode in figure.FRACTURE_MODES
    },
    **{test: lambda style, test=test: figure.how_to(test, style=style) for test in figure.HOW_TO},
    **{
        f"{form}, {fracture}": lambda style, form=form, fracture=fracture: figure.arc_torn(
            form, fracture, SAID, style=style
        )
        for form, fracture in SCENES
    },
    **{
        f"back, {mark}, {'seam' if seam else 'plug'}": lambda style, mark=mark, seam=seam: (
            figure.back_look(mark, seam=seam, style=style)
        )
        for mark in figure.BACK_MARKS
        for seam in (False, True)
    },
    "twist": lambda style: figure.twist_angle(20.0, style=style),
    **{
        f"fault {key}{' on a plug' if plug else ''}": lambda style, key=key, plug=plug: (
            figure.weld_fault(key, style.say(key), "How it is known.", plug=plug, brazed=not plug)
        )
        for key in figure.WELD_FAULTS
        for plug in (False, True)
    },
    **{name: lambda style, name=name: figure.icon(name, style=style) for name in figure.ICONS},
    "arc section": lambda style: figure.arc_section(examples.drawn_arc_section(), style=style),
    "narrow arc section": lambda style: figure.arc_section(
        examples.drawn_arc_section(), style=style, wide=False
    ),
    "back of a plug": lambda style: figure.arc_back(examples.drawn_back(), style=style),
    "back of a seam": lambda style: figure.arc_back(examples.drawn_back(40e-3), style=style),
    "hidden fusion": lambda style: figure.hidden_fusion(
        examples.drawn_hidden(), examples.drawn_arc_joint(), style=style
    ),
    **{
        f"joint of a {kind}": lambda style, kind=kind: figure.arc_joint(
            examples.drawn_arc_joint(kind), style=style
        )
        for kind in ("plug", "lap", "butt_backed")
    },
}

STYLES = {
    "plain": Style(lettering=18.0),
    "large, inch": Style(lettering=34.0, system="inch"),
    "other language": Style(lettering=16.0, decimal=",", say=german),
}


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_well_formed_described_and_safe(name: str, style: Style):
    text = PICTURES[name](style)
    root = examples.parsed(text)
    assert root.tag == f"{examples.SVG}svg"
    assert root.get("role") == "img"
    title, desc = root.find(f"{examples.SVG}title"), root.find(f"{examples.SVG}desc")
    assert title is not None
    assert title.text
    assert desc is not None
    assert desc.text or name in figure.ICONS
    assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    assert not re.search(r"\bnan\b|\binf(inity)?\b", text, re.IGNORECASE)
    for element in root.iter():
        assert element.tag not in (
            f"{examples.SVG}script",
            f"{examples.SVG}style",
            f"{examples.SVG}image",
            f"{examples.SVG}use",
        )
        for attribute in element.attrib:
            assert attribute != "style"
            assert not attribute.startswith("on")
            assert "href" not in attribute


@pytest.mark.parametrize("name", PICTURES)
def test_each_reference_leads_to_its_own_part(name: str):
    text = PICTURES[name](STYLES["plain"])
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= set(ids)


def test_all_pictures_share_one_page_without_a_clash():
    # a fault that looks the same on bronze is one picture
    page = "".join(dict.fromkeys(draw(STYLES["plain"]) for draw in PICTURES.values()))
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_a_pure_function_of_its_input(name: str):
    assert PICTURES[name](STYLES["plain"]) == PICTURES[name](STYLES["plain"])


def placed(element: Element, right: float = 0.0, down: float = 0.0) -> Iterator[Placed]:
    """Every text with its place in the whole picture; lettering is moved, never turned."""
    moved = re.match(r"translate\((\S+) (\S+)\)", element.get("transform", ""))
    if moved:
        right, down = right + float(moved[1]), down + float(moved[2])
    if element.tag == f"{examples.SVG}text":
        yield element, right + float(element.attrib["x"]), down + float(element.attrib["y"])
    for inner in element:
        yield from placed(inner, right, down)


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
@pytest.mark.parametrize("name", [name for name in PICTURES if name not in figure.HOW_TO])
def test_lettering_keeps_inside_the_picture(name: str, style: Style):
    root = examples.parsed(PICTURES[name](style))
    width, height = (float(one) for one in root.attrib["viewBox"].split()[2:])
    letters = 0.5  # em; most letters are wider, so what runs out by this has surely run out
    for element, x, y in placed(root):
        run = letters * float(element.attrib["font-size"]) * len(element.text or "")
        share = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
        assert x - share * run >= -1, element.text
        assert x + (1 - share) * run <= width + 1, element.text
        assert 0 <= y <= height, element.text


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
@pytest.mark.parametrize("name", PICTURES)
def test_no_word_lies_on_another(name: str, style: Style):
    boxes: list[tuple[float, float, float, float, str]] = []
    for element in examples.parsed(PICTURES[name](style)).findall(f"{examples.SVG}text"):
        size, words = float(element.attrib["font-size"]), element.text or ""
        run = 0.45 * size * len(words)  # narrower than most faces: only true clashes are found
        share = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
        left, base = float(element.attrib["x"]) - share * run, float(element.attrib["y"])
        boxes.append((left, base - 0.65 * size, left + run, base, words))
    for index, (l1, t1, r1, b1, one) in enumerate(boxes):
        for l2, t2, r2, b2, other in boxes[index + 1 :]:
            assert r1 <= l2 or r2 <= l1 or b1 <= t2 or b2 <= t1, (one, other)


def test_the_words_of_a_picture_are_its_title_and_description():
    words = figure.words_of(figure.margin(figure.DrawnMargin(5.1e-3, 0.36e-3, 4.5e-3, 0.36e-3)))
    assert words.startswith("Margin between the limit and splash.")
    assert "5.10 mm ± 0.36" in words
    assert "limit 4.50 mm" in words


def test_words_and_decimal_sign_follow_the_language():
    text = figure.stack(examples.drawn_stack(2), style=STYLES["other language"])
    assert "mindestens 3,35 mm" in text
    assert "at least" not in text


def test_inches_are_converted_and_named():
    sheets = (figure.DrawnSheet(25.4e-3 / 32, "DC04", "bare"),) * 2
    text = figure.stack(figure.DrawnStack(sheets), style=Style(system="inch"))
    assert "0.031 in DC04" in text
    assert "mm" not in text


def test_hostile_words_stay_words():
    sheets = (figure.DrawnSheet(1e-3, examples.HOSTILE, "\x00<&>"),) * 2
    text = figure.stack(figure.DrawnStack(sheets))
    root = examples.parsed(text)
    assert not root.findall(f".//{examples.SVG}script")
    assert "&lt;script&gt;" in text
    assert "\u202e" not in text


def test_a_figure_that_failed_is_not_drawn():
    sheets = (figure.DrawnSheet(float("nan"), "DC04", "bare"),) * 2
    with pytest.raises(ValueError, match="finite"):
        figure.stack(figure.DrawnStack(sheets))
    with pytest.raises(ValueError, match="finite"):
        figure.margin(figure.DrawnMargin(float("inf"), 0.1e-3, 4e-3, 0.0))


@pytest.mark.parametrize("draw", [figure.torn, figure.how_to, figure.icon])
def test_an_unknown_kind_is_refused_with_the_known_ones(draw: Callable[[str], str]):
    with pytest.raises(ValueError, match="known: "):
        draw("no_such_kind")
