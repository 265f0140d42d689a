"""Why a coupon failed, as its page shows it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode


@dataclass(frozen=True, slots=True)
class SuspectView:
    """A cause, how likely [in 100], what speaks either way, and what its remedy would do."""

    words: str
    percent: int
    correction: str
    remedy: str
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DiagnosisView:
    """Three suspects and the check that separates them; ``found`` and ``not_found`` answer it."""

    suspects: tuple[SuspectView, ...]
    something_else: int
    check: str
    minutes: str
    done: tuple[str, ...]
    found: str
    not_found: str


def diagnosis_view(answer: Mapping[str, Any], checked: Sequence[str]) -> DiagnosisView:
    """Make a page's view of a diagnosis.

    Parameters
    ----------
    answer : mapping
        As JSON says it.
    checked : sequence of str
        Checks that were answered.

    Returns
    -------
    DiagnosisView
        Ready to be shown.
    """
    check = answer["check"]
    answers = [
        urlencode([("checked", one) for one in (*checked, f"{check['words']}: {said}")])
        for said in ("yes", "no")
    ]
    return DiagnosisView(
        suspects=tuple(_suspect(one) for one in answer["suspects"]),
        something_else=round(100.0 * answer["something_else"]),
        check=check["words"],
        minutes=f"{check['minutes']:g}",
        done=tuple(checked),
        found=answers[0],
        not_found=answers[1],
    )


def _suspect(one: Mapping[str, Any]) -> SuspectView:
    fix, remedy = one["remedy"], ""
    if fix and fix["size_after_mm"] > 0.0:
        remedy = (
            f"The weld would go from {fix['size_before_mm']:.1f} to {fix['size_after_mm']:.1f} mm, "
            f"bad ones from {100.0 * fix['bad_before']:.0f} to {100.0 * fix['bad_after']:.0f} in "
            "100."
        )
    return SuspectView(
        one["words"],
        round(100.0 * one["chance"]),
        one["correction"],
        remedy,
        tuple(one["for"]),
        tuple(one["against"]),
    )
