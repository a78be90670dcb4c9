"""Short requests are worked on one after the other, and none waits for a long one."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Lock, Thread
from time import sleep

from api.server import one_after_another

THREADS = 4


def at_once(calls: Callable[[], object], times: int = THREADS) -> None:
    """Call something from so many threads."""
    threads = [Thread(target=calls) for _ in range(times)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def test_short_requests_come_one_after_the_other():
    working, overlaps = Lock(), []

    def app(_environ, _start):
        overlaps.append(not working.acquire(blocking=False))
        sleep(0.001)
        if not overlaps[-1]:
            working.release()
        return []

    served = one_after_another(app)
    at_once(lambda: served({}, None))
    assert overlaps == [False] * THREADS


def test_a_long_request_holds_up_nobody_and_a_broken_one_neither():
    is_over, answered = Event(), []

    def app(environ, _start):
        if environ == "long":
            assert is_over.wait(30)
        if environ == "broken":
            raise ValueError
        answered.append(environ)
        return []

    def broken():
        try:
            served("broken", None)
        except ValueError:
            answered.append("refused")

    served = one_after_another(app)
    broken()
    long = Thread(target=served, args=("long", None))
    long.start()
    at_once(lambda: served("short", None))
    is_over.set()
    long.join()
    assert answered == ["refused", *["short"] * THREADS, "long"]
