"""What would become of an arc weld if one thing were done otherwise: one change at a time.

The steps are about what a hand or a dial strays by, or what the trade argues about; common
practice, no source. A change that can't be computed is left out, and said.
"""

import dataclasses
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.plug.result import PlugWeld
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.arc.set_up import ArcSetUp

Progress = Callable[[int, int], None]

DISTANCE_STEP, HOLE_STEP, GAP_STEP, AIM_STEP = 5e-3, 1e-3, 0.5e-3, 1.5e-3  # m
TIME_STEP, FEED_STEP, SPEED_STEP = 0.2, 0.1, 0.2  # -, of what is set
UPRIGHT = math.pi / 2.0  # rad


@dataclass(frozen=True, slots=True)
class Change:
    """One thing done otherwise: what (``key`` and ``words``), and the weld as it is then."""

    key: str
    words: str
    joint: Any  # PlugJoint or SeamJoint
    set_up: ArcSetUp


@dataclass(frozen=True, slots=True)
class Outcome:
    """Figures of a changed weld [SI], and how far each is from the weld as set [SI]."""

    change: Change
    figures: Mapping[str, float]  # SI
    deltas: Mapping[str, float]  # SI


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The weld as set, what each change makes of it, and what can't be computed."""

    base: Mapping[str, float]  # SI
    outcomes: tuple[Outcome, ...]
    left_out: tuple[str, ...]


def plug_figures(weld: PlugWeld) -> dict[str, float]:
    """What is compared of a plug [SI]; the interface that is fused least counts."""
    least = min(
        weld.interfaces,
        key=lambda one: (one.wetted_diameter or one.fused_diameter).value - one.wanted_diameter,
    )
    return {
        "welding_current": weld.point.current.value,
        "fused_diameter": least.fused_diameter.value,
        "wetted_diameter": least.wetted_diameter.value if least.wetted_diameter else 0.0,
        "penetration": least.penetration.value,
        "fusion_probability": weld.fusion_probability,
        "hole_probability": weld.hole_probability,
        "melting_probability": weld.melting_probability or 0.0,
        "back_spot_diameter": weld.back_spot_diameter.value,
        "head_diameter": weld.head_diameter.value,
        "haz_diameter": max(one.value for one in weld.haz_diameter),
    }


def seam_figures(weld: SeamWeld) -> dict[str, float]:
    """What is compared of a seam [SI]."""
    lower, upper = weld.sheets[0], weld.sheets[1]
    return {
        "penetration_lower": lower.penetration.value,
        "penetration_upper": upper.penetration.value,
        "fusion_probability": weld.fusion_probability,
        "hole_probability": weld.burn_through_probability,
        "throat": weld.throat.value,
        "haz_width_lower": lower.haz_edge.value,
        "haz_width_upper": upper.haz_edge.value,
        "haz_band_lower": lower.haz_band.value,
        "wetted_lower": lower.wetted_width.value,
        "wetted_upper": upper.wetted_width.value,
    }


def plug_changes(joint: PlugJoint, set_up: ArcSetUp) -> Iterator[Change | str]:
    """Yield the changes of a plug; in place of one that can't be, its words and why."""
    yield from _machine_changes(joint, set_up)
    for sign, word in ((1.0, "longer"), (-1.0, "shorter")):
        yield _made(
            "arc_time",
            f"arc time {TIME_STEP:.0%} {word}",
            lambda s=sign: (joint, _times(set_up, "arc_time", 1.0 + s * TIME_STEP)),  # type: ignore[misc]  # s is a default, not an argument
        )
    for sign, word in ((1.0, "larger"), (-1.0, "smaller")):
        yield _made(
            "hole_diameter",
            f"holes {HOLE_STEP * 1e3:g} mm {word}",
            lambda s=sign: (_other_holes(joint, s * HOLE_STEP), set_up),  # type: ignore[misc]  # s is a default, not an argument
        )
    yield _made(
        "gap",
        f"gap {GAP_STEP * 1e3:g} mm wider",
        lambda: (_plug_gap(joint, joint.stack.gap + GAP_STEP), set_up),
    )
    for path in TorchPath:
        if path is not joint.path:
            yield _made(
                "torch_path",
                f"torch path {path.value}",
                lambda p=path: (dataclasses.replace(joint, path=p), set_up),  # type: ignore[misc]  # p is a default, not an argument
            )


