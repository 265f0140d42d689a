"""Score the photo gauge on rendered photos: ``python -m benchmarks.validate_photo [photos]``.

Writes ``docs/validation/photo.md``. The seeds are used for nothing else; what was fitted was fitted
on seeds 1 to 80.
"""

import math
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from benchmarks.photo_scene import Photo, changed, usual_photo
from buttonhole.desk.read_photo import SeenPhoto, see_photo
from buttonhole.photo.gauge import Face, FaceSetting, Placed, handles_at, measure, snap
from buttonhole.photo.proposal import propose
from buttonhole.photo.refusal import PhotoRefused, Trouble
from buttonhole.units import BadInput

Array = NDArray[np.float64]
PAGE = Path("docs/validation/photo.md")
FIRST = 100_001
SPOILT_SEEDS = (200_003,)
PHOTOS = 400
TAPS = (0.10, 0.20, 0.30)  # mm, standard, of one coordinate of one end
HEIGHT_ERROR = 0.15  # mm, standard, of the height that is told
BAR_ERROR = 0.05  # mm, standard, of a bar that is measured
WRONG = 0.3  # mm
FACES = {"button": Face.BUTTON, "face": Face.DISC, "hole": Face.HOLE}
SPOILT: dict[Trouble, tuple[dict[str, object], ...]] = {
    Trouble.BLURRED: ({"blur": 2.7}, {"shake": 9.0}),
    Trouble.TILTED: ({"tilt": 0.75}, {"tilt": 0.85}),
    Trouble.TOO_FAR: ({"distance": 330.0}, {"distance": 380.0}),
    Trouble.TOO_DARK: ({"light": 0.025, "noise": 0.003}, {"light": 0.012, "noise": 0.003}),
    Trouble.NOT_FLAT: ({"bend": 4.0}, {"bend": 6.0}),
    Trouble.CUT_OFF: ({"aside": (85.0, 0.0), "distance": 110.0, "turn": 0.0},),
    Trouble.NO_CARD: ({"aside": (400.0, 0.0)},),
    Trouble.GLARE: ({"glare": ((0.0, 0.0, 9.0, 3.0),)},),
}


HEAD = """# Photo gauge

Made by `python -m benchmarks.validate_photo {asked}`. All photos are rendered
(`benchmarks/photo_scene.py`, `photo_metal.py`): a camera with focal length, centre, lens error and
tilt of its own; a card printed a little wrong and bent a little; buttons, parted faces and torn
holes whose outlines are no ellipses; corona rings, shadows, sides and walls, brushed sheets, dirt,
glare, blur, shake, noise, JPEG. The step in tone from a torn face to the ring round it is at least
0.07 of full light. Real photos look otherwise: until shops have measured buttons both ways, these
figures speak of the arithmetic, not of the bay.

{asked} photos, seeds {first} to {last}; what was fitted was fitted on seeds 1 to 80. Refused:
{refused} ({told}). The largest diameter and the one across it are compared with the true ones
through the middle of the true outline. A person's tap is simulated: each end is set on the true end
with a normal error in both directions: {taps[0]:.2f} mm (looked at, and nudged until it is right to
one nudge of 0.1 mm; two to five points of the loupe), {taps[1]:.2f} mm, and {taps[2]:.2f} mm
(tapped once and left). The height told is wrong by {height} mm (sd), the bars by {bar} mm (sd).

## What was asked for

| goal | at most | found |
|---|---|---|
| diameters from handles with snap, sd (taps {taps[0]:.2f} mm) | 0.10 mm | {spread:.3f} mm |
| their bias | 0.03 mm | {bias:+.3f} mm |
| proposal off by more than 0.3 mm | 8 % | {off:.1%} |
| proposals measured without a human hand | 0 | {alone} |

A goal that is missed stands here as it is.

## Handles

Errors of both diameters [mm].

{handles}

A faint edge is one whose change of brightness is less than twice the usual one in its band; the
uncertainty that is told is larger there. Of all diameters (taps {taps[0]:.2f} mm) {inside:.1%} lie
within the range told to hold nine times in ten.

## Proposals

{proposals}

Every proposal is of a type that `measure` refuses; it becomes a reading when a person has set,
moved or taken its ends.

## Photos spoilt on purpose

{spoilt}

Looking for the card, three snaps and three readings take {seconds:.2f} s a photo (median).
"""


