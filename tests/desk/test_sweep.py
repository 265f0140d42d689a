"""A sweep gives the same welds on threads and on a cluster, in order, and can be stopped."""

import sys
from typing import Any

import numpy as np
import pytest

from buttonhole.desk.sweep import BATCH, SweptWeld, dask_client, sweep, weld_batch
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot import COARSE
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import SolverFailed
from buttonhole.weld.spot.window import Welded

CAP = ElectrodeCap(face_diameter=5e-3)
SHEET = Sheet(find_steel("DC04"), 0.8e-3)
WELDS = [
    SweptWeld(
        StackUp((SHEET, SHEET)),
        SpotSetUp((Pulse(5e3 + 100.0 * n, 0.1),), CurrentType.MFDC, 2e3, CAP, CAP, 0.3, 0.05),
        COARSE,
    )
    for n in range(BATCH + 5)
]


def same(one: list[Welded], other: list[Welded]) -> bool:
    return all(
        np.array_equal(a.nugget, b.nugget)
        and a.expulsion == b.expulsion
        and np.array_equal(a.sunk, b.sunk)
        for a, b in zip(one, other, strict=True)
    )


class Here:
    """A cluster of one: it welds when it is asked for the answer, as the protocol says."""

    def __init__(self) -> None:
        self.handed: list[int] = []
        self.given_up: list[Any] = []

    def submit(self, function: Any, *arguments: Any, **_options: Any) -> Any:
        self.handed.append(len(arguments[0]))

        class Future:
            def result(self) -> Any:
                return function(*arguments)

        return Future()

    def cancel(self, futures: Any) -> None:
        self.given_up = list(futures)


def test_threads_give_what_one_after_the_other_gives() -> None:
    told: list[tuple[int, int]] = []
    few = WELDS[::6]
    found = sweep(few, workers=2, progress=lambda done, of: told.append((done, of)))
    assert same(found, weld_batch(few))
    assert told == [(n, len(few)) for n in range(1, len(few) + 1)]
    assert sweep([]) == []


def test_a_cluster_is_handed_batches_and_gives_the_same_in_order() -> None:
    cluster = Here()
    told: list[tuple[int, int]] = []
    found = sweep(WELDS, client=cluster, progress=lambda done, of: told.append((done, of)))
    assert cluster.handed == [BATCH, 5]
    assert told == [(BATCH, len(WELDS)), (len(WELDS), len(WELDS))]
    assert same(found, sweep(WELDS))


def test_what_progress_raises_gives_up_what_is_left() -> None:
    cluster = Here()

    def stop(done: int, of: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        sweep(WELDS, client=cluster, progress=stop)
    assert len(cluster.given_up) == 2


def test_without_the_package_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "dask.distributed", None)
    with pytest.raises(BadInput, match=r"buttonhole\[sweep\]"):
        dask_client()


@pytest.mark.slow
def test_a_real_cluster_of_one_process_gives_the_same() -> None:
    distributed = pytest.importorskip("dask.distributed")
    told: list[tuple[int, int]] = []
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=True, dashboard_address=None
    ) as cluster:
        client: Any = dask_client(cluster.scheduler_address)
        try:
            found = sweep(WELDS, client=client, progress=lambda done, of: told.append((done, of)))
            with pytest.raises(SolverFailed, match="steps ran out"):
                client.submit(_fails).result()
        finally:
            client.close()
    assert same(found, sweep(WELDS))
    assert told == [(BATCH, len(WELDS)), (len(WELDS), len(WELDS))]


def test_a_cluster_in_this_process_gives_the_same() -> None:
    distributed = pytest.importorskip("dask.distributed")
    few = WELDS[:3]
    with distributed.Client(
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
    ) as client:
        assert same(sweep(few, client=client), weld_batch(few))


def _fails() -> None:
    raise SolverFailed("steps ran out")
