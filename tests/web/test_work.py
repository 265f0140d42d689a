"""Long work says how far it is, can be stopped, and says in plain words why it failed."""

import threading
import time
from collections.abc import Callable, Iterator

import pytest

from buttonhole.units import BadInput
from buttonhole.web.work import Progress, Work, Works


@pytest.fixture
def works() -> Iterator[Works]:
    opened = Works()
    yield opened
    opened.close()


def wait(work: Work) -> None:
    until = time.monotonic() + 10
    while not work.is_over:
        assert time.monotonic() < until
        time.sleep(0.005)


def begin(works: Works, do: Callable[[Progress], None], name: str = "search") -> Work:
    return works.start(name, do, then="/then", back="/back")


def test_it_says_how_far_it_is(works: Works) -> None:
    go = threading.Event()

    def do(progress: Progress) -> None:
        progress(3, 9)
        go.wait(10)

    work = begin(works, do)
    while not work.total:
        time.sleep(0.005)
    assert (work.state, work.done, work.total) == ("running", 3, 9)
    go.set()
    wait(work)
    assert work.state == "done"


def test_it_stops_at_its_next_report(works: Works) -> None:
    reported = []

    def do(progress: Progress) -> None:
        for step in range(1, 100_000):
            progress(step, 100_000)
            reported.append(step)
            time.sleep(0.001)

    work = begin(works, do)
    while not reported:
        time.sleep(0.005)
    work.halt.set()
    wait(work)
    assert work.state == "stopped"
    assert len(reported) < 50_000


def test_work_that_waits_can_be_stopped_before_it_begins(works: Works) -> None:
    go, begun = threading.Event(), []
    first = begin(works, lambda _: bool(go.wait(10)), "first")  # type: ignore[arg-type, return-value] # its answer is not looked at
    second = begin(works, lambda _: begun.append(1), "second")
    second.halt.set()
    go.set()
    wait(first)
    wait(second)
    assert second.state == "stopped"
    assert begun == []


def test_a_reason_in_plain_words_is_shown(works: Works) -> None:
    def do(_progress: Progress) -> None:
        raise BadInput("current_max", "is 5 kA; this stack-up needs 8 kA or more")

    work = begin(works, do)
    wait(work)
    assert work.state == "failed"
    assert work.said == "This is 5 kA; this stack-up needs 8 kA or more."


def test_a_break_of_ours_is_admitted_without_a_trace(works: Works) -> None:
    def do(_progress: Progress) -> None:
        raise ZeroDivisionError("inside")

    work = begin(works, do)
    wait(work)
    assert work.state == "failed"
    assert "inside" not in work.said
    assert "Nothing was written" in work.said


def test_the_same_search_is_joined_not_doubled(works: Works) -> None:
    go = threading.Event()

    def do(_progress: Progress) -> None:
        go.wait(10)

    work = begin(works, do)
    assert begin(works, do) is work
    go.set()
    wait(work)
    assert begin(works, do) is not work


def test_old_work_is_forgotten(works: Works) -> None:
    first = begin(works, lambda _: None, "0")
    wait(first)
    for number in range(1, 60):
        wait(begin(works, lambda _: None, str(number)))
    assert works.find(first.number) is None