@dataclass(slots=True)
class Rows:
    """What came out, photo by photo [mm]."""

    kinds: list[str] = field(default_factory=list)
    snapped: dict[float, list[Array]] = field(default_factory=dict)
    raw: dict[float, list[Array]] = field(default_factory=dict)
    sigma: list[float] = field(default_factory=list)
    faint: list[bool] = field(default_factory=list)
    proposed: list[Array | None] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    taken_alone: int = 0
    seconds: list[float] = field(default_factory=list)


def truth_ends(photo: Photo) -> Array:
    """Ends (4, 2) [mm] of the true diameters."""
    weld = photo.metal.weld
    middle = weld.middle
    steps = np.arange(0.0, 6.0, 0.002)
    ends = []
    for angle in (photo.angle_max, photo.angle_min):
        for turn in (angle, angle + math.pi):
            ray = middle + steps[:, None] * (math.cos(turn), math.sin(turn))
            ends.append(ray[int(np.argmax(weld.beyond(ray[:, 0], ray[:, 1]) > 0.0))])
    return np.array(ends)


def seen_by_a_person(photo: Photo, random: np.random.Generator) -> tuple[SeenPhoto, FaceSetting]:
    """The photo with what a person tells: bars as measured, height as guessed."""
    bars = 80e-3 * np.array(photo.view.print_scale) + random.normal(0.0, BAR_ERROR * 1e-3, 2)
    height = (photo.height + random.normal(0.0, HEIGHT_ERROR)) * 1e-3
    seen = see_photo(photo.jpeg, (float(bars[0]), float(bars[1])), named=False)
    return seen, FaceSetting(FACES[photo.metal.kind], float(height))


def run_one(seed: int, rows: Rows) -> None:
    """One photo: looked at, proposed, tapped, drawn onto the edge, measured."""
    photo = usual_photo(seed)
    random = np.random.default_rng(seed + 1_000_000)
    true = np.array([photo.d_max, photo.d_min])
    start = time.perf_counter()
    try:
        seen, setting = seen_by_a_person(photo, random)
        ends = truth_ends(photo)
        found: dict[float, tuple[Array, Array]] = {}
        for spread in TAPS:
            taps = handles_at((ends + random.normal(0.0, spread, (4, 2))) * 1e-3, Placed.HAND)
            at = taps.places * 1e3
            raw = np.array([np.hypot(*(at[0] - at[1])), np.hypot(*(at[2] - at[3]))])
            drawn, _ = snap(seen.sight, setting, taps)
            got = measure(seen.sight, setting, seen.scale, drawn)
            at = drawn.places * 1e3
            sizes = np.array([np.hypot(*(at[0] - at[1])), np.hypot(*(at[2] - at[3]))])
            found[spread] = (raw - true, sizes - true)
            if spread == TAPS[0]:
                sigma, faint = got.uncertainty * 1e3, drawn.faint
    except PhotoRefused as refused:
        rows.refused.append(refused.trouble.value)
        return
    except BadInput as bad:  # taps so far off that they cross no more
        rows.refused.append(bad.key)
        return
    rows.seconds.append(time.perf_counter() - start)
    rows.kinds.append(photo.metal.kind)
    rows.sigma.append(sigma)
    rows.faint.append(faint)
    for spread, (raw_error, error) in found.items():
        rows.raw.setdefault(spread, []).append(raw_error)
        rows.snapped.setdefault(spread, []).append(error)
    proposal = propose(seen.sight, setting)
    if proposal is None:
        rows.proposed.append(None)
        return
    at = proposal.handles.places * 1e3
    sizes = np.array([np.hypot(*(at[0] - at[1])), np.hypot(*(at[2] - at[3]))])
    rows.proposed.append(sizes - true)
    try:
        measure(seen.sight, setting, seen.scale, proposal.handles)
    except BadInput:
        pass
    else:
        rows.taken_alone += 1


def spoilt_rows() -> list[str]:
    """What is said of photos that were spoilt on purpose."""
    lines = ["| spoilt by | photos | refused | with that reason |", "|---|---|---|---|"]
    for trouble, ways in SPOILT.items():
        given = right = photos = 0
        for seed in SPOILT_SEEDS:
            for way in ways:
                photos += 1
                try:
                    see_photo(changed(seed, **way).jpeg, named=False)
                except PhotoRefused as refused:
                    given += 1
                    right += refused.trouble is trouble
        lines.append(f"| {trouble.value.replace('_', ' ')} | {photos} | {given} | {right} |")
    return lines


