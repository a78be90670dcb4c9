"""Promise 18, with things broken under the running service: problems, and nothing of the inside."""

from __future__ import annotations

import json
import re
import resource
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic, sleep

import pytest

from api.subjects import ALLOWED
from tests.api.live import Live, migrate, served
from tests.api.service import filled_path, new_key
from tests.api.store.postgres import ABSENT, Server, server_programs
from tests.api.test_serve import raw

pytestmark = pytest.mark.xdist_group("live")

INSIDE = re.compile(
    r"Traceback|File \"|sqlite|psycopg|sqlalchemy|SELECT |INSERT |UPDATE |PRAGMA|site-packages|"
    r"\.py\b|/tmp|/dev/shm|/proc|/home|groundsill_\w|relation \"|no such table|malformed|"
    r"not a database",
    re.IGNORECASE,
)
ISSUE = {"holder": "bank", "role": "lender"}
SECRET = "secret-" + "s3cr3t" * 6
ID = "00000000-0000-4000-8000-000000000000"


def told(answer, *statuses: int) -> dict:
    """Return the problem that an answer is, after looking for what it must not tell."""
    assert not INSIDE.search(answer.text), answer.text
    assert answer.headers["Content-Type"] == "application/problem+json", answer.text
    problem = json.loads(answer.text)
    assert answer.status == problem["status"]
    assert answer.status in statuses, problem
    assert re.fullmatch("[0-9a-f]{32}", problem["request_id"])
    return problem


def asked(live: Live) -> list:
    """Return answers to a read and to a change."""
    key = {name.replace("-", "_"): value for name, value in new_key().items()}
    return [live.ask("GET", "/v1/tokens"), live.ask("POST", "/v1/tokens", ISSUE, **key)]


def overwrite(file: Path) -> None:
    """Put garbage in the place of the database and of its log."""
    for one in file.parent.glob(f"{file.name}*"):
        if not one.name.endswith(".turns"):
            one.write_bytes(b"no database " * 4_000)


def remove_folder(file: Path) -> None:
    shutil.rmtree(file.parent)


def drop_a_table(file: Path) -> None:
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("DROP TABLE audit_ends")
        connection.execute("DROP TABLE tokens")
    connection.close()


def replace_by_another(file: Path) -> None:
    """Put a database of something else in its place."""
    for one in file.parent.glob(f"{file.name}*"):
        one.unlink()
    with sqlite3.connect(file) as connection:
        connection.execute("CREATE TABLE accounts (something INTEGER)")
    connection.close()


@pytest.mark.parametrize("break_it", [overwrite, remove_folder, drop_a_table, replace_by_another])
def test_a_database_that_is_broken_under_the_service_gives_problems(tmp_path, break_it):
    with served(tmp_path) as live:
        assert [one.status for one in asked(live)] == [200, 201]
        break_it(tmp_path / "data" / "groundsill.sqlite3")
        for _ in range(4):
            for answer in asked(live):
                # A file that is gone is still there for those who have it open.
                if break_it not in (remove_folder, replace_by_another) or answer.status >= 400:
                    told(answer, 401, 500, 503)
        if break_it is drop_a_table:
            assert {told(one, 503)["code"] for one in asked(live)} == {"store-unfit"}
        ready = live.send("GET", "/health/ready")
        assert not INSIDE.search(ready.text)
        assert live.send("GET", "/health/live").status == 200
        assert live.process.poll() is None
        assert live.token not in live.log.read_text()


def test_a_disk_that_takes_no_more_gives_a_problem_and_loses_nothing(tmp_path):
    with served(tmp_path) as live:
        pid, none = live.process.pid, (resource.RLIM_INFINITY,) * 2
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (1, none[1]))
        read, changed = asked(live)
        assert read.status == 200
        told(changed, 503, 500)
        resource.prlimit(pid, resource.RLIMIT_FSIZE, none)
        assert [one.status for one in asked(live)] == [200, 201]


@pytest.fixture
def own_server() -> Iterator[Server]:
    """A PostgreSQL server of this test's own, to be stopped."""
    programs = server_programs()
    if programs is None:
        pytest.skip(ABSENT)
    server = Server(programs)
    server.start()
    migrate(server.make_template())
    yield server
    server.stop()


def test_postgresql_that_stops_under_the_service_gives_503_until_it_is_back(tmp_path, own_server):
    with served(tmp_path, GROUNDSILL_DATABASE_URL=own_server.migrated()) as live:
        assert [one.status for one in asked(live)] == [200, 201]
        own_server.halt()
        for _ in range(3):
            for answer in asked(live):
                told(answer, 503)
                assert int(answer.headers["Retry-After"]) >= 1
        assert live.send("GET", "/health/ready").status == 503
        own_server.resume()
        assert waited(lambda: [one.status for one in asked(live)] == [200, 201])
        log = live.log.read_text()
        assert live.token not in log


