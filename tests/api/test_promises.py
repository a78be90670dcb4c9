"""Promises 1, 2, 4 and 5 over HTTP, against the service as a person starts it."""

from __future__ import annotations

import json
import threading
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from http.client import HTTPException
from pathlib import Path
from time import monotonic
from typing import Any

import pytest

from api.store.store import open_store
from api.store.verify import verify
from tests.api.figures import figure, longest_wait, tries
from tests.api.live import Live, served
from tests.api.service import new_key

pytestmark = pytest.mark.xdist_group("live")

ACKNOWLEDGED = figure(60, 10_000)
RIVALS, WRITERS = 4, 4
MOST_WAITED = 50  # writes of the three others while one waits; 3 if all were alike
ISSUE = {"holder": "bank", "role": "lender"}


class Client:
    """Somebody who writes as the owner, and remembers what was acknowledged and what was not."""

    def __init__(self, token: str) -> None:
        self.headers = {"Authorization": f"Bearer {token}"}
        self.acknowledged: dict[str, str] = {}  # id by key
        self.open: list[str] = []

    def write(self, live: Live, key: str) -> Any:
        self.open.append(key)
        answer = live.send("POST", "/v1/tokens", ISSUE, self.headers | {"Idempotency-Key": key})
        self.open.remove(key)
        if answer.status == 201:
            self.acknowledged[key] = json.loads(answer.text)["id"]
        return answer

    def send_again(self, live: Live) -> None:
        """Send under its key what was not answered: a request that died holds its key no more."""
        for key in self.open[:]:
            self.open.remove(key)
            assert self.write(live, key).status == 201

    def write_until(self, live: Live, enough: int) -> None:
        """Write until there is enough, and then until the service is gone."""
        with suppress(OSError, HTTPException):
            while True:
                assert self.write(live, new_key()["Idempotency-Key"]).status == 201
                if len(self.acknowledged) >= enough:
                    self.has_enough.set()

    has_enough: threading.Event


def listed(live: Live, headers: dict[str, str]) -> Iterator[dict[str, Any]]:
    """Yield every token of the account, page by page."""
    cursor = ""
    while True:
        answer = live.send("GET", f"/v1/tokens?limit=200{cursor}", headers=headers)
        assert answer.status == 200, answer.text
        page = json.loads(answer.text)
        yield from page["tokens"]
        if page["next"] is None:
            return
        cursor = f"&cursor={page['next']}"


def check_store(folder: Path) -> None:
    """Check that what is kept holds together: trail, rows and sums."""
    store = open_store(f"sqlite:///{folder}/data/groundsill.sqlite3")
    verify(store)
    store.close()