def _spread(errors: Array) -> str:
    return f"{errors.std(ddof=1):.3f}"


def snap_rows(rows: Rows) -> list[str]:
    """The table of taps and snaps."""
    lines = [
        "| tap, sd of a coordinate | of | n | tapped: sd | snapped: sd | bias | median of size | "
        "off by over 0.3 mm |",
        "|---|---|---|---|---|---|---|---|",
    ]
    kinds = np.array(rows.kinds)
    for spread in TAPS:
        errors, raw = np.array(rows.snapped[spread]), np.array(rows.raw[spread])
        for name in ("all", *FACES):
            chosen = np.ones(len(kinds), dtype=bool) if name == "all" else kinds == name
            part, taps = errors[chosen], raw[chosen]
            lines.append(
                f"| {spread:.2f} mm | {name} | {len(part)} | {_spread(taps)} | {_spread(part)} | "
                f"{part.mean():+.3f} | {np.median(np.abs(part)):.3f} | "
                f"{np.mean(np.abs(part) > WRONG):.1%} |"
            )
        faint = np.array(rows.faint)
        for name, chosen in (("clear edge", ~faint), ("faint edge", faint)):
            part, taps = errors[chosen], raw[chosen]
            lines.append(
                f"| {spread:.2f} mm | {name} | {len(part)} | {_spread(taps)} | {_spread(part)} | "
                f"{part.mean():+.3f} | {np.median(np.abs(part)):.3f} | "
                f"{np.mean(np.abs(part) > WRONG):.1%} |"
            )
    return lines


def proposal_rows(rows: Rows) -> list[str]:
    """The table of proposals."""
    lines = ["| of | photos | none | off by over 0.3 mm |", "|---|---|---|---|"]
    kinds = np.array(rows.kinds)
    none = np.array([one is None for one in rows.proposed])
    off = np.array(
        [one is not None and float(np.max(np.abs(one))) > WRONG for one in rows.proposed]
    )
    for name in ("all", *FACES):
        chosen = np.ones(len(kinds), dtype=bool) if name == "all" else kinds == name
        lines.append(
            f"| {name} | {np.count_nonzero(chosen)} | {np.mean(none[chosen]):.1%} | "
            f"{np.mean(off[chosen]):.1%} |"
        )
    return lines


def page_of(rows: Rows, photos: int, spoilt: list[str]) -> str:
    """The page."""
    errors = np.array(rows.snapped[TAPS[0]])
    sigma = np.array(rows.sigma)[:, None]
    inside = float(np.mean(np.abs(errors) <= 1.645 * sigma))
    refused = {one: rows.refused.count(one) for one in sorted(set(rows.refused))}
    told = ", ".join(f"{count} {name.replace('_', ' ')}" for name, count in refused.items())
    off = np.mean([one is not None and float(np.max(np.abs(one))) > WRONG for one in rows.proposed])
    head = errors.std(ddof=1), errors.mean()
    return HEAD.format(
        asked=photos,
        first=FIRST,
        last=FIRST + photos - 1,
        refused=len(rows.refused),
        told=told or "none",
        taps=TAPS,
        height=HEIGHT_ERROR,
        bar=BAR_ERROR,
        spread=head[0],
        bias=head[1],
        off=off,
        alone=rows.taken_alone,
        inside=inside,
        handles="\n".join(snap_rows(rows)),
        proposals="\n".join(proposal_rows(rows)),
        spoilt="\n".join(spoilt),
        seconds=np.median(rows.seconds),
    )


def main(photos: int = PHOTOS) -> None:
    """Run and write the page."""
    spoilt = spoilt_rows()
    rows = Rows()
    for k in range(photos):
        run_one(FIRST + k, rows)
        if k % 20 == 19:
            errors = np.array(rows.snapped[TAPS[0]])
            print(f"{k + 1} of {photos}: sd {errors.std():.3f} mm, bias {errors.mean():+.3f} mm")
            PAGE.write_text(page_of(rows, k + 1, spoilt), encoding="utf-8")
    PAGE.write_text(page_of(rows, photos, spoilt), encoding="utf-8")
    print(f"{PAGE} written")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else PHOTOS)