def waited(is_so: Callable[[], bool], seconds: float = 20.0) -> bool:
    """Return whether something comes true in time."""
    until = monotonic() + seconds
    while monotonic() < until:
        if is_so():
            return True
        sleep(0.2)
    return False


BAD_PATHS = (
    "/..%2f..%2fetc/passwd", "/%00", "/v1/%ff%fe", "/v1//tokens", "/docs/..%2fserver.py",
    "/v1/tokens?cursor=%ff", "/v1/tokens?limit=9e99",
    "/v1/tokens?nothing=1", "/v1/tokens/1", f"/v1/tokens/{ID}", "/v1/tokens/" + "9" * 3_000,
    "/v1/problems/nothing", "/v1/tokens?cursor=" + "x" * 3_000, "/favicon.ico", "/admin",
)  # fmt: skip
BAD_BODIES = (
    b"", b"{", b"[]", b"null", b'{"a": NaN}', b'{"a": 1e400}', b'{"a": 1, "a": 2}', b"[" * 100_000,
    b'{"holder": "\\ud800", "role": "owner"}', b"\xff\xfe", b'"' + b"x" * 900_000 + b'"',
    b'{"__proto__": {}, "holder": {"$ne": 1}, "role": "\' OR 1=1 --"}',
)  # fmt: skip
BAD_HEADERS = (
    {"Authorization": "Bearer"}, {"Authorization": f"Basic {SECRET}"},
    {"Authorization": f"Bearer {SECRET}"}, {"Authorization": f"Bearer {SECRET}\xfc"},
    {"If-Match": "*"}, {"If-Match": '"x"'}, {"Idempotency-Key": "\xfc"},
    {"Idempotency-Key": "k" * 3_000}, {"Content-Type": "text/html; charset=\xfc"},
    {"Content-Encoding": "gzip"}, {"X-Request-Id": "'; DROP TABLE tokens; --"},
    {"X-HTTP-Method-Override": "DELETE"}, {"Range": "bytes=0-1,5-"}, {"Accept": "\xff"},
)  # fmt: skip


def test_nothing_that_is_sent_to_any_route_shows_the_inside(live):
    with_key = {"If-Match": '"1"', "Idempotency-Key": "k"}
    for route in sorted(ALLOWED):
        method, path = filled_path(route, ID)
        for body in (b"{", b'{"a": NaN}', b"[" * 50_000, b"{}", b'{"on": "2026-02-30"}'):
            sent = {"Authorization": f"Bearer {live.token}", **with_key}
            answer = live.send(method, path, None if method == "GET" else body, sent)
            assert answer.status < 500, (route, answer.text)
            if answer.status >= 400:
                told(answer, answer.status)


@pytest.mark.parametrize("path", BAD_PATHS)
def test_no_path_shows_the_inside(live, path):
    answer = live.ask("GET", path)
    told(answer, 400, 404, 414, 422)


@pytest.mark.parametrize("body", BAD_BODIES, ids=lambda body: str(body[:20]))
def test_no_body_shows_the_inside(live, body):
    told(live.ask("POST", "/v1/tokens", body, Idempotency_Key="k"), 400, 411, 422)


@pytest.mark.parametrize("headers", BAD_HEADERS, ids=str)
def test_no_header_shows_the_inside(live, headers):
    sent = {"Authorization": f"Bearer {live.token}", "Idempotency-Key": "k"} | headers
    answer = live.send("POST", f"/v1/tokens/{ID}/revocation", b"{}", sent)
    told(answer, 400, 401, 404, 415, 422, 428, 429)
    assert SECRET not in live.log.read_text()


@pytest.mark.parametrize(
    "sent",
    [
        f"Bearer {SECRET}\r\n\r\n".encode(),
        f"GET /{SECRET} HTTP/1.1\r\nAuthorization : Bearer {SECRET}\r\n\r\n".encode(),
        b"GET / HTTP/1.1\r\nX: " + b"a" * 300_000 + b"\r\n\r\n",
        b"POST /v1/tokens HTTP/1.1\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n",
        b"POST /v1/tokens HTTP/1.1\r\nContent-Length: -1\r\n\r\n",
        b"POST /v1/tokens HTTP/1.1\r\nTransfer-Encoding: nothing\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\r\n\r\n",
    ],
    ids=lambda sent: str(sent[:30]),
)
def test_what_is_no_request_is_refused_by_the_server_and_stands_in_no_log(live, sent):
    answer = raw(live, sent)
    assert re.match(rb"HTTP/1\.[01] (4\d\d|501) ", answer), answer
    assert b"Traceback" not in answer
    assert live.ask("GET", "/v1/account").status == 200
    for text in (SECRET, "Traceback"):
        assert text not in live.log.read_text()
