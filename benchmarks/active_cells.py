"""What it saves to work only the cells that current and heat have reached.

Lines for the page on speed. Both ways run in turn, so that a busy machine slows both.
"""

import dataclasses
import time
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, Simulation, is_symmetric, simulate

RUNS = 15
ABOUT = """\
In sheets cells are worked only as far as current or heat has come, in caps only where there is
copper (`weld/spot/active.py`). Against every cell of the section, air and cold rings included, both
in turn in one run. *Worked*: share of the cells, mean over the steps, to the end of the current and
over the whole weld with hold and cooling. The gain is small because few cells are there to be left
out: rings grow by 1.4 beyond the contact and rows of the caps by 2, so that three of four rings lie
in the contact or within a millimetre of it, and current runs through all the copper. Welds whose
potential is iterated (over 30 rows) differ by what the iterations leave, see
`tests/weld/spot/test_active.py`."""


@dataclass(frozen=True, slots=True)
class Both:
    """One weld either way."""

    some: Simulation
    every: Simulation
    seconds: tuple[float, float]  # s of the processor, the least of some runs


def both(stack: StackUp, asked: SpotSetUp) -> Both:
    """Weld with the cells that are reached and with every one, in turn."""
    ways = (DEFAULT, dataclasses.replace(DEFAULT, everywhere=True))
    taken: tuple[list[float], list[float]] = ([], [])
    for _ in range(RUNS):
        found = []
        for times, way in zip(taken, ways, strict=True):
            before = time.process_time()
            found.append(simulate(stack, asked, way))
            times.append(time.process_time() - before)
    return Both(found[0], found[1], (min(taken[0]), min(taken[1])))


def active_lines(cases: tuple[tuple[str, StackUp, SpotSetUp], ...]) -> Iterator[str]:
    """Lines of the section, one for each named weld."""
    yield ABOUT
    yield ""
    yield (
        "| weld | cells solved | worked with current | worked | ms | ms with every cell | gain "
        "| nuggets apart mm |"
    )
    yield "|---|---|---|---|---|---|---|---|"
    for name, stack, asked in cases:
        short = dataclasses.replace(asked, hold_time=0.0)
        current = simulate(stack, short, dataclasses.replace(DEFAULT, cooling=False))
        cells = current.layout.part.size // (2 if is_symmetric(stack, asked) else 1)
        now = both(stack, asked)
        some, every = now.seconds
        apart = np.abs(now.some.nugget - now.every.nugget).max()
        yield (
            f"| {name} | {cells} | {100 * current.worked:.0f} % | {100 * now.some.worked:.0f} % "
            f"| {1e3 * some:.1f} | {1e3 * every:.1f} | {every / some:.2f} | {1e3 * apart:.4f} |"
        )