@tries("kills", 3, 200)
def test_what_was_acknowledged_survives_being_killed_while_others_write(tmp_path, measured, kills):
    """Promise 1: of what was acknowledged nothing is missing, and nothing is torn."""
    live = Live(tmp_path)
    starts_s = [live.wait()]
    clients = [Client(live.token) for _ in range(WRITERS)]
    for kill in range(1, kills + 1):
        kill_while_written(live, clients, ACKNOWLEDGED * kill // (kills * WRITERS) + 1)
        live = Live(tmp_path)
        starts_s.append(live.wait())
        for client in clients:
            client.send_again(live)
    acknowledged = [one for client in clients for one in client.acknowledged.values()]
    kept = [one["id"] for one in listed(live, clients[0].headers)]
    live.stop()
    check_store(tmp_path)
    measured(f"{kills} kills, {len(acknowledged):,} acknowledged, start {max(starts_s):.1f} s")
    assert len(acknowledged) >= ACKNOWLEDGED
    assert len(set(acknowledged)) == len(acknowledged)
    assert set(acknowledged) <= set(kept)
    assert len(kept) == len(acknowledged) + 1  # one is the owner's own


def kill_while_written(live: Live, clients: list[Client], enough: int) -> None:
    """Have all clients write, and kill the service in the middle of it."""
    with ThreadPoolExecutor(len(clients)) as many:
        running = []
        for client in clients:
            client.has_enough = threading.Event()
            running.append(many.submit(client.write_until, live, enough))
        for client in clients:
            assert client.has_enough.wait(60)
        live.kill()
        for one in running:
            one.result()


@tries("rounds", 40, 1_000)
def test_of_competing_edits_one_wins_and_none_is_lost(tmp_path, rounds):
    """Promise 2: exactly one winner a version; 428 without If-Match, 412 if stale."""
    with served(tmp_path) as live, ThreadPoolExecutor(RIVALS) as many:
        issued = json.loads(Client(live.token).write(live, "only").text)
        path = f"/v1/tokens/{issued['id']}"

        def edit(version: int, rival: int) -> tuple[int, str]:
            holder = f"rival {rival} of {version}"
            answer = live.ask("PATCH", path, {"holder": holder}, If_Match=f'"{version}"')
            return answer.status, holder

        for version in range(1, rounds + 1):
            tried = list(many.map(lambda rival, at=version: edit(at, rival), range(RIVALS)))
            assert Counter(status for status, _ in tried) == {200: 1, 412: RIVALS - 1}
            winner = next(holder for status, holder in tried if status == 200)
            kept = json.loads(live.ask("GET", path).text)
            assert (kept["holder"], kept["version"]) == (winner, version + 1)
        assert live.ask("PATCH", path, {"holder": "nobody"}).status == 428
    check_store(tmp_path)


@tries("at_once", 12, 50)
def test_the_same_sent_many_times_at_once_and_after_a_restart_is_stored_once(tmp_path, at_once):
    """Promise 4: many at once, again across a restart: one record; another body is refused."""
    with served(tmp_path) as live, ThreadPoolExecutor(at_once) as many:
        client = Client(live.token)
        answers = list(many.map(lambda _: sent_until_done(live, client), range(at_once)))
        ids = {json.loads(one.text)["id"] for one in answers}
        assert len(ids) == 1
    with served(tmp_path) as live, ThreadPoolExecutor(at_once) as many:
        again = list(many.map(lambda _: sent_until_done(live, client), range(at_once)))
        assert {json.loads(one.text)["id"] for one in again} == ids
        assert all("token" not in json.loads(one.text) for one in again)
        headers = client.headers | {"Idempotency-Key": "same"}
        other = live.send("POST", "/v1/tokens", {**ISSUE, "holder": "other"}, headers)
        assert (other.status, json.loads(other.text)["code"]) == (422, "key-reused")
        assert len(list(listed(live, client.headers))) == 2


def sent_until_done(live: Live, client: Client) -> Any:
    """Send the same under the same key; while another is worked on, ask again as one is told."""
    for _ in range(100):
        headers = client.headers | {"Idempotency-Key": "same"}
        answer = live.send("POST", "/v1/tokens", ISSUE, headers)
        if answer.status != 409:
            assert answer.status == 201, answer.text
            return answer
    raise AssertionError


@tries("writes", 240, 20_000)
def test_no_writer_starves(tmp_path, measured, writes):
    """Promise 5: four writers, no 5xx, and none waits while the others write again and again."""
    order: list[int] = []
    with served(tmp_path) as live, ThreadPoolExecutor(WRITERS) as many:
        token = live.token

        def write(who: int) -> float:
            client, slowest_s = Client(token), 0.0
            while len(order) < writes:
                began = monotonic()
                assert client.write(live, new_key()["Idempotency-Key"]).status == 201
                order.append(who)
                slowest_s = max(slowest_s, monotonic() - began)
            return slowest_s

        slowest_s = max(many.map(write, range(WRITERS)))
    waited = longest_wait(order)
    measured(f"{len(order):,} writes, at most {waited} of others in a wait, {slowest_s:.2f} s")
    assert set(order) == set(range(WRITERS))
    assert waited <= MOST_WAITED
    check_store(tmp_path)
