"""The two ways to the potential agree, and the work of a weld grows as its cells and steps."""

import dataclasses
import time
from collections.abc import Callable

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot import DEFAULT, Resolution
from buttonhole.weld.spot.layout import lay_out
from buttonhole.weld.spot.potential import DIRECT_ROWS, FIELDS, eliminate, iterate
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import simulate

CAP = ElectrodeCap(face_diameter=5e-3)
TWO = StackUp((Sheet(find_steel("DC04"), 0.8e-3),) * 2)
ASKED = SpotSetUp((Pulse(8e3, 0.16),), CurrentType.MFDC, 2e3, CAP, CAP, 0.3, 0.0)


@pytest.mark.parametrize(("rows", "rings"), [(1, 5), (4, 3), (13, 42), (DIRECT_ROWS, 17)])
def test_elimination_and_iterations_agree(rows: int, rings: int) -> None:
    random = np.random.default_rng(rows)
    e_z = random.uniform(1.0, 1e3, (rows + 1, rings + 1))
    e_r = random.uniform(1.0, 1e3, (rows + 1, rings + 1))
    e_z[0], e_z[rows], e_r[:, 0], e_r[:, rings] = 0.0, 0.0, 0.0, 0.0
    if rows > 4:  # air beyond the flank of a cap
        e_z[: rows // 2, rings // 2 :] = 0.0
        e_r[: rows // 2 - 1, rings // 2 :] = 0.0
    end = np.zeros(rings)
    end[: rings // 2 + 1] = 50.0
    direct, found = np.zeros((rows, rings)), np.full((rows, rings), 0.5)
    reach = np.full(rows, rings)
    eliminate(e_z, e_r, end, end, reach, direct)
    iterate(e_z, e_r, end, end, reach, found, 1e-12, np.zeros((FIELDS, rows, rings)))
    through = end @ (1.0 - direct[0])
    assert through == pytest.approx(end @ direct[-1], rel=1e-9)  # what goes in comes out
    joined = slice(rows // 2, None) if rows > 4 else slice(None)
    assert direct[joined] == pytest.approx(found[joined], abs=1e-7)
    assert through == pytest.approx(end @ (1.0 - found[0]), rel=1e-9)


@pytest.mark.parametrize("way", [eliminate, iterate])
def test_rows_that_reach_less_far_are_as_if_nothing_were_beyond(way: Callable[..., int]) -> None:
    random = np.random.default_rng(3)
    rows, rings = 12, 20
    reach = np.array([20, 20, 9, 7, 14, 14, 14, 14, 6, 11, 20, 20])
    e_z = random.uniform(1.0, 1e3, (rows + 1, rings + 1))
    e_r = random.uniform(1.0, 1e3, (rows + 1, rings + 1))
    e_z[0], e_z[rows], e_r[:, 0] = 0.0, 0.0, 0.0
    for j in range(rows):
        e_r[j, reach[j] :] = 0.0
        e_z[j, min(reach[max(j - 1, 0)], reach[j]) :] = 0.0
    end = random.uniform(1.0, 50.0, rings)
    fields = np.zeros((FIELDS, rows, rings))
    more = (1e-12, fields) if way is iterate else ()
    everywhere, active = np.zeros((rows, rings)), np.zeros((rows, rings))
    eliminate(e_z, e_r, end, end, np.full(rows, rings), everywhere)
    way(e_z, e_r, end, end, reach, active, *more)
    for j in range(rows):
        assert active[j, : reach[j]] == pytest.approx(everywhere[j, : reach[j]], abs=1e-8)
        assert (active[j, reach[j] :] == 0.0).all()  # untouched


def test_cells_are_small_where_a_contact_ends_and_nowhere_jump() -> None:
    layout = lay_out(TWO, CAP, CAP, DEFAULT.cell)
    rings = np.diff(layout.r_faces)
    assert rings.min() > 0.0
    assert 2.4e-3 < layout.r_faces[rings.argmin()] < 3.6e-3
    assert (np.abs(np.log(rings[1:] / rings[:-1])) < np.log(1.7)).all()
    rows = np.diff(layout.z_faces)
    assert rows.sum() == pytest.approx(layout.z_faces[-1] - layout.z_faces[0])
    for sheet in (1, 2):
        inside = rows[layout.part[:, 0] == sheet]
        assert inside.sum() == pytest.approx(0.8e-3)
        assert inside == pytest.approx(inside[::-1])
        assert inside[0] == pytest.approx(inside[1])


def seconds(resolution: Resolution) -> tuple[float, int]:
    taken, work = [], 0
    for _ in range(5):
        before = time.process_time()
        found = simulate(TWO, ASKED, resolution)
        taken.append(time.process_time() - before)
        work = len(found.record) * found.layout.part.size
    return min(taken), work


@pytest.mark.slow
def test_time_grows_as_cells_and_steps() -> None:
    plain = dataclasses.replace(DEFAULT, cooling=False, t_step=1e4)
    finer = dataclasses.replace(plain, cell=0.25 * plain.cell)
    shorter = dataclasses.replace(plain, longest_step=0.125 * plain.longest_step)
    base, work = seconds(plain)
    for each in (finer, shorter):
        found, more = seconds(each)
        # wide, as other work on the machine counts; a square law would be 5 to 10 times over it
        assert 0.3 < (found / base) / (more / work) < 2.0
