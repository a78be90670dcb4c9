"""How fast the service answers, beside bare Flask routes under the same server in the same run.

    pytest tests/benchmarks/test_service_speed.py --benchmark-enable -n 0

Both run on loopback under the same server with four threads, and are asked over four connections
that stay open, one and the other in turns. The figure is the share of the bare route's rate, to
which the same requests are sent and which reads their JSON, but does nothing with it; of seven
rounds the median counts. Reading the summary of a stored estimate, with its token looked up, is to
keep 30 %, pricing 40 items 3 %, and posting an entry of the books, written through to the disk with
its key and audit row in one commit, 12 %. And what a person waits for who starts the service: 1.5
seconds to its first answer.
"""

from __future__ import annotations

import json
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import partial
from statistics import median
from threading import Thread
from time import monotonic, perf_counter, sleep
from typing import Any
from uuid import uuid4

import pytest

from tests.api.live import Live, free_port

CONNECTIONS = 4
LEAST_READING, LEAST_PRICING, LEAST_POSTING = 0.30, 0.03, 0.12
MOST_SECONDS_TO_START = 1.5
_ROUNDS, _BARE_TIMES = 7, 200
WORK = (
    ("geotextile", "area: 2,950 sf"),
    ("slab-break-out", "area: 480 sf, thickness: 5 in"),
    ("masonry-break-out", "length: 21 ft, height: 5 ft 8 in, thickness: 12.5 in"),
    ("stone-fill-skid-steer", "length: 62 ft 6 in, width: 22 ft, depth: [2 ft, 6 ft 3 in]"),
    ("plank-floor-wreck", 'area: "1,640 sq ft", thickness: 3 in'),
)


def forty_items() -> str:
    """Return a scope of forty items by five assemblies."""
    items = "".join(
        f'      - code: "{n:03d}"\n        name: Work {n}\n        assembly: {assembly}\n'
        f"        inputs: {{{inputs.replace('2,950', '2950')}}}\n"
        for n, (assembly, inputs) in enumerate(WORK * 8, start=1)
    )
    return (
        "project: Barn\non: 2026-03-02\n"
        f'phases:\n  - code: "20"\n    name: Pits\n    items:\n{items}'
    )


def request(method: str, path: str, body: bytes = b"", token: str = "", key: str = "") -> bytes:
    """Return a request as it goes over the line."""
    lines = [f"{method} {path} HTTP/1.1", "Host: localhost", f"Content-Length: {len(body)}"]
    lines += ["Content-Type: application/json"] if body else []
    lines += [f"Authorization: Bearer {token}"] if token else []
    lines += [f"Idempotency-Key: {key}"] if key else []
    return ("\r\n".join(lines) + "\r\n\r\n").encode() + body


def ask(line: socket.socket, sent: bytes) -> bytes:
    """Return the head of the answer, once all of it has come."""
    line.sendall(sent)
    answer = b""
    while b"\r\n\r\n" not in answer:
        answer += line.recv(65_536)
    head, _, body = answer.partition(b"\r\n\r\n")
    left = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0]) - len(body)
    while left > 0:
        left -= len(line.recv(min(left, 262_144)))
    return head


def sent_often(port: int, requests: Callable[[], bytes], times: int) -> None:
    """Send requests, so many over each connection."""

    def run() -> None:
        with socket.create_connection(("127.0.0.1", port)) as line:
            for _ in range(times):
                assert ask(line, requests()).split(maxsplit=2)[1] in (b"200", b"201")

    threads = [Thread(target=run) for _ in range(CONNECTIONS)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    options = {"GROUNDSILL_THREADS": str(CONNECTIONS)}
    live = Live(tmp_path_factory.mktemp("speed"), options)
    live.wait()
    yield live
    live.stop()


@pytest.fixture(scope="module")
def bare_port() -> Iterator[int]:
    port = free_port()
    command = [
        sys.executable, "-m", "waitress", f"--listen=127.0.0.1:{port}",
        f"--threads={CONNECTIONS}", "tests.benchmarks.bare_service:app",
    ]  # fmt: skip
    process = subprocess.Popen(command)
    until = monotonic() + 30
    while monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port)).close()
            break
        except OSError:
            sleep(0.02)
    yield port
    process.terminate()
    process.wait()


