"""``buttonhole steel``: the steel book, and what an unknown sheet may be."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

NameArgument = Annotated[
    str, typer.Argument(metavar="TEXT", help=_("Designation as printed on the job."))
]
CoatingArgument = Annotated[
    str, typer.Argument(metavar="TEXT", help=_("Coating as printed: Z100MB, GI50/50-U, Z12."))
]
StandardOption = Annotated[
    str, typer.Option("--standard", metavar="NAME", help=_("Only this one, such as 'EN 10346'."))
]
FamilyOption = Annotated[
    str, typer.Option("--family", metavar="NAME", help=_("Only this one, such as DP."))
]


def find(text: NameArgument, json: JsonOption = False) -> None:
    """Say what a designation means: steel, coating, surface. Nothing is guessed."""
    from buttonhole.cli.steel_text import found_lines
    from buttonhole.desk.steel_answer import found_answer

    answer = found_answer(text)
    if json:
        say.give_json(answer)
        return
    say.give_lines(found_lines(answer))


def list_(
    standard: StandardOption = "", family: FamilyOption = "", json: JsonOption = False
) -> None:
    """List the book; what is from memory is marked."""
    from buttonhole.cli.steel_text import list_lines
    from buttonhole.desk.steel_answer import list_answer

    answer = list_answer(standard, family)
    if json:
        say.give_json(answer)
        return
    say.give_lines(list_lines(answer))


def show(
    text: NameArgument,
    at: Annotated[
        list[str] | None,
        typer.Option("--at", metavar="TEMPERATURE", help=_("Here only; again for each more.")),
    ] = None,
    svg: Annotated[
        Path | None,
        typer.Option("--svg", metavar="FOLDER", help=_("Draw each curve into this folder.")),
    ] = None,
    json: JsonOption = False,
) -> None:
    """Show a steel with its property curves: value, band, source. 'unknown' may be any of them."""
    from buttonhole.cli.steel_text import curve_lines, steel_lines
    from buttonhole.desk.steel_answer import curves_answer, steel_answer
    from buttonhole.joint.steel import find_steel

    steel = find_steel(text)
    told = [] if at is None else sorted(quantity("--at", one, "temperature") for one in at)
    curves = curves_answer(text, told or None)
    answer = {} if steel.is_unknown else steel_answer(steel)
    if svg is not None:
        _draw(text, svg)
    if json:
        say.give_json({"steel": answer or None, **curves})
        return
    shown = curves if told else curves_answer(text, [20.0, *range(100, 1601, 100)])
    say.give_lines([*(steel_lines(answer) if answer else [steel.designation]), *curve_lines(shown)])


def _draw(text: str, folder: Path) -> None:
    from buttonhole.desk.steel_drawings import property_drawings

    folder.mkdir(parents=True, exist_ok=True)
    for name, picture in property_drawings(text):
        (folder / f"{name}.svg").write_text(picture, encoding="utf-8")


def coating(text: CoatingArgument, json: JsonOption = False) -> None:
    """Say what a coating's name means, and how thick it is on each side."""
    from buttonhole.cli.steel_text import coating_lines
    from buttonhole.desk.steel_answer import coating_answer
    from buttonhole.joint.coating_name import find_coating

    answer = coating_answer(find_coating(text))
    if json:
        say.give_json(answer)
        return
    say.give_lines(coating_lines(answer))


def unknown(
    thickness: Annotated[
        str | None, typer.Option(metavar="LENGTH", help=_("Measured on bared metal: '0.7 mm'."))
    ] = None,
    thickness_off: Annotated[
        str, typer.Option(metavar="LENGTH", help=_("How far it may be off."))
    ] = "0.05 mm",
    magnet: Annotated[
        str | None, typer.Option(metavar="WORD", help=_("On bared metal: sticks, weak or not."))
    ] = None,
    hardness: Annotated[
        str | None, typer.Option(metavar="HV", help=_("Reading in Vickers hardness: 150."))
    ] = None,
    hardness_off: Annotated[
        str | None, typer.Option(metavar="HV", help=_("How far it may be off; else 15 %."))
    ] = None,
    tester: Annotated[
        str, typer.Option(metavar="WORD", help=_("vickers, uci or rebound."))
    ] = "uci",
    look: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help=_("Of the bared face: spangle, smooth grey ...")),
    ] = None,
    place: Annotated[
        str, typer.Option(metavar="WORDS", help=_("In the body: outer skin, pillar ..."))
    ] = "",
    spark: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help=_("few forks, some forks or many bursts.")),
    ] = None,
    json: JsonOption = False,
) -> None:
    """Say what an unknown sheet may be by what was measured on it; it stays unknown."""
    from buttonhole.cli.steel_text import unknown_lines
    from buttonhole.desk.steel_answer import unknown_answer
    from buttonhole.desk.steel_hints import hints_from

    answer = unknown_answer(
        hints_from(
            thickness=quantity("--thickness", thickness, "length"),
            thickness_off=quantity("--thickness-off", thickness_off, "length"),
            hardness=_vickers("--hardness", hardness),
            hardness_off=_vickers("--hardness-off", hardness_off),
            words={
                "magnet": magnet or "",
                "tester": tester,
                "look": look or "",
                "spark": spark or "",
                "place": place,
            },
        )
    )
    if json:
        say.give_json(answer)
        return
    say.give_lines(unknown_lines(answer))


def _vickers(option: str, text: str | None) -> float | None:
    if text is None:
        return None
    try:
        return float(text.upper().removesuffix("HV"))
    except ValueError as error:
        raise BadInput(
            option, f"{text[:40]!r} is no hardness; give Vickers, as in 150 HV"
        ) from error
