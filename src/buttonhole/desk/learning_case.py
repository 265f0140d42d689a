"""A machine to be learned about, from weld files and what their coupons showed."""

import dataclasses
import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.uncertainty import ONE_SIDED
from buttonhole.coupon.verdict import Outcome
from buttonhole.coupon.verdict import judge as judge_reading
from buttonhole.desk.coupon_file import reading_in_words
from buttonhole.desk.learned_joint import is_strict, spot_joint
from buttonhole.desk.rules import rule_for
from buttonhole.desk.weld_file import (
    PlugWeldFile,
    SeamWeldFile,
    WeldFile,
    read_any_weld_file,
    read_toml,
)
from buttonhole.learning.beliefs import PLUG, SPOT, Beliefs
from buttonhole.learning.case import Case, JudgedCoupon, judged
from buttonhole.learning.evidence import (
    MOST_OFF,
    Evidence,
    Kind,
    LearningCoupon,
    back_evidence,
    evidence_of,
    shown_evidence,
)
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.plug_surrogate import plug_point, plug_surrogate
from buttonhole.learning.spot_surrogate import spot_point
from buttonhole.units import BadInput, parse
from buttonhole.weld.arc.plug.prediction import WANTED_SHARE

METER_U = {"gap": 0.05e-3}  # m; others relative
RELATIVE_U = 0.025  # -, of a meter whose uncertainty nobody said; assumption, no source
PLUG_U = 0.18e-3  # m, of a calliper and its reader on a torn plug; assumption, no source

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class LearningCase:
    """What is asked, the coupons of the series as judged, the history, and meters read now."""

    process: str
    case: Case
    series: tuple[JudgedCoupon, ...]
    history: tuple[LearningCoupon, ...]
    meters: tuple[Evidence, ...]
    rule: Criterion | None


@dataclass(frozen=True, slots=True)
class _Known:
    """A weld file with the joint that is learned on it."""

    described: WeldFile | PlugWeldFile
    joint: LearnedJoint


def learning_case(
    file: Path,
    coupons: Sequence[str],
    *,
    history: Path | None = None,
    meters: Sequence[str] = (),
    rule: str | None = None,
    welds: int = 40,
    progress: Progress | None = None,
) -> LearningCase:
    """Put files and words together.

    Parameters
    ----------
    file : Path
        Weld file of a spot or a plug weld.
    coupons : sequence of str
        One text for each coupon of this set-up, in the order welded. Spot: readings as for
        ``judge``, with `` / `` between interfaces. Plug: ``6.2 mm``, ``at least 8 mm``, ``none``
        or ``hole``, after it ``back clear`` where the back was looked at.
    history : Path, optional
        File with ``[[coupon]]`` tables of the same machine: ``weld`` (a weld file beside it) and
        ``coupon`` (a text as above).
    meters : sequence of str
        ``current -8 %``, ``gap 0.8 mm``: true over set, or the value itself.
    rule : str, optional
        Key of the rule for the smallest diameter.
    welds : int
        How many are to be released.
    progress : callable, optional
        Told how many runs of how many are done.

    Returns
    -------
    LearningCase
        Ready to be learned from and decided on.

    Raises
    ------
    BadInput
        A seam, or a text that is none.
    """
    described = _described(file)
    own = _known(described, "this", rule, progress)
    known = {file.resolve(): own}
    past = _past(history, known, rule, progress)
    beliefs = SPOT if isinstance(described, WeldFile) else PLUG
    model = _model(beliefs, [one.joint for one in known.values()])
    series = [_judged(str(i), text, own, rule) for i, text in enumerate(coupons, start=1)]
    point = _point(own)
    case = Case(model, own.joint.key, point, own.joint.current, welds)
    criterion = None
    if isinstance(described, WeldFile):
        criterion = rule_for(described.stack, rule or described.minimum_rule)
    read = tuple(meter_in_words(text) for text in meters)
    return LearningCase(beliefs.kind, case, tuple(series), tuple(past), read, criterion)


