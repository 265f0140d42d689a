"""A long list of welds, on the threads of this computer or on the workers of a cluster.

Training needs thousands of welds; they do not depend on each other. Here they are welded on local
threads (the kernels let them run side by side), or handed to a ``dask.distributed`` client, which
the extra ``sweep`` installs. Both give the same figures in the same order.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.spot import DEFAULT, Resolution
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.window import Welded, each_weld, weld_once

BATCH = 25  # welds handed to a worker at once, so that sending them takes little of the time

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class SweptWeld:
    """One weld of a sweep."""

    stack: StackUp
    set_up: SpotSetUp
    resolution: Resolution = DEFAULT


class Client(Protocol):
    """What is used of a ``dask.distributed.Client``."""

    def submit(self, function: Callable[..., Any], *arguments: Any, **options: Any) -> Any:
        """Have a worker call a function; the answer has a method ``result``."""

    def cancel(self, futures: Any) -> Any:
        """Give up what has not begun."""


def dask_client(address: str | None = None) -> Client:
    """Connect to a cluster, or start one on this computer.

    Parameters
    ----------
    address : str, optional
        Of the scheduler, for example ``tcp://10.0.0.5:8786``; left out, workers start here.

    Returns
    -------
    Client
        Its client.

    Raises
    ------
    BadInput
        The package is not installed.
    """
    try:
        from dask.distributed import Client as DaskClient
    except ImportError:
        raise BadInput(
            "cluster",
            "needs the package dask.distributed, which is not installed; install "
            "buttonhole[sweep], or leave the cluster out and the welds run on this computer",
        ) from None
    made: Client = DaskClient(address) if address else DaskClient(threads_per_worker=1)
    return made


def sweep(
    welds: Sequence[SweptWeld],
    *,
    client: Client | None = None,
    workers: int | None = None,
    progress: Progress | None = None,
) -> list[Welded]:
    """Weld a list.

    Parameters
    ----------
    welds : sequence of SweptWeld
        In any order.
    client : Client, optional
        Of a cluster; left out, threads of this computer.
    workers : int, optional
        Threads; else one for each core. A cluster has its own.
    progress : callable, optional
        Called with (done, of); an exception it raises stops the work.

    Returns
    -------
    list of Welded
        In the order of the list.

    Raises
    ------
    BadInput
        A weld that can't be computed.
    SolverFailed
        A weld the solver can't follow.
    """
    if not welds:
        return []
    if client is None:
        return list(each_weld(lambda number: _weld(welds[number]), len(welds), workers, progress))
    return list(_on_cluster(welds, client, progress))


def _on_cluster(
    welds: Sequence[SweptWeld], client: Client, progress: Progress | None
) -> Iterator[Welded]:
    batches = [tuple(welds[first : first + BATCH]) for first in range(0, len(welds), BATCH)]
    # pure: the same weld asked for twice is welded once, which is right, as nothing is random
    futures = [client.submit(weld_batch, batch, pure=True) for batch in batches]
    done = 0
    try:
        for future in futures:
            for found in future.result():
                yield found
                done += 1
            if progress is not None:
                progress(done, len(welds))
    except BaseException:
        client.cancel(futures)
        raise


def weld_batch(batch: Sequence[SweptWeld]) -> list[Welded]:
    """Weld a few one after the other; this is what a worker runs.

    Parameters
    ----------
    batch : sequence of SweptWeld
        A part of the list.

    Returns
    -------
    list of Welded
        In order.
    """
    return [_weld(one) for one in batch]


def _weld(one: SweptWeld) -> Welded:
    return weld_once(one.stack, one.set_up, one.resolution)
