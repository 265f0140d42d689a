"""The answer about the way of joining in plain words."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.words import _

_SIGNS = {"allowed": "[+]", "ask": "[?]", "tell": "[.]", "rejected": "[x]"}
_WORDS = {
    "allowed": _("allowed"),
    "ask": _("only with the maker's word"),
    "tell": _("not decided yet"),
    "rejected": _("rejected"),
}


def method_lines(answer: dict[str, Any]) -> list[str]:
    """Say a decision.

    Parameters
    ----------
    answer : dict
        As of ``desk.method_answer``.

    Returns
    -------
    list of str
        Lines.
    """
    lines = [answer["outcome_words"]]
    for one in answer["tell"]:
        lines += say.wrapped(one["question"], first=_("  tell: "))
    for one in answer["holds"]:
        lines += say.wrapped(_reason(one), first=_("  hold: "))
    for one in answer["hints"]:
        lines += say.wrapped(one, first="  - ")
    for one in answer["first"]:
        lines += say.wrapped(_reason(one), first=_("  first: "))
    for one in answer["methods"]:
        lines += ["", *_method(one)]
    for one in answer["checks"]:
        lines += ["", *say.wrapped(one, first=_("Measure: "))]
    lines += _conflicts(answer["conflicts"])
    if answer["questions"]:
        lines += ["", _("Questions to the maker (`buttonhole letter` drafts them)")]
        for place, one in enumerate(answer["questions"], start=1):
            lines += say.wrapped(one["text"], first=f"  {place}. ")
    lines.append("")
    for text in answer["cautions"]:
        lines += say.wrapped(text)
    return lines


def _method(one: dict[str, Any]) -> list[str]:
    standing = _WORDS[one["standing"]]
    if one["is_makers"] and one["standing"] == "ask":
        standing = _("ask the maker about his own word")
    elif one["is_makers"]:
        standing = _("{} by the maker's word").format(standing)
    elif one["standing"] == "allowed":
        standing = f"{standing}. {one['mark']}"
    head = f"{_SIGNS[one['standing']]} {one['name']}: {standing}"
    lines = say.wrapped(head, first="", rest="    ")
    rules = one["reasons"]
    for place, text in enumerate(one["why"]):  # first those of the rules, then what else there is
        origin = f" ({_origin(rules[place])})" if place < len(rules) else ""
        lines += say.wrapped(f"{text}{origin}", first="    - ")
    for each in one["outranked"]:
        lines += say.wrapped(_reason(each), first=_("    overruled: "))
    if one["standing"] != "rejected":
        for each in one["mind"]:
            lines += say.wrapped(_reason(each), first=_("    mind: "))
    return lines


def _reason(rule: dict[str, Any]) -> str:
    return f"{rule['reason']} ({_origin(rule)})"


def _origin(rule: dict[str, Any]) -> str:
    mark = rule["mark"] or rule["rank_words"]
    return f"{rule['key']}@{rule['version']}, {rule['source_title']}; {mark}"


def _conflicts(conflicts: list[dict[str, Any]]) -> list[str]:
    if not conflicts:
        return []
    lines = ["", _("Published rules that differ (shown, not resolved)")]
    for one in conflicts:
        lines.append(f"  {one['topic']}")
        for rule in one["rules"]:
            mark = f"; {rule['mark']}" if rule["is_makers"] or rule["status"] == "memory" else ""
            lines += say.wrapped(f"{rule['reason']} ({rule['whose']}{mark})", first="    - ")
    return lines


def rule_lines(rule: dict[str, Any]) -> list[str]:
    """Say one rule in one version.

    Parameters
    ----------
    rule : dict
        As of ``desk.method_answer.rule_answer``.

    Returns
    -------
    list of str
        Lines.
    """
    value = f" {rule['value']} {rule['unit']}".rstrip()
    head = f"{rule['key']}@{rule['version']}  {rule['topic']}: {rule['effect']}{value}"
    lines = [head, *say.wrapped(rule["reason"], first="    ")]
    rows = (
        (_("methods"), ", ".join(rule["methods"])),
        (_("applies to"), rule["applies_in_words"]),
        (_("source"), f"{rule['source_title']} [{rule['source']}]"),
        (_("whose"), rule["whose"]),
        (_("rank"), f"{rule['rank']}, {rule['rank_words']}"),
        (_("status"), rule["status"] + (f" ({rule['mark']})" if rule["mark"] else "")),
        (_("valid from"), rule["valid_from"]),
        (_("superseded by"), rule["superseded_by"] or ""),
        (_("for"), rule["scope"] or ""),
        (_("filed by"), rule["filed_by"]),
    )
    for name, text in rows:
        if text:
            lines += say.wrapped(text, first=f"    {name}: ")
    return lines