def _past(
    history: Path | None, known: dict[Path, _Known], rule: str | None, progress: Progress | None
) -> list[LearningCoupon]:
    """Earlier coupons; joints not ``known`` yet are added to it."""
    kind, past = type(next(iter(known.values())).described), []
    for number, (weld, text) in enumerate(_history(history), start=1):
        if weld not in known:
            known[weld] = _known(_described(weld), weld.stem, rule, progress)
        if type(known[weld].described) is not kind:
            raise BadInput("history", f"{weld.name} is of another process than what is asked")
        past.append(_coupon(f"h{number}", text, known[weld])[0])
    return past


def _model(beliefs: Beliefs, joints: Sequence[LearnedJoint]) -> Model:
    keys = [one.key for one in joints]
    named = [
        dataclasses.replace(one, key=f"{one.key} ({i})") if keys.count(one.key) > 1 else one
        for i, one in enumerate(joints)
    ]
    return Model(beliefs, named)


def _described(file: Path) -> WeldFile | PlugWeldFile:
    found = read_any_weld_file(file)
    if isinstance(found, SeamWeldFile):
        raise BadInput("process", "is a seam; a machine is learned on spot and plug welds so far")
    return found


def _known(
    described: WeldFile | PlugWeldFile, key: str, rule: str | None, progress: Progress | None
) -> _Known:
    if isinstance(described, WeldFile):
        return _Known(described, _spot_joint(described, key, rule))
    stack, hole = described.joint.stack, described.joint.hole_diameters
    sheets = stack.sheets

    def told(share: float) -> None:
        if progress is not None:
            progress(int(1000 * share), 1000)

    fitted = plug_surrogate(described.joint, described.set_up, progress=told)
    count = fitted.interfaces
    drilled = [[d for d in hole[: i + 1] if d > 0.0] for i in range(count)]
    if not all(drilled):
        raise BadInput("hole_diameter", "is 0 mm; an arc spot without a hole is not learned yet")
    least = tuple(WANTED_SHARE * each[-1] for each in drilled)
    thinner = tuple(min(sheets[i].thickness, sheets[i + 1].thickness) for i in range(count))
    strict = is_strict(described.joint.steels, len(sheets))
    return _Known(described, LearnedJoint(key, fitted, least, thinner, strict=strict))


def _spot_joint(described: WeldFile, key: str, rule: str | None) -> LearnedJoint:
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    return spot_joint(key, described.stack, described.set_up, criterion)


def _point(own: _Known) -> tuple[float, ...]:
    described = own.described
    if isinstance(described, WeldFile):
        point = spot_point(described.set_up, described.stack, described.set_up)
    else:
        point = plug_point(described.joint, described.set_up, described.set_up)
    return tuple(float(one) for one in point)


def _history(path: Path | None) -> list[tuple[Path, str]]:
    if path is None:
        return []
    data = read_toml(path, what="a history of coupons")
    found = []
    for number, one in enumerate(data.get("coupon", []), start=1):
        if not isinstance(one, dict) or set(one) != {"weld", "coupon"}:
            raise BadInput(
                f"coupon {number}", 'give weld = "FILE" and coupon = "TEXT", and nothing else'
            )
        found.append(((path.parent / str(one["weld"])).resolve(), str(one["coupon"])))
    if not found:
        raise BadInput("coupon", f"{path.name} has no [[coupon]] table")
    return found


def _judged(key: str, text: str, own: _Known, rule: str | None) -> JudgedCoupon:
    coupon, readings = _coupon(key, text, own)
    if isinstance(own.described, WeldFile):
        stack = own.described.stack
        criterion = rule_for(stack, rule or own.described.minimum_rule)
        verdicts = [judge_reading(one, criterion, stack, policy=ONE_SIDED) for one in readings]
        return judged(coupon, verdicts)
    return JudgedCoupon(coupon, _plug_outcome(coupon, own.joint.least[0]))


