"""``buttonhole cues``: what the trade looks for in a weld, and what the model explains."""

from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _

if TYPE_CHECKING:
    from buttonhole.desk.arc_cues import Cue

NAMES = 38  # letters of the column of figures
AGREES = {True: _("as said"), False: _("not so"), None: ""}


def cues(
    cue: Annotated[
        str | None,
        typer.Argument(metavar="[CUE]", help=_("One of them, to see its sizes computed.")),
    ] = None,
    json: JsonOption = False,
) -> None:
    """List what the trade looks for; with a name, weld its good and its bad case in the model."""
    from buttonhole.desk.cues import CUES, find_cue

    if cue is None:
        listed = [_statement(one) for one in CUES]
        if json:
            say.give_json({"cues": listed})
            return
        say.give_lines([line for one in CUES for line in _said(one)])
        return
    found = find_cue(cue)
    answer = _statement(found) | _sizes(found)
    if json:
        say.give_json(answer)
        return
    say.give_lines([*_said(found), *_table(answer)])


def _statement(cue: "Cue") -> dict[str, Any]:
    return {
        "cue": cue.key,
        "name": cue.name,
        "explained": cue.explained.value,
        "model_says": cue.model,
        "trade_says": cue.trade,
        "trade_source": "common practice, no source",
    }


def _sizes(cue: "Cue") -> dict[str, Any]:
    """Both welds of a cue, computed now."""
    from buttonhole.desk.cue_answer import cue_answer
    from buttonhole.desk.cues import compared

    if not cue.cases:
        return {}
    cases = (cue.cases[0], cue.cases[cue.bad])
    good, bad = (cue_answer(one.keys) for one in cases)
    return {
        "good": {"case": cases[0].words, "weld": cases[0].keys, "back_mark": good.get("back_mark")},
        "bad": {"case": cases[1].words, "weld": cases[1].keys, "back_mark": bad.get("back_mark")},
        "figures": [
            {
                "figure": one.name,
                "unit": one.unit,
                "good": one.good[0],
                "good_interval": list(one.good[1:]),
                "bad": one.other[0],
                "bad_interval": list(one.other[1:]),
                "as_the_trade_says": one.agrees,
            }
            for one in compared(cue, good, bad)
        ],
        "model_version": good["model_version"],
    }


def _said(cue: "Cue") -> list[str]:
    head = f"{cue.key}: {cue.explained.words.upper()}"
    return [
        head,
        *say.wrapped(_("the trade says: {}").format(cue.trade), first="  ", rest="    "),
        *say.wrapped(_("the model: {}").format(cue.model), first="  ", rest="    "),
        "",
    ]


def _table(answer: dict[str, Any]) -> list[str]:
    if "figures" not in answer:
        return [_("Nothing of it is computed: weld a coupon and look.")]
    lines = [
        _("good: {}").format(answer["good"]["case"]),
        _("bad:  {}").format(answer["bad"]["case"]),
    ]
    lines += [f"{'':<{NAMES}}{_('good'):>10}{_('bad'):>10}"]
    for one in answer["figures"]:
        name = f"{one['figure']}, {one['unit']}"
        digits = 2 if one["unit"] in ("mm", "kN") else 0
        cells = f"{one['good']:10.{digits}f}{one['bad']:10.{digits}f}"
        lines.append(f"{name:<{NAMES}}{cells}  {AGREES[one['as_the_trade_says']]}".rstrip())
    marks = answer["good"]["back_mark"], answer["bad"]["back_mark"]
    if all(marks):  # of an arc weld only
        lines.append(f"{_('back'):<{NAMES}}{marks[0]:>10}{marks[1]:>10}")
    text = _(
        "Computed now by model {}; 90 % intervals with --json. What the trade says is common "
        "practice, no source. The vehicle maker's procedure prevails."
    )
    return [*lines, "", *say.wrapped(text.format(answer["model_version"]))]
