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
from buttonhole.desk.learned_joint import is_strict, plug_joint, spot_joint
from buttonhole.desk.rules import rule_for
from buttonhole.desk.weld_file import (
    PlugWeldFile,
    SeamWeldFile,
    WeldFile,
    read_any_weld_file,
    read_toml,
)
from buttonhole.learning.beliefs import ALUMINIUM, BRAZE, PLUG, SEAM, SPOT, Beliefs
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
from buttonhole.learning.seam_surrogate import brazes, seam_point, seam_surrogate
from buttonhole.learning.spot_surrogate import spot_point
from buttonhole.units import BadInput, parse
from buttonhole.weld.arc.plug.prediction import WANTED_SHARE
from buttonhole.weld.arc.seam.prediction import FUSED

METER_U = {"gap": 0.05e-3}  # m; others relative
RELATIVE_U = 0.025  # -, of a meter whose uncertainty nobody said; assumption, no source
PLUG_U = 0.18e-3  # m, of a calliper and its reader on a torn plug; assumption, no source

WETTED_WIDTH = 3.0  # -, of the thinner sheet, that a braze should wet; common practice, no source
DEPTH_SCALE = 0.4  # -, of a depth's doubt and scatter over a width's; judged, no source
DEPTH_U = 0.1e-3  # m, of a section; assumption, no source
SIZES = (Kind.MEASURED, Kind.AT_LEAST, Kind.NO_BUTTON, Kind.CHISEL_PASSED)
_ORDER = (Outcome.REJECT, Outcome.UNDECIDED, Outcome.ACCEPT)

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

    described: WeldFile | PlugWeldFile | SeamWeldFile
    joint: LearnedJoint

    @property
    def beliefs(self) -> Beliefs:
        """What is believed of such machines before any coupon."""
        if isinstance(self.described, WeldFile):
            return SPOT
        if isinstance(self.described, PlugWeldFile):
            return PLUG
        if brazes(self.described.set_up):
            return BRAZE
        steel = any(one.metal.steel is not None for one in self.described.joint.sheets)
        return SEAM if steel else ALUMINIUM


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
        Weld file of a spot, a plug or a seam, welded or brazed.
    coupons : sequence of str
        One text for each coupon of this set-up, in the order welded. Spot: readings as for
        ``judge``, with `` / `` between interfaces. Plug: ``6.2 mm``, ``at least 8 mm``, ``none``
        or ``hole``, after it ``back clear`` where the back was looked at. Seam: the fused (brazed:
        wetted) width ``3.1 mm``, ``held`` where bend or peel did not open it, ``none`` for a smooth
        face or ``hole``; after it ``deep 0.6 mm`` of a section, and the back.
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
        A text that is none, or a set-up that can't be learned on.
    """
    described = read_any_weld_file(file)
    own = _known(described, "this", rule, progress)
    known = {file.resolve(): own}
    past = _past(history, known, rule, progress)
    beliefs = own.beliefs
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
    kind, past = next(iter(known.values())).beliefs.kind, []
    for number, (weld, text) in enumerate(_history(history), start=1):
        if weld not in known:
            known[weld] = _known(read_any_weld_file(weld), weld.stem, rule, progress)
        if known[weld].beliefs.kind != kind:
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


def _known(
    described: WeldFile | PlugWeldFile | SeamWeldFile,
    key: str,
    rule: str | None,
    progress: Progress | None,
) -> _Known:
    def told(share: float) -> None:
        if progress is not None:
            progress(int(1000 * share), 1000)

    if isinstance(described, WeldFile):
        return _Known(described, _spot_joint(described, key, rule))
    if isinstance(described, SeamWeldFile):
        return _Known(described, _seam_joint(described, key, told))
    hole = described.joint.hole_diameters
    fitted = plug_surrogate(described.joint, described.set_up, progress=told)
    count = fitted.interfaces
    drilled = [[d for d in hole[: i + 1] if d > 0.0] for i in range(count)]
    if not all(drilled):
        raise BadInput("hole_diameter", "is 0 mm; an arc spot without a hole is not learned yet")
    least = tuple(WANTED_SHARE * each[-1] for each in drilled)
    return _Known(described, plug_joint(key, described.joint, fitted, least))


def _seam_joint(described: SeamWeldFile, key: str, told: Callable[[float], None]) -> LearnedJoint:
    """Fused as wide as the thinner sheet is thick and so deep into the lower one; brazed wider."""
    joint, braze = described.joint, brazes(described.set_up)
    thinner = min(one.thickness for one in joint.sheets)
    steels = [one.metal.steel for one in joint.sheets if one.metal.steel is not None]
    fitted = seam_surrogate(joint, described.set_up, progress=told)
    least: tuple[float, ...] = (WETTED_WIDTH * thinner,)
    names: tuple[str, ...] = ("wetted width",)
    if not braze:
        least, names = (thinner, FUSED * joint.lower.thickness), ("fused width", "depth")
    return LearnedJoint(
        key,
        fitted,
        least,
        (thinner,) * len(least),
        strict=is_strict(steels, 2),
        scales=(1.0, DEPTH_SCALE)[: len(least)],
        names=names,
    )


def _spot_joint(described: WeldFile, key: str, rule: str | None) -> LearnedJoint:
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    return spot_joint(key, described.stack, described.set_up, criterion)


def _point(own: _Known) -> tuple[float, ...]:
    described = own.described
    if isinstance(described, WeldFile):
        point = spot_point(described.set_up, described.stack, described.set_up)
    elif isinstance(described, SeamWeldFile):
        point = seam_point(described.joint, described.set_up, described.set_up)
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
    return JudgedCoupon(coupon, _arc_outcome(coupon, own.joint.least))


def _arc_outcome(coupon: LearningCoupon, least: Sequence[float]) -> Outcome:
    """By what was torn, with its guard band, the worst of it; a weld without it is not accepted."""
    if coupon.splashed:
        return Outcome.REJECT
    found = [_by_size(one, least[one.interface]) for one in coupon.evidence if one.kind in SIZES]
    return min(found, key=_ORDER.index, default=Outcome.REJECT)


def _by_size(one: Evidence, least: float) -> Outcome:
    if one.kind is Kind.CHISEL_PASSED:
        return Outcome.ACCEPT
    if one.kind is Kind.NO_BUTTON or one.value < least:
        return Outcome.REJECT
    sure = one.value >= least + ONE_SIDED.factor * one.uncertainty
    return Outcome.ACCEPT if sure else Outcome.UNDECIDED


def _coupon(key: str, text: str, own: _Known) -> tuple[LearningCoupon, tuple[Reading, ...]]:
    readings: tuple[Reading, ...] = ()
    if isinstance(own.described, WeldFile):
        readings = tuple(reading_in_words(part) for part in text.split(" / "))
        evidence = tuple(found for one in readings for found in evidence_of(one))
    else:
        try:
            seam = isinstance(own.described, SeamWeldFile)
            evidence = seam_evidence(text, own.joint) if seam else plug_evidence(text)
        except BadInput as bad:
            raise BadInput(bad.key or f"coupon {key}", bad.message) from bad
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


def seam_evidence(text: str, joint: LearnedJoint) -> tuple[Evidence, ...]:
    """Read what a torn, bent or sectioned seam showed.

    Parameters
    ----------
    text : str
        ``3.1 mm``, ``at least 3 mm``, ``held``, ``none`` or ``hole``; after it, if seen,
        ``deep 0.6 mm`` and ``back`` with its mark.
    joint : LearnedJoint
        For its least sizes.

    Returns
    -------
    tuple of Evidence
        What else was seen first.

    Raises
    ------
    BadInput
        Another text, or a depth of a braze.
    """
    size, *rest = re.split(r"\b(back|deep)\b", text.casefold())
    size = size.rstrip(" ,;").strip()
    pairs = list(zip(rest[::2], rest[1::2], strict=True))
    found = [back_evidence(said.strip(" ,;")) for what, said in pairs if what == "back"]
    depths = [parse(said.strip(" ,;"), "length") for what, said in pairs if what == "deep"]
    if depths and len(joint.least) < 2:
        raise BadInput("deep", "is of a weld; a brazed sheet must not melt: leave it out")
    found += [Evidence(Kind.MEASURED, 1, depth, uncertainty=DEPTH_U) for depth in depths]
    if size in ("hole", "burnt through"):
        return (Evidence(Kind.EXPULSION),)
    if size == "none":
        return (*found, Evidence(Kind.NO_BUTTON))
    if size == "held":
        return (*found, Evidence(Kind.CHISEL_PASSED, 0, joint.least[0]))
    if not size and depths:
        return tuple(found)
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