def seam_changes(joint: SeamJoint, set_up: ArcSetUp) -> Iterator[Change | str]:
    """Yield the changes of a seam; in place of one that can't be, its words and why."""
    yield from _machine_changes(joint, set_up)
    key = "travel_speed" if set_up.travel_speed is not None else "arc_time"
    for factor, word in ((1.0 + SPEED_STEP, "faster"), (1.0 / (1.0 + SPEED_STEP), "slower")):
        scale = factor if key == "travel_speed" else 1.0 / factor
        yield _made(
            key,
            f"travel {SPEED_STEP:.0%} {word}",
            lambda f=scale: (joint, _times(set_up, key, f)),  # type: ignore[misc]  # f is a default, not an argument
        )
    for step, word in ((AIM_STEP, "lower"), (-AIM_STEP, "upper")):
        yield _made(
            "aim_offset",
            f"aimed {AIM_STEP * 1e3:g} mm on to the {word} sheet",
            lambda d=step: (  # type: ignore[misc]  # d is a default, not an argument
                joint,
                dataclasses.replace(set_up, aim_offset=set_up.aim_offset + d),
            ),
        )
    if abs(set_up.work_angle - UPRIGHT) > 0.1:
        yield _made(
            "work_angle",
            "work angle 90 deg, same aim",
            lambda: (joint, dataclasses.replace(set_up, work_angle=UPRIGHT)),
        )
    if joint.kind is JointKind.LAP:
        yield _made(
            "gap",
            f"gap {GAP_STEP * 1e3:g} mm wider",
            lambda: (dataclasses.replace(joint, gap=joint.gap + GAP_STEP), set_up),
        )


def what_if(
    predicted: Callable[[Any, ArcSetUp], Mapping[str, float]],
    joint: PlugJoint | SeamJoint,
    set_up: ArcSetUp,
    changes: Sequence[Change | str],
    progress: Progress | None = None,
    as_set: Mapping[str, float] | None = None,
) -> WhatIf:
    """Compare a weld with what one change at a time makes of it.

    Parameters
    ----------
    predicted : callable
        Figures [SI] of a joint and a set-up.
    joint : PlugJoint or SeamJoint
        As it is.
    set_up : ArcSetUp
        As it is.
    changes : sequence of Change or str
        What may be done otherwise.
    progress : callable, optional
        Told how many welds of how many are computed.
    as_set : mapping, optional
        Figures [SI] of the weld as set by a finer computation, which the differences of
        ``predicted`` are then added to.

    Returns
    -------
    WhatIf
        In the order of the changes.

    Raises
    ------
    BadInput
        The weld as set can't be computed.
    """
    base = predicted(joint, set_up)
    left_out = [one for one in changes if isinstance(one, str)]
    wanted = [one for one in changes if isinstance(one, Change)]
    outcomes = []
    for done, change in enumerate(wanted, start=1):
        try:
            figures = predicted(change.joint, change.set_up)
        except (BadInput, ArithmeticError) as reason:
            left_out.append(f"{change.words}: {reason}")
            continue
        deltas = {key: figures[key] - base[key] for key in base}
        outcomes.append(Outcome(change, _moved(figures, as_set, deltas), deltas))
        if progress is not None:
            progress(done, len(wanted))
    return WhatIf(as_set or base, tuple(outcomes), tuple(left_out))


def _moved(
    figures: Mapping[str, float], as_set: Mapping[str, float] | None, deltas: Mapping[str, float]
) -> Mapping[str, float]:
    """Figures of a change [SI], from the finer ones of the weld as set where they are given."""
    if as_set is None:
        return figures
    top = {key: 1.0 if key.endswith("_probability") else math.inf for key in deltas}
    return {key: min(max(as_set[key] + deltas[key], 0.0), top[key]) for key in deltas}


def _machine_changes(joint: PlugJoint | SeamJoint, set_up: ArcSetUp) -> Iterator[Change | str]:
    for sign, word in ((1.0, "farther"), (-1.0, "nearer")):
        yield _made(
            "contact_tube_distance",
            f"contact tube {DISTANCE_STEP * 1e3:g} mm {word}",
            lambda s=sign: (  # type: ignore[misc]  # s is a default, not an argument
                joint,
                dataclasses.replace(
                    set_up,
                    contact_tube_distance=set_up.contact_tube_distance + s * DISTANCE_STEP,
                ),
            ),
        )
    for sign, word in ((1.0, "more"), (-1.0, "less")):
        yield _made(
            "wire_feed_speed",
            f"wire feed {FEED_STEP:.0%} {word}",
            lambda s=sign: (joint, _times(set_up, "wire_feed_speed", 1.0 + s * FEED_STEP)),  # type: ignore[misc]  # s is a default, not an argument
        )


def _made(
    key: str, words: str, make: Callable[[], tuple[PlugJoint | SeamJoint, ArcSetUp]]
) -> Change | str:
    try:
        return Change(key, words, *make())
    except BadInput as bad:
        return f"{words}: {bad}"


def _times(set_up: ArcSetUp, key: str, factor: float) -> ArcSetUp:
    return dataclasses.replace(set_up, **{key: getattr(set_up, key) * factor})


def _other_holes(joint: PlugJoint, step: float) -> PlugJoint:
    holes = tuple(hole + step if hole > 0.0 else 0.0 for hole in joint.hole_diameters)
    return dataclasses.replace(joint, hole_diameters=holes)


def _plug_gap(joint: PlugJoint, gap: float) -> PlugJoint:
    return dataclasses.replace(joint, stack=dataclasses.replace(joint.stack, gap=gap))
