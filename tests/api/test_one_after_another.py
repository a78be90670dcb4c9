"""Short requests are worked on one after the other, and none waits for a long one."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Lock, Thread
from time import sleep

import pytest

from api import server
from api.server import one_after_another
from api.store.engine import before_disk

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


def test_the_next_begins_while_one_waits_for_the_disk(monkeypatch: pytest.MonkeyPatch):
    """It would wait half a minute otherwise."""
    monkeypatch.setattr(server, "LONGEST_WAIT_S", 30)
    is_at_disk, has_begun, came = Event(), Event(), []

    def app(environ, _start):
        if environ == "writes":
            before_disk.get()()
            is_at_disk.set()
            came.append(has_begun.wait(10))
        else:
            has_begun.set()
        return []

    served = one_after_another(app)
    writing = Thread(target=served, args=("writes", None))
    writing.start()
    assert is_at_disk.wait(10)
    served("reads", None)
    writing.join()
    assert came == [True]