def compared(
    benchmark: Any,
    port: int,
    requests: Callable[[], bytes],
    times: int,
    bare_port: int,
    bare_requests: Callable[[], bytes],
    least: float,
) -> None:
    """Check the rate of ours against that of the bare route; both in turns, as machines vary."""
    bare: list[float] = []

    def send_to_bare() -> None:
        began = perf_counter()
        sent_often(bare_port, bare_requests, _BARE_TIMES)
        bare.append(CONNECTIONS * _BARE_TIMES / (perf_counter() - began))

    sent_often(port, requests, 2)  # what is loaded late is loaded now
    setup = send_to_bare if benchmark.enabled else None
    benchmark.pedantic(sent_often, (port, requests, times), setup=setup, rounds=_ROUNDS)
    if benchmark.enabled:
        rate, bare_rate = CONNECTIONS * times / benchmark.stats.stats.median, median(bare)
        share = rate / bare_rate
        benchmark.extra_info.update(per_second=rate, bare_per_second=bare_rate, share=share)
        assert share >= least


def stored_estimate(live: Live, key: str = "") -> str:
    """Return the path of an estimate of forty items that is kept."""
    project = live.ask(
        "POST", "/v1/projects/from-scope", {"scope": forty_items()}, Idempotency_Key=f"project{key}"
    )
    path = f"{project.headers['Location']}/estimates"
    estimate = live.ask("POST", path, {}, Idempotency_Key=f"estimate{key}")
    return str(estimate.headers["Location"])


def test_reading_a_summary_keeps_a_part_of_the_rate_of_a_bare_route(benchmark, ours, bare_port):
    sent = request("GET", stored_estimate(ours), token=ours.token)
    bare = request("GET", "/", token=ours.token)
    compared(benchmark, ours.port, lambda: sent, 250, bare_port, lambda: bare, LEAST_READING)


def test_pricing_forty_items_keeps_a_part_of_the_rate_of_a_bare_route(benchmark, ours, bare_port):
    body = json.dumps({"scope": forty_items()}).encode()
    sent = request("POST", "/v1/calculations/estimate", body, ours.token)
    bare = request("POST", "/", body, ours.token)
    compared(benchmark, ours.port, lambda: sent, 10, bare_port, lambda: bare, LEAST_PRICING)


def test_the_first_answer_comes_soon_after_the_start(benchmark, tmp_path):
    started = []

    def start() -> None:
        folder = tmp_path / str(len(started))
        folder.mkdir()
        started.append(Live(folder))
        started[-1].wait()

    benchmark.pedantic(start, rounds=3)
    for one in started:
        one.stop()
    if benchmark.enabled:
        assert benchmark.stats.stats.min < MOST_SECONDS_TO_START


def test_posting_an_entry_keeps_a_part_of_the_rate_of_a_bare_route(benchmark, ours, bare_port):
    estimate = stored_estimate(ours, "books")
    accepted = ours.ask("POST", f"{estimate}/acceptance", Idempotency_Key="accepted")
    assert accepted.status == 201
    path = f"{estimate.split('/estimates/')[0]}/books/costs"
    new = partial(bill, ours.token)
    compared(
        benchmark, ours.port, partial(new, path), 100, bare_port, partial(new, "/"), LEAST_POSTING
    )


def bill(token: str, path: str) -> bytes:
    """Return the request that posts a bill unlike any other, with a key of its own."""
    number = uuid4().hex
    body = {
        "happened": "2026-02-12", "vendor": "Quarry", "document": number,
        "net": f"{int(number[:6], 16) + 1}.00",
        "splits": [{"code": "20.001", "kind": "material"}],
    }  # fmt: skip
    return request("POST", path, json.dumps(body).encode(), token, number)