def _plug_outcome(coupon: LearningCoupon, least: float) -> Outcome:
    """By the torn diameter with its guard band; a plug without one is not accepted."""
    if coupon.splashed:
        return Outcome.REJECT
    for one in coupon.evidence:
        if one.kind in (Kind.MEASURED, Kind.AT_LEAST):
            if one.value >= least + ONE_SIDED.factor * one.uncertainty:
                return Outcome.ACCEPT
            return Outcome.UNDECIDED if one.value >= least else Outcome.REJECT
    return Outcome.REJECT


def _coupon(key: str, text: str, own: _Known) -> tuple[LearningCoupon, tuple[Reading, ...]]:
    readings: tuple[Reading, ...] = ()
    if isinstance(own.described, WeldFile):
        readings = tuple(reading_in_words(part) for part in text.split(" / "))
        evidence = tuple(found for one in readings for found in evidence_of(one))
    else:
        evidence = plug_evidence(text)
    return LearningCoupon(key, own.joint.key, _point(own), evidence, own.joint.current), readings


def plug_evidence(text: str) -> tuple[Evidence, ...]:
    """Read what a torn plug showed.

    Parameters
    ----------
    text : str
        ``6.2 mm``, ``at least 8 mm``, ``none`` or ``hole``; after it, if seen, ``back`` and none,
        faint, clear, bump, drip or hole, ``crown 0.8 mm`` (metal over the sheet, spread over the
        hole) and ``ring 14 mm`` (tinted, or zinc gone, on the back).

    Returns
    -------
    tuple of Evidence
        The back first.

    Raises
    ------
    BadInput
        Another text.
    """
    size, *rest = re.split(r"\b(back|crown|ring)\b", text.casefold())
    size = size.rstrip(" ,;").strip()
    if size in ("hole", "fell through"):
        return (Evidence(Kind.EXPULSION),)
    found = [_also(*pair) for pair in zip(rest[::2], rest[1::2], strict=True)]
    if size == "none":
        return (*found, Evidence(Kind.NO_BUTTON))
    kind = Kind.AT_LEAST if size.startswith("at least") else Kind.MEASURED
    value = parse(size.removeprefix("at least").strip(), "length")
    return (*found, Evidence(kind, 0, value, uncertainty=PLUG_U))


def _also(what: str, said: str) -> Evidence:
    said = said.strip(" ,;")
    return back_evidence(said) if what == "back" else shown_evidence(what, parse(said, "length"))


def meter_in_words(text: str) -> Evidence:
    """Read one meter.

    Parameters
    ----------
    text : str
        ``current -8 %``: true over set; ``gap 0.8 mm``: the value; ``face +15 %``: growth. Behind
        it, if known, ``± 2 %``.

    Returns
    -------
    Evidence
        Of a meter.

    Raises
    ------
    BadInput
        Another text.
    """
    said = text.strip().casefold().replace("+-", "±")
    found = re.fullmatch(r"([a-z]+)\s+([-+]?[\d.]+)\s*(%|mm)(?:\s*±\s*([\d.]+)\s*(?:%|mm))?", said)
    if found is None:
        raise BadInput(
            "--meter", f"is {text[:40]!r}; give e.g. 'current -8 %', 'face +15 %' or 'gap 0.8 mm'"
        )
    name, number, unit, u = found.groups()
    if (unit == "mm") != (name == "gap"):
        raise BadInput("--meter", f"give {name} in {'mm' if name == 'gap' else '%'}")
    value = float(number)
    if name == "gap":
        width = float(u) * 1e-3 if u else METER_U["gap"]
        return Evidence(Kind.METER, value=value * 1e-3, uncertainty=width, meter=name)
    if not -100.0 * (1.0 - math.exp(-MOST_OFF)) <= value <= 100.0 * (math.exp(MOST_OFF) - 1.0):
        raise BadInput("--meter", f"is {value:g} %; look for a slip")
    width = float(u) / 100.0 if u else RELATIVE_U
    return Evidence(Kind.METER, value=math.log1p(value / 100.0), uncertainty=width, meter=name)
