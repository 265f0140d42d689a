"""Whether gauge and readers can tell welds apart: several people read the same kept buttons.

A torn button stays, so it can be read again: ten buttons, three people, two readings each take half
an hour. The study splits what is read into the buttons themselves, the readers and the gauge.

Sources: msa-manual (split and grades); hamada-weerahandi-2000 (intervals, from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

POOLED_OVER = 0.25  # -, from which probability readers and buttons do not interact; msa-manual
GOOD, FAIR = 0.10, 0.30  # -, of the whole spread; msa-manual
CLASSES = 5  # that a gauge should tell apart; msa-manual
PER_CLASS = 1.41  # -, of the buttons' spread over the gauge's; msa-manual
DRAWS = 4000  # of the intervals; numerical


@dataclass(frozen=True, slots=True)
class SumsOfSquares:
    """How the readings differ: sums of squares [m2] and degrees of freedom."""

    parts: float  # m2
    readers: float  # m2
    interaction: float  # m2
    repeats: float  # m2
    total: float  # m2
    degrees: tuple[int, int, int, int]  # of the first four


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """What a crossed study shows. Spreads are standard deviations [m] with 90 % intervals.

    ``gauge``: repeats of one reader; ``readers``: between readers; ``both``: together; ``parts``:
    of the buttons; ``whole``: all. ``share`` [-]: both over whole. ``interacts``: readers differ
    from button to button.
    """

    sums: SumsOfSquares
    interacts: bool
    interaction_probability: float  # -
    gauge: Estimate  # m
    readers: Estimate  # m
    both: Estimate  # m
    parts: Estimate  # m
    whole: Estimate  # m
    share: Estimate  # -
    classes: int
    words: str


def sums_of_squares(readings: Sequence[Sequence[Sequence[float]]]) -> SumsOfSquares:
    """Split how readings differ.

    Parameters
    ----------
    readings : sequence of sequence of sequence of float
        By button, reader and trial [m].

    Returns
    -------
    SumsOfSquares
        Of a crossed design.

    Raises
    ------
    BadInput
        Fewer than two buttons, readers or trials, or not as many of each everywhere.
    """
    sizes = {(len(button), len(trials)) for button in readings for trials in button}
    if len(sizes) != 1:
        raise BadInput("readings", "everybody reads every button equally often; some are missing")
    y = np.array(readings, float)
    if y.ndim != 3 or min(y.shape) < 2 or not np.isfinite(y).all():
        raise BadInput(
            "readings", "give at least two buttons, two people and two readings each, all numbers"
        )
    p, o, r = y.shape
    mean, cell = y.mean(), y.mean(axis=2)
    of_part, of_reader = y.mean(axis=(1, 2)), y.mean(axis=(0, 2))
    left = cell - of_part[:, None] - of_reader[None, :] + mean
    return SumsOfSquares(
        float(o * r * ((of_part - mean) ** 2).sum()),
        float(p * r * ((of_reader - mean) ** 2).sum()),
        float(r * (left**2).sum()),
        float(((y - cell[:, :, None]) ** 2).sum()),
        float(((y - mean) ** 2).sum()),
        (p - 1, o - 1, (p - 1) * (o - 1), p * o * (r - 1)),
    )


def gauge_study(readings: Sequence[Sequence[Sequence[float]]], *, seed: int = 1) -> GaugeStudy:
    """Judge a gauge and its readers by readings of kept buttons.

    Parameters
    ----------
    readings : sequence of sequence of sequence of float
        By button, reader and trial [m].
    seed : int
        Of the draws behind the intervals; the same gives the same.

    Returns
    -------
    GaugeStudy
        Spreads [m] with 90 % intervals, and words.

    Raises
    ------
    BadInput
        As ``sums_of_squares``, or readings that do not differ at all.

    Sources
    -------
    msa-manual (split and grades)
    hamada-weerahandi-2000 (intervals)
    """
    from scipy.special import fdtrc  # slow to load

    sums = sums_of_squares(readings)
    shape = (len(readings), len(readings[0]), len(readings[0][0]))
    if sums.repeats <= 0.0:
        raise BadInput("readings", "repeats never differ; give readings as fine as the gauge shows")
    _, _, between, within = sums.degrees
    ratio = (sums.interaction / between) / (sums.repeats / within)
    probability = float(fdtrc(between, within, ratio))
    interacts = probability < POOLED_OVER
    values = _spreads(_means(sums, interacts, None), shape)
    drawn = _spreads(_means(sums, interacts, np.random.default_rng(seed)), shape)
    spreads = [_interval(value, draws) for value, draws in zip(values, drawn, strict=True)]
    gauge, readers, both, parts, whole, share = spreads
    classes = int(PER_CLASS * parts.value / both.value)
    return GaugeStudy(
        sums, interacts, probability, gauge, readers, both, parts, whole, share, classes,
        _words(share, classes),
    )  # fmt: skip


def _means(
    sums: SumsOfSquares, interacts: bool, chance: np.random.Generator | None
) -> tuple[Array, Array, Array, Array]:
    """Mean squares of buttons, readers, interaction and repeats; drawn: what they may truly be."""
    of = [sums.parts, sums.readers, sums.interaction, sums.repeats]
    freedom = list(sums.degrees)
    if not interacts:  # what would be interaction is scatter of repeats
        of[3], freedom[3] = of[2] + of[3], freedom[2] + freedom[3]
    if chance is None:
        means = [np.array([square / free]) for square, free in zip(of, freedom, strict=True)]
    else:
        means = [
            square / chance.chisquare(free, DRAWS) for square, free in zip(of, freedom, strict=True)
        ]
    if not interacts:
        means[2] = means[3]
    return means[0], means[1], means[2], means[3]


def _spreads(
    means: tuple[Array, Array, Array, Array], shape: tuple[int, int, int]
) -> tuple[Array, ...]:
    p, o, r = shape
    part, reader, crossed, repeat = means
    crossing = np.maximum((crossed - repeat) / r, 0.0)
    of_readers = np.maximum((reader - crossed) / (p * r), 0.0) + crossing
    of_parts = np.maximum((part - crossed) / (o * r), 0.0)
    both = of_readers + repeat
    whole = both + of_parts
    squares = (repeat, of_readers, both, of_parts, whole, both / whole)
    return tuple(np.sqrt(square) for square in squares)


def _interval(value: Array, draws: Array) -> Estimate:
    low, high = np.quantile(draws, (0.05, 0.95))
    return Estimate(float(value[0]), float(low), float(high))


def _words(share: Estimate, classes: int) -> str:
    if share.value < GOOD:
        grade = "good"
    elif share.value <= FAIR:
        grade = "usable with care"
    else:
        grade = "not good enough"
    text = (
        f"Gauge and readers are {grade}: they make {100.0 * share.value:.0f} % of the whole spread "
        f"(between {100.0 * share.low:.0f} and {100.0 * share.high:.0f} %)"
    )
    if classes < CLASSES:
        text += (
            f" and tell only {classes} sizes apart, {CLASSES} are wanted: agree on where a button "
            "ends, read twice across, or take a finer gauge"
        )
    return text + "."


@dataclass(frozen=True, slots=True)
class RangeStudy:
    """The same study by averages and ranges; standard deviations [m], ``share`` [-]."""

    gauge: float  # m
    readers: float  # m
    both: float  # m
    parts: float  # m
    whole: float  # m
    share: float  # -


# One over d2*, for the trials, for readers and for parts; msa-manual, from memory.
_K1 = {2: 0.8862, 3: 0.5908}
_K2 = {2: 0.7071, 3: 0.5231}
_K3 = {2: 0.7071, 3: 0.5231, 4: 0.4467, 5: 0.4030, 6: 0.3742, 7: 0.3534, 8: 0.3375, 9: 0.3249,
       10: 0.3146}  # fmt: skip


def range_study(readings: Sequence[Sequence[Sequence[float]]]) -> RangeStudy:
    """Judge a gauge by averages and ranges, as it is done by hand.

    Parameters
    ----------
    readings : sequence of sequence of sequence of float
        By button, reader and trial [m].

    Returns
    -------
    RangeStudy
        Without intervals; ``gauge_study`` uses the readings better.

    Raises
    ------
    BadInput
        More of them than the factors are known for.

    Sources
    -------
    msa-manual (factors from memory).
    """
    y = np.array(readings, float)
    p, o, r = y.shape
    if r not in _K1 or o not in _K2 or p not in _K3:
        raise BadInput("readings", "give 2 to 10 buttons, 2 or 3 people, 2 or 3 readings each")
    gauge = float(np.ptp(y, axis=2).mean()) * _K1[r]
    between = float(np.ptp(y.mean(axis=(0, 2)))) * _K2[o]
    readers = math.sqrt(max(between**2 - gauge**2 / (p * r), 0.0))
    parts = float(np.ptp(y.mean(axis=(1, 2)))) * _K3[p]
    both = math.hypot(gauge, readers)
    whole = math.hypot(both, parts)
    return RangeStudy(gauge, readers, both, parts, whole, both / whole)
