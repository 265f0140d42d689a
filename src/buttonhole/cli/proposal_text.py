"""A proposed set-up in plain words, for a terminal."""

from buttonhole.cli import say
from buttonhole.cli.robust_text import robust_lines
from buttonhole.cli.view_text import set_up_words, sheet_lines
from buttonhole.cli.words import _
from buttonhole.coupon.criterion import Criterion
from buttonhole.desk.proposal_answer import MAKER_PREVAILS
from buttonhole.desk.window_answer import robust_answer
from buttonhole.joint.stack_up import StackUp
from buttonhole.procedure.proposal import Proposal
from buttonhole.procedure.saying import share
from buttonhole.procedure.suggestion import Suggestion


def proposal_lines(found: Proposal, stack: StackUp, criterion: Criterion) -> list[str]:
    """Tell a proposal with its reasons and margins.

    Parameters
    ----------
    found : Proposal
        The proposal.
    stack : StackUp
        The sheets.
    criterion : Criterion
        The rule it was made for.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = [*sheet_lines(stack), ""]
    lines += say.wrapped(
        set_up_words(found.set_up), first=_("Set {}: ").format(found.machine), rest="    "
    )
    lines += ["", _("Why")]
    for reason in found.reasons:
        lines += say.wrapped(reason, first="  - ")
    lines += _trouble_lines(found)
    lines.append(_("  rule {} ({})").format(criterion.name, criterion.source))
    if found.alternatives:
        lines += ["", _("What else would do")]
    for one in found.alternatives:
        lines += say.wrapped(one.words, first="  - ")
    if found.suggestions:
        lines += ["", _("What may help, predicted at its own best current")]
        for suggestion in found.suggestions:
            lines += _suggestion_lines(suggestion)
        lines += say.wrapped(MAKER_PREVAILS, first="  ! ")
    if found.cautions:
        lines += ["", _("Mind")]
    for caution in found.cautions:
        lines += say.wrapped(caution, first="  ! ")
    note = _("A start for coupons, and no release: weld one, tear it, read it.")
    return [*lines, "", *say.wrapped(note)]


def _suggestion_lines(one: Suggestion) -> list[str]:
    """Name, gain, reason and source of one suggestion, with its set-up and figures."""
    head = _("{} (against {}): {}").format(one.name, one.trouble, "; ".join(one.gains))
    found = one.found
    sizes = " / ".join(f"{each * 1e3:.2f}" for each in found.diameters)
    figures = _(
        "nugget {} mm, chance {}, splash {}, dent {:.2f} mm; plain {} mm, {}, {}, {:.2f} mm"
    )
    plain = " / ".join(f"{each * 1e3:.2f}" for each in one.plain.diameters)
    told = figures.format(
        sizes,
        share(found.chance),
        share(found.expulsion),
        found.indentation * 1e3,
        plain,
        share(one.plain.chance),
        share(one.plain.expulsion),
        one.plain.indentation * 1e3,
    )
    why = _("why: {} ({})").format(one.reason, one.source)
    lines = say.wrapped(head, first="  - ")
    for text in (set_up_words(found.set_up), told, why):
        lines += say.wrapped(text, first="    ")
    return lines


def _trouble_lines(found: Proposal) -> list[str]:
    """The window, the chance of a good weld, and what each interface should reach."""
    margins = found.margins
    lines = ["", _("How far from trouble")]
    end = _("splash") if margins.ends_in_splash else _("the machine's end")
    lines.append(
        _("  window {:.2f} to {:.2f} kA, ended by {}").format(
            margins.current_low / 1e3, margins.current_high / 1e3, end
        )
    )
    lines.append(
        _("  {:.1f} and {:.1f} times the machine's scatter away from its two ends").format(
            margins.spreads_to_low, margins.spreads_to_high
        )
    )
    lines.append(_("  chance of splash {:.0f} %").format(100 * margins.expulsion_probability))
    if found.robust is not None:
        lines += robust_lines(robust_answer(found.robust))
    rows = zip(found.required, found.aimed_at, margins.diameters, strict=True)
    for number, (required, aim, over) in enumerate(rows, start=1):
        lines.append(
            _("  interface {}: nugget {:.2f} mm; must reach {:.2f} mm, aimed at {:.2f} mm").format(
                number, (required + over) * 1e3, required * 1e3, aim * 1e3
            )
        )
    return lines
