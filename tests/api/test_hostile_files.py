"""Promise 11: files built to do harm are refused, and the service goes on as before."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from pathlib import Path
from typing import Any

import pytest

from api.calculations.scopes import WORKBOOK_TYPE, YAML_TYPE
from tests.api.live import Live, served
from tests.workbook.filled import CUT, filled
from tests.workbook.hostile import HOSTILE

pytestmark = pytest.mark.xdist_group("live")

HUGE = "20 MB"  # refused by its length, before it is sent
AT = "/v1/calculations/estimate-of-file"
GOOD = filled([["20", "010", "Permits", "permits", "valuation", "$310,000"]])
MOST_ROUNDS = 12
SETTLED_MB = 10.0
MOST_HELD_MB = 500.0
ALIASES = "a: &a [x, x]\n" + "".join(
    f"{chr(98 + n)}: &{chr(98 + n)} [{', '.join([f'*{chr(97 + n)}'] * 9)}]\n" for n in range(12)
)

HOSTILE_YAML: dict[str, bytes] = {
    "aliases of aliases": ALIASES.encode(),
    "an object of the program": b"!!python/object/apply:os.system [echo]",
    "brackets without end": b"[" * 100_000,
    "bytes of no text": b"\xff\xfe\x00project",
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(1000),
    "keys that stand twice": b"project: a\nproject: b\n",
    "nothing but a key": b"? ",
    "a number without end": b"project: " + b"9" * 900_000,
    "tabs": b"project:\t\t- a\n\t- b",
    "several documents": b"project: a\n---\nproject: b\n",
    "keys without end": b"".join(b"k%d: 1\n" % n for n in range(100_000)),
}


@pytest.fixture(scope="module")
def attacked(tmp_path_factory) -> Any:
    with served(tmp_path_factory.mktemp("attacked")) as live:
        for _ in range(12):  # so that all that it needs is loaded
            answer = sent(live, GOOD)
            assert answer.status == 200, answer.text
        yield live


def sent(live: Live, content: bytes, kind: str = WORKBOOK_TYPE) -> Any:
    return live.ask("POST", AT, content, Content_Type=kind)


def memory_mb(pid: int) -> float:
    """Return how much memory a process holds."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise AssertionError


def test_every_hostile_workbook_is_refused_and_the_service_goes_on(attacked):
    def refusals() -> dict[str, Any]:
        return {
            kind: sent(attacked, build()) for kind, (build, _) in HOSTILE.items() if kind != HUGE
        }

    held_mb, refused = [memory_mb(attacked.process.pid)], refusals()
    while len(held_mb) < MOST_ROUNDS:  # each thread has memory of its own, until all have read
        refusals()
        held_mb.append(memory_mb(attacked.process.pid))
        if held_mb[-1] - held_mb[-2] < SETTLED_MB:
            break
    else:
        pytest.fail(f"memory grows with each round: {held_mb}")
    assert held_mb[-1] < MOST_HELD_MB
    assert len(refused) >= 15
    for kind, answer in refused.items():
        told = json.loads(answer.text)
        assert 400 <= answer.status < 500, (kind, told)
        assert answer.headers["Content-Type"] == "application/problem+json", kind
        if told["code"] == "workbook-refused":
            assert HOSTILE[kind][1] in told["detail"], kind
    others = {kind: answer.status for kind, answer in refused.items() if answer.status != 422}
    assert others == {"an empty file": 400}
    assert attacked.process.poll() is None
    assert {sent(attacked, GOOD).status for _ in range(6)} == {200}


@pytest.mark.parametrize("kind", HOSTILE_YAML)
def test_every_hostile_yaml_file_is_refused(attacked, kind):
    answer = sent(attacked, HOSTILE_YAML[kind], YAML_TYPE)
    told = json.loads(answer.text)
    assert answer.status == 422, told
    assert told["errors"]
    assert attacked.process.poll() is None


@pytest.mark.parametrize(
    ("content", "kind", "status"),
    [
        (GOOD, YAML_TYPE, 422),
        (b"project: a", WORKBOOK_TYPE, 422),
        (GOOD, "application/zip", 415),
        (GOOD, "text/plain", 415),
        (GOOD, "multipart/form-data; boundary=x", 415),
        (b'{"scope": {}}', "application/json", 415),
    ],
)
def test_a_file_under_the_wrong_name_is_refused(attacked, content, kind, status):
    assert sent(attacked, content, kind).status == status


def test_a_file_that_is_too_long_is_refused_by_its_length(attacked):
    line = HTTPConnection("127.0.0.1", attacked.port, timeout=20)
    line.putrequest("POST", AT)
    line.putheader("Authorization", f"Bearer {attacked.token}")
    line.putheader("Content-Type", WORKBOOK_TYPE)
    line.putheader("Content-Length", str(len(HOSTILE[HUGE][0]())))
    line.endheaders()
    answer = line.getresponse()
    assert answer.status == 413
    line.close()


def test_many_hostile_files_at_once_leave_the_service_at_work(attacked):
    bomb = HOSTILE["a bomb with a forged size"][0]()
    costly = filled([CUT] * 3_000)
    with ThreadPoolExecutor(8) as many:
        statuses = list(many.map(lambda one: sent(attacked, one).status, [bomb, costly] * 3))
    assert set(statuses) == {422}
    assert attacked.process.poll() is None
