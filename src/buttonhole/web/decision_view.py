"""A decision on a release as its pages show it: in words, as a picture, with what to do now."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from buttonhole.paper.figure import DrawnHundred
from buttonhole.paper.figure.hundred import in_hundred
from buttonhole.web.pictures import NO_DRAWING, Lettered, hundred_picture

TONES = {"release": "yes", "another_coupon": "wait", "move_the_set_up": "wait", "refuse": "no"}
STEPS = {
    "release": "It may be released",
    "another_coupon": "Not sure enough yet",
    "move_the_set_up": "Move the set-up",
    "refuse": "Not like this",
}
CARRIED = {
    "diameters": "the diameters of these coupons",
    "physics": "the physics of the weld",
    "history": "what this machine welded before",
}


@dataclass(frozen=True, slots=True)
class Share:
    """What carried a decision: its words and its share [%]."""

    words: str
    percent: int


@dataclass(frozen=True, slots=True)
class NextSetting:
    """The next coupon: words, figures, and the page where it can be taken; empty: as it is set."""

    words: str
    robust: bool
    as_set: bool
    figures: tuple[tuple[str, str, str], ...]  # name, value, unit
    href: str


@dataclass(frozen=True, slots=True)
class DecisionView:
    """What a page shows of a decision."""

    tone: str
    headline: str
    likely: str  # empty where no model has a say
    picture: Lettered
    limits: tuple[str, ...]
    counting: str
    reasons: tuple[str, ...]
    carried: tuple[Share, ...]
    overturned: str
    next: NextSetting | None
    small_print: tuple[str, ...]
    answer: Mapping[str, Any]


def decision_view(answer: Mapping[str, Any], joint: str, set_up: Mapping[str, str]) -> DecisionView:
    """Make a page's view of a decision.

    Parameters
    ----------
    answer : mapping
        As the record keeps it.
    joint : str
        Address of the joint's page.
    set_up : mapping of str to str
        The accepted set-up as its form would have it.

    Returns
    -------
    DecisionView
        Ready to be shown.
    """
    good = answer.get("good")
    return DecisionView(
        tone=TONES[answer["step"]],
        headline=STEPS[answer["step"]],
        likely=_likely(answer),
        picture=hundred_picture(DrawnHundred(good["value"], good["low"], good["high"]))
        if good
        else NO_DRAWING,
        limits=_limits(answer),
        counting=answer["counting_alone"],
        reasons=tuple(answer["reasons"]),
        carried=_carried(answer.get("carried_by")),
        overturned=_overturned(answer),
        next=_next(answer.get("next"), joint, set_up),
        small_print=_small_print(answer),
        answer=answer,
    )


def _likely(answer: Mapping[str, Any]) -> str:
    good = answer.get("good")
    if not good:
        return ""
    low, high = (in_hundred(good[key]) for key in ("low", "high"))
    text = f"{in_hundred(good['value'])} in 100 such welds are expected to be good"
    text += f" (between {low} and {high})"
    welds, bad = answer.get("welds"), answer.get("expected_bad_welds")
    return f"{text}; of {welds} welds {bad:.1f} are not." if welds and welds > 1 else f"{text}."


def _limits(answer: Mapping[str, Any]) -> tuple[str, ...]:
    weld = answer.get("next_weld")
    if not weld:
        return ()
    said = [
        f"Sheet {face} to {face + 1}: the next weld is expected to be {size['value']:.1f} mm "
        f"({size['low']:.1f} to {size['high']:.1f}), at least {least:.2f} mm is asked for."
        for face, (size, least) in enumerate(
            zip(weld["size_mm"], answer["least_mm"], strict=True), start=1
        )
    ]
    small, splash = (_in_hundred(weld[key]) for key in ("too_small", "splash"))
    if answer.get("process", "spot") != "spot":
        return (*said, f"What may go wrong: {small} too small, {splash} burnt through.")
    return (*said, f"What may go wrong: {small} too small, {splash} with splash.")


def _in_hundred(share: float) -> str:
    return f"{100.0 * share:.1f} in 100"


def _carried(shares: Mapping[str, float] | None) -> tuple[Share, ...]:
    if not shares:
        return ()
    return tuple(Share(words, round(100.0 * shares[key])) for key, words in CARRIED.items())


def _overturned(answer: Mapping[str, Any]) -> str:
    under = answer.get("overturned_under_mm")
    return f"One more coupon under {under:.1f} mm would take the release away." if under else ""


def _next(
    proposed: Mapping[str, Any] | None, joint: str, set_up: Mapping[str, str]
) -> NextSetting | None:
    if proposed is None:
        return None
    if "welding_current_kA" not in proposed:  # of an arc
        figures = (
            ("Wire feed", f"{proposed['wire_feed_speed_m_per_min']:.1f}", "m/min"),
            ("Voltage", f"{proposed['arc_voltage_V']:.1f}", "V"),
            ("Arc time", f"{proposed['arc_time_s']:.1f}", "s"),
        )
        return NextSetting(proposed["words"], proposed["robust"], proposed["as_set"], figures, "")
    current, time, force = (
        proposed[key] for key in ("welding_current_kA", "weld_time_ms", "electrode_force_kN")
    )
    figures = (
        ("Current", f"{current:.2f}", "kA"),
        ("Weld time", f"{time:.0f}", "ms"),
        ("Force", f"{force:.2f}", "kN"),
    )
    href = ""
    one_pulse = set_up.get("pulses", "1") == "1"
    if proposed["robust"] and not proposed["as_set"] and one_pulse:
        moved = {
            **{key: value for key, value in set_up.items() if value and key != "pulses"},
            "welding_current": f"{current:.2f}",
            "weld_time": f"{time:.0f}",
            "electrode_force": f"{force:.2f}",
        }
        href = f"{joint}/set-up?{urlencode(moved)}"
    return NextSetting(proposed["words"], proposed["robust"], proposed["as_set"], figures, href)


def _small_print(answer: Mapping[str, Any]) -> tuple[str, ...]:
    said = [answer["without_model"]] if answer.get("without_model") else []
    if answer.get("model_votes") is False and not answer.get("without_model"):
        said.append("The model has no vote: what the coupons showed, it did not expect.")
    said += [f"Not learned from: {one}." for one in answer.get("left_out", ())]
    said += [f"Taken back, with its reason: {one}." for one in answer.get("withdrawn", ())]
    said.append(
        f"Learned from {answer['coupons_counted']} coupons of this set-up and "
        f"{answer['history_counted']} others of this machine; engine {answer['engine']}, seed "
        f"{answer['seed']}, model {answer['model_version']}, learning "
        f"{answer['learning_version']}."
    )
    return tuple(said)
