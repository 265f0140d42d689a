"""Other ways to weld a stack-up that practice names: pulses, slopes, hold, force, caps.

Each is a whole set-up, to be predicted beside the plain one; none is recommended here. Their times
and shares are common practice, no source, where no key of the bibliography stands beside them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.joint.steel import HARDENED, MULTIPHASE
from buttonhole.procedure.force_level import cap_limit
from buttonhole.procedure.machine import SpotMachine
from buttonhole.weld.spot.set_up import ElectrodeCap, Pulse, SpotSetUp

COMMON = "common practice, no source"
MORE_FORCE, SHORTER = 1.25, 0.6  # -
FORCE_STEP = 50.0  # N
SMALLER_FACE = 0.85  # -, a face of the shop at most so wide counts as smaller
TEMPER_REST, TEMPER_TIME, TEMPER_SHARE = 0.5, 0.3, 0.55  # s, s, - of the welding current
LONGER_HOLD, SHORTER_HOLD = 3.0, 0.5  # -


class Trouble(StrEnum):
    """What makes a stack-up hard to weld."""

    ZINC = "zinc-coated"
    ALSI = "hot-stamped with aluminium-silicon"
    THIN_OUTER = "thin outer sheet"
    STRONG = "high-strength steel"


@dataclass(frozen=True, slots=True)
class Variant:
    """One other way: its name, what it is against, the set-up to predict, why and from where.

    ``tempers``: its last pulse is no welding pulse but heats the finished weld again; its rest and
    current are to be fitted to how the weld cools.
    """

    name: str
    trouble: Trouble
    set_up: SpotSetUp
    reason: str
    source: str
    tempers: bool = False


def troubles(stack: StackUp) -> tuple[Trouble, ...]:
    """Return what makes a stack-up hard to weld.

    Parameters
    ----------
    stack : StackUp
        The sheets.

    Returns
    -------
    tuple of Trouble
        Nothing for plain sheet.

    Sources
    -------
    iso-14373, rw-practice-notes, common-practice (the ratios of thickness).
    """
    found = []
    coatings = {sheet.coating for sheet in stack.sheets}
    families = {sheet.steel.family for sheet in stack.sheets}
    if coatings & ZINC:
        found.append(Trouble.ZINC)
    if Coating.ALSI in coatings:
        found.append(Trouble.ALSI)
    if {"thickness-ratio", "pile-up", "thin-outer-sheet"} & {c.code for c in cautions(stack)}:
        found.append(Trouble.THIN_OUTER)
    if families & (HARDENED | MULTIPHASE):
        found.append(Trouble.STRONG)
    return tuple(found)


def variants(
    stack: StackUp, plain: SpotSetUp, machine: SpotMachine, arm_pair: str | None = None
) -> tuple[Variant, ...]:
    """List other ways to weld a stack-up, inside what the machine can do.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    plain : SpotSetUp
        One pulse.
    machine : SpotMachine
        What it can do and which caps the shop has for it.
    arm_pair : str, optional
        The arms that are mounted.

    Returns
    -------
    tuple of Variant
        In the order of the troubles; each change once, under the first trouble it is named for.

    Raises
    ------
    BadInput
        No such arms.

    Sources
    -------
    ahss-insights (several pulses for thick stacks, slopes); the rest common-practice.
    """
    made = {
        Trouble.ZINC: lambda: _for_zinc(plain),
        Trouble.ALSI: lambda: _for_alsi(plain),
        Trouble.THIN_OUTER: lambda: _for_thin_outer(stack, plain, machine, arm_pair),
        Trouble.STRONG: lambda: _for_strong(plain, machine, arm_pair),
    }
    found: list[Variant] = []
    for trouble in troubles(stack):
        known = [one.set_up for one in found]
        found += [one for one in made[trouble]() if one.set_up not in (*known, plain)]
    return tuple(found)


def _for_zinc(plain: SpotSetUp) -> Iterator[Variant]:
    yield Variant(
        "first pulse", Trouble.ZINC, _led(plain, 0.6, 0.04, 0.02),
        "melts the zinc and presses it out before the welding current flows", COMMON,
    )  # fmt: skip
    yield Variant(
        "up-slope", Trouble.ZINC, _sloped(plain, 0.04),
        "lets the zinc leave before the full current flows", "ahss-insights",
    )  # fmt: skip


def _for_alsi(plain: SpotSetUp) -> Iterator[Variant]:
    yield Variant(
        "two pulses", Trouble.ALSI, _led(plain, 0.7, 0.06, 0.03),
        "breaks the brittle layer down before the welding current flows", COMMON,
    )  # fmt: skip
    yield Variant(
        "up-slope", Trouble.ALSI, _sloped(plain, 0.08),
        "lets the brittle layer give way before the full current flows", COMMON,
    )  # fmt: skip


def _for_thin_outer(
    stack: StackUp, plain: SpotSetUp, machine: SpotMachine, arm_pair: str | None
) -> Iterator[Variant]:
    first = stack.sheets[0].thickness <= stack.sheets[-1].thickness
    for cap, words in _smaller_caps(plain.cap_a if first else plain.cap_b, machine):
        fitted = replace(plain, cap_a=cap) if first else replace(plain, cap_b=cap)
        yield Variant(
            f"{words} on side {'A' if first else 'B'}", Trouble.THIN_OUTER, fitted,
            "crowds the current under the thin sheet and draws the heat there", COMMON,
        )  # fmt: skip
    pressed = _pressed(plain, machine, arm_pair)
    if pressed is not None:
        main = pressed.pulses[0]
        short = replace(main, time=round(SHORTER * main.time, 3))
        yield Variant(
            "more force, shorter time", Trouble.THIN_OUTER, replace(pressed, pulses=(short,)),
            "the heat has no time to gather in the thick sheets", COMMON,
        )  # fmt: skip
    yield Variant(
        "short strong first pulse", Trouble.THIN_OUTER, _led(plain, 1.2, 0.04, 0.03),
        "heats at the faying faces before the heat gathers in the middle of the stack",
        "ahss-insights",
    )  # fmt: skip


def _for_strong(plain: SpotSetUp, machine: SpotMachine, arm_pair: str | None) -> Iterator[Variant]:
    pressed = _pressed(plain, machine, arm_pair)
    if pressed is not None:
        yield Variant(
            "more force", Trouble.STRONG, pressed,
            "strong sheets need more force to close and to seal the nugget", "ahss-insights",
        )  # fmt: skip
    main = plain.pulses[0]
    temper = Pulse(TEMPER_SHARE * main.current, TEMPER_TIME)
    yield Variant(
        "temper pulse", Trouble.STRONG,
        replace(plain, pulses=(replace(main, cool_time=TEMPER_REST), temper)),
        "softens the hardened weld, if it was cold before and stays under Ac1; a second pulse that "
        "is too hot weakens it (hot-stamped steel: Metals 10, 2020, 1279, abstract read)", COMMON,
        tempers=True,
    )  # fmt: skip
    for share, words, why in (
        (LONGER_HOLD, "longer hold", "keeps the sheets pressed until the weld has its strength"),
        (SHORTER_HOLD, "shorter hold", "lets the weld cool more slowly and stay softer"),
    ):
        held = replace(plain, hold_time=round(share * plain.hold_time, 2))
        yield Variant(words, Trouble.STRONG, held, why, COMMON)


def _led(plain: SpotSetUp, share: float, time: float, cool: float) -> SpotSetUp:
    """The plain set-up behind a first pulse of a share of its current [-], [s]."""
    main = plain.pulses[0]
    return replace(plain, pulses=(Pulse(share * main.current, time, cool), main))


def _sloped(plain: SpotSetUp, slope: float) -> SpotSetUp:
    """The plain set-up with a slope [s] before it, at full current as long as before."""
    main = plain.pulses[0]
    return replace(plain, pulses=(replace(main, time=main.time + slope, up_slope=slope),))


def _pressed(plain: SpotSetUp, machine: SpotMachine, arm_pair: str | None) -> SpotSetUp | None:
    """The plain set-up with more force; None where machine or caps bear no more."""
    bounds = [machine.force_limit(arm_pair), cap_limit(plain.cap_a), cap_limit(plain.cap_b)]
    most = min([MORE_FORCE * plain.electrode_force, *(one for one in bounds if one is not None)])
    force = math.floor(most / FORCE_STEP + 1e-9) * FORCE_STEP
    return None if force < 1.05 * plain.electrode_force else replace(plain, electrode_force=force)


def _smaller_caps(cap: ElectrodeCap, machine: SpotMachine) -> list[tuple[ElectrodeCap, str]]:
    """The largest smaller face and the first dome of the shop that are not mounted already."""
    faces = [
        one
        for one in machine.caps
        if one.radius is None
        and one.face_diameter is not None
        and one.face_diameter <= SMALLER_FACE * (cap.face_diameter or math.inf)
    ]
    found = []
    if faces:
        best = max(faces, key=lambda one: one.face_diameter or 0.0)
        found.append((best, f"face {(best.face_diameter or 0.0) * 1e3:g} mm"))
    dome = next((one for one in machine.caps if one.radius is not None and one != cap), None)
    if dome is not None and cap.radius is None:
        found.append((dome, f"domed cap, radius {(dome.radius or 0.0) * 1e3:g} mm"))
    return found
