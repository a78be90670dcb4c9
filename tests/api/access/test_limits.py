"""Limits: so many requests a minute for each token, and wrong tokens for each address."""

from __future__ import annotations

import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

from api.access.limits import Limits
from tests.api.service import Clock, Service

WRONG = "no token of anybody"


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def strict(sqlite_store, tmp_path, clock):
    return Service(
        sqlite_store, tmp_path,
        {"GROUNDSILL_REQUESTS_PER_MINUTE": "5", "GROUNDSILL_FAILED_SIGN_INS_PER_MINUTE": "3"},
        clock,
    )  # fmt: skip


def test_a_token_that_asks_too_often_is_told_when_to_come_back(strict, clock):
    assert [strict.get("/v1/account").status_code for _ in range(3)] == [200] * 3
    clock.turn(seconds=20)
    assert [strict.get("/v1/account").status_code for _ in range(3)] == [200] * 2 + [429]
    refused = strict.get("/v1/account")
    assert refused.json["code"] == "too-many-requests"
    assert refused.headers["Retry-After"] == "40"
    assert strict.get("/v1/account", role="lender").status_code == 200
    clock.turn(seconds=39)
    assert strict.get("/v1/account").status_code == 429
    clock.turn(seconds=2)
    assert strict.get("/v1/account").status_code == 200


def test_a_long_rest_gives_a_minutes_requests_and_no_more(strict, clock):
    clock.turn(hours=5)
    assert [strict.get("/v1/account").status_code for _ in range(6)] == [200] * 5 + [429]


def test_wrong_tokens_are_counted_by_address_and_a_right_one_still_passes(strict):
    codes = [strict.get("/v1/account", token=WRONG).status_code for _ in range(4)]
    assert codes == [401, 401, 401, 429]
    assert strict.get("/v1/account", token=WRONG).headers["Retry-After"] == "60"
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
    if expected == 429:
        what = "more than 1 request a minute with wrong tokens from this address"
        assert told[1].json["errors"][0]["what"] == what


def test_what_is_over_is_forgotten(clock):
    limits = Limits()
    for _ in range(2):
        assert [limits.take("busy", 3, clock.now) for _ in range(4)] == [0.0, 0.0, 0.0, 60.0]
        clock.turn(seconds=61)


def test_a_clock_that_is_set_back_locks_nobody_out(clock):
    limits = Limits()
    assert [limits.take("busy", 1, clock.now) for _ in range(2)] == [0.0, 60.0]
    clock.turn(hours=-3)
    assert [limits.take("busy", 1, clock.now) for _ in range(2)] == [0.0, 60.0]


@pytest.fixture
def restless():
    """Let threads change places as often as they can."""
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    yield
    sys.setswitchinterval(usual)


@pytest.mark.usefixtures("restless")
def test_threads_count_together(clock):
    limits = Limits()
    with ThreadPoolExecutor(8) as many:
        waits = list(many.map(lambda _: limits.take("key", 50, clock.now), range(500)))
    assert waits.count(0.0) == 50
