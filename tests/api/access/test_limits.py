"""Limits: so many requests a minute for each token, and wrong tokens for each address."""

from __future__ import annotations

import os
from multiprocessing import get_context
from resource import RLIMIT_FSIZE, getrlimit, setrlimit
from threading import Thread

import pytest

from api.access.limits import Limits
from api.settings import SettingsFaulty
from tests.api.service import Service

WRONG = "no token of anybody"


@pytest.fixture
def strict(sqlite_store, tmp_path):
    return Service(
        sqlite_store, tmp_path,
        {"GROUNDSILL_REQUESTS_PER_MINUTE": "5", "GROUNDSILL_FAILED_SIGN_INS_PER_MINUTE": "3"},
    )  # fmt: skip


def test_a_token_that_asks_too_often_is_told_when_to_come_back(strict):
    assert [strict.get("/v1/account").status_code for _ in range(6)] == [200] * 5 + [429]
    refused = strict.get("/v1/account")
    assert refused.json["code"] == "too-many-requests"
    assert refused.headers["Retry-After"] == "12"
    assert strict.get("/v1/account", role="lender").status_code == 200
    strict.clock.turn(seconds=11)
    assert strict.get("/v1/account").status_code == 429
    strict.clock.turn(seconds=1)
    assert strict.get("/v1/account").status_code == 200
    assert strict.get("/v1/account").status_code == 429


def test_a_minutes_rest_gives_a_minutes_requests_and_no_more(strict):
    strict.clock.turn(hours=5)
    assert [strict.get("/v1/account").status_code for _ in range(6)] == [200] * 5 + [429]


def test_wrong_tokens_are_counted_by_address_and_a_right_one_still_passes(strict):
    codes = [strict.get("/v1/account", token=WRONG).status_code for _ in range(4)]
    assert codes == [401, 401, 401, 429]
    assert strict.get("/v1/account", token=WRONG).headers["Retry-After"] == "20"
    assert strict.get("/v1/account").status_code == 200
    elsewhere = {"environ_overrides": {"REMOTE_ADDR": "192.0.2.7"}}
    assert strict.get("/v1/account", token=WRONG, **elsewhere).status_code == 401


@pytest.mark.parametrize(("proxies", "expected"), [("0", 429), ("1", 401)])
def test_the_address_is_what_the_trusted_proxy_says_and_nobody_else(
    sqlite_store, tmp_path, proxies, expected
):
    one = {"GROUNDSILL_FAILED_SIGN_INS_PER_MINUTE": "1", "GROUNDSILL_PROXIES": proxies}
    service = Service(sqlite_store, tmp_path, one)
    told = [
        service.get("/v1/account", token=WRONG, headers={"X-Forwarded-For": address})
        for address in ("198.51.100.1", "198.51.100.2")
    ]
    assert [answer.status_code for answer in told] == [401, expected]


def taken(limits: Limits, times: int) -> int:
    return sum(limits.take("key", 50, 0.0) == 0.0 for _ in range(times))


def test_processes_and_threads_count_together():
    limits, fork = Limits(), get_context("fork")
    queue = fork.Queue()
    processes = [fork.Process(target=lambda: queue.put(taken(limits, 100))) for _ in range(3)]
    counts = []
    threads = [Thread(target=lambda: counts.append(taken(limits, 100))) for _ in range(2)]
    for one in (*processes, *threads):
        one.start()
    for one in (*processes, *threads):
        one.join()
    assert sum(counts) + sum(queue.get() for _ in processes) == 50


def test_a_process_that_dies_inside_leaves_nothing_locked():
    limits = Limits()
    child = os.fork()
    if child == 0:
        with limits:
            os._exit(9)
    os.waitpid(child, 0)
    assert limits.take("key", 50, 0.0) == 0.0


def test_a_machine_without_a_place_for_shared_locks_is_told_what_is_missing():
    as_it_was = getrlimit(RLIMIT_FSIZE)
    setrlimit(RLIMIT_FSIZE, (0, as_it_was[1]))  # nothing can be written, as where it is not mounted
    try:
        with pytest.raises(SettingsFaulty, match=r"count requests together: /dev/shm: .*mount a"):
            Limits()
    finally:
        setrlimit(RLIMIT_FSIZE, as_it_was)


def test_more_keys_than_there_is_room_for_forget_the_least_busy_one():
    limits = Limits(slots=1)
    busy = [limits.take("busy", 3, 0.0) for _ in range(4)]
    assert [wait_s > 0 for wait_s in busy] == [False, False, False, True]
    for n in range(100):
        limits.take(f"key {n}", 60, 0.0)
    assert limits.take("busy", 3, 0.0) > 0
