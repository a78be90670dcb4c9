"""`groundsill serve`: starts from nothing, tells how to get in, and outlives what is done to it."""

from __future__ import annotations

import json
import os
import signal
import socket
import stat
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from threading import Thread
from time import sleep

import pytest

from api.calculations import examples
from tests.api.live import Live, served
from tests.api.service import new_key

pytestmark = pytest.mark.xdist_group("live")

ISSUE = {"holder": "bank", "role": "lender"}


def stopped(folder, **options) -> tuple[int, str]:
    """Return how a service that cannot start ends, and what it says."""
    live = Live(folder, options)
    code = live.process.wait(30)
    return code, live.log.read_text()


def test_the_first_start_makes_all_that_is_needed_and_shows_the_token_once(tmp_path):
    with served(tmp_path, is_first=True) as live:
        shown = live.printed.read_text().splitlines()
        assert shown == [
            f"Groundsill is at {live.url}; see /docs for how to use it.",
            f"Owner's token, shown this once: {live.token}",
        ]
        token = live.token
        assert json.loads(live.ask("GET", "/v1/account").text)["role"] == "owner"
        mode = stat.S_IMODE((tmp_path / "data").stat().st_mode)
        assert mode == 0o700
    assert live.process.returncode == 0, live.log.read_text()
    with served(tmp_path) as again:
        assert len(again.printed.read_text().splitlines()) == 1
        headers = {"Authorization": f"Bearer {token}"}
        assert again.send("GET", "/v1/account", headers=headers).status == 200
    with served(tmp_path, "--new-owner-token") as further:
        assert further.token != token
        assert further.ask("GET", "/v1/account").status == 200


def test_an_unsafe_or_misspelt_setting_stops_the_start_with_a_sentence(tmp_path):
    code, told = stopped(tmp_path, GROUNDSILL_HOST="0.0.0.0", GROUNDSILL_PROT="1")  # noqa: S104
    assert code == 1
    assert "GROUNDSILL_HOST: '0.0.0.0' can be reached from outside" in told
    assert "GROUNDSILL_PROT: is not a setting; did you mean 'GROUNDSILL_PORT'?" in told
    assert "Traceback" not in told
    assert not (tmp_path / "data").exists()


def test_a_port_that_is_taken_stops_the_start_with_a_sentence(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        code, told = stopped(tmp_path, GROUNDSILL_PORT=port)
    assert code == 1
    assert f"http://127.0.0.1:{port} cannot be listened on: Address already in use" in told


def test_postgresql_is_served_once_it_was_brought_up_to_date(tmp_path, server):
    code, told = stopped(tmp_path, GROUNDSILL_DATABASE_URL=server.empty())
    assert code == 1
    assert "the database is empty; run 'groundsill database upgrade'" in told
    with served(tmp_path, GROUNDSILL_DATABASE_URL=server.migrated()) as live:
        assert live.ask("GET", "/v1/account").status == 200
        issued = live.ask("POST", "/v1/tokens", ISSUE, **new_header())
        assert issued.status == 201
        priced = live.ask("POST", "/v1/calculations/estimate", examples.ESTIMATE)
        assert priced.status == 200


def new_header() -> dict[str, str]:
    return {name.replace("-", "_"): key for name, key in new_key().items()}


def children(live: Live, count: int, but: int = 0) -> list[int]:
    """Return the worker processes of a service, once there are so many; `but` is none of them."""
    pid = live.process.pid
    listed = Path(f"/proc/{pid}/task/{pid}/children")
    for _ in range(400):
        found = [int(one) for one in listed.read_text().split() if int(one) != but]
        if len(found) == count:
            return found
        sleep(0.05)
    raise AssertionError(live.log.read_text())


def test_the_embedded_service_is_one_process(live):
    assert children(live, 0) == []


def test_several_processes_serve_postgresql_and_stop_together(tmp_path, server):
    options = {"GROUNDSILL_DATABASE_URL": server.migrated(), "GROUNDSILL_WORKERS": "2"}
    with served(tmp_path, **options) as live:
        first, second = children(live, 2)
        token = json.loads(live.ask("POST", "/v1/tokens", ISSUE, **new_header()).text)
        headers = {"Authorization": f"Bearer {token['token']}"}
        assert {live.send("GET", "/v1/account", headers=headers).status for _ in range(9)} == {200}
        live.ask("POST", f"/v1/tokens/{token['id']}/revocation", If_Match='"1"')
        assert {live.send("GET", "/v1/account", headers=headers).status for _ in range(9)} == {401}
        os.kill(first, signal.SIGKILL)
        assert second in children(live, 2, but=first)
        assert {live.ask("GET", "/v1/account").status for _ in range(10)} == {200}
    assert live.process.returncode == 0, live.log.read_text()


def many_items(count: int) -> str:
    """Return a scope that takes more than a moment to price."""
    work = "name: Fabric, assembly: geotextile, inputs: {area: 2950 sf}"
    items = "".join(f"      - {{code: '{n:03}', {work}}}\n" for n in range(count))
    return f"project: Barn\nphases:\n  - code: '20'\n    name: Pits\n    items:\n{items}"


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT], ids=str)
def test_a_request_that_has_begun_is_answered_before_the_service_stops(tmp_path, how):
    with served(tmp_path) as live:
        body = {"scope": many_items(900), "on": "2026-03-02"}
        answers = []
        asking = Thread(
            target=lambda: answers.append(live.ask("POST", "/v1/calculations/estimate", body))
        )
        asking.start()
        sleep(0.3)
        live.process.send_signal(how)
        asking.join()
        assert live.process.wait(20) == 0
    assert answers[0].status == 200, answers[0].text
    assert len(json.loads(answers[0].text)["lines"]) >= 900
    assert "Traceback" not in live.log.read_text()


def test_requests_of_a_token_are_counted(tmp_path):
    with served(tmp_path, GROUNDSILL_REQUESTS_PER_MINUTE="30") as live:
        with ThreadPoolExecutor(8) as many:
            codes = list(many.map(lambda _: live.ask("GET", "/v1/account").status, range(80)))
        assert set(codes) == {200, 429}
        assert codes.count(200) == 30


def raw(live: Live, sent: bytes) -> bytes:
    """Return what is answered to bytes as they are."""
    with socket.create_connection(("127.0.0.1", live.port), timeout=20) as line:
        line.sendall(sent)
        answer = b""
        with suppress(ConnectionResetError):
            while more := line.recv(65_536):
                answer += more
    return answer


def head(live: Live, *lines: str) -> bytes:
    shown = (
        "POST /v1/calculations/rental HTTP/1.1",
        "Host: groundsill",
        "Connection: close",
        f"Authorization: Bearer {live.token}",
        "Content-Type: application/json",
        *lines,
    )
    return ("\r\n".join(shown) + "\r\n\r\n").encode()


def test_a_body_in_pieces_is_put_together_and_not_cut(live):
    body = json.dumps(examples.RENTAL).encode()
    pieces = b"%x\r\n%s\r\n%x\r\n%s\r\n0\r\n\r\n" % (9, body[:9], len(body) - 9, body[9:])
    answer = raw(live, head(live, "Transfer-Encoding: chunked") + pieces)
    assert answer.startswith(b"HTTP/1.1 200 ")
    long = b"%x\r\n%s\r\n0\r\n\r\n" % (1_000_001, b" " * 1_000_001)
    answer = raw(live, head(live, "Transfer-Encoding: chunked") + long)
    assert answer.startswith(b"HTTP/1.1 413 ")
    assert b'"code": "body-too-large"' in answer


def test_a_short_answer_goes_out_in_one_piece(live):
    sent = b"GET /health/live HTTP/1.1\r\nHost: groundsill\r\n\r\n"
    with socket.create_connection(("127.0.0.1", live.port), timeout=20) as line:
        for _ in range(100):
            line.sendall(sent)
            assert line.recv(65_536).endswith(b"}")


def test_a_body_longer_than_any_limit_is_refused_before_it_is_read(live):
    answer = raw(live, head(live, "Content-Length: 50000000") + b"{")
    assert answer.startswith(b"HTTP/1.1 413 ")


@pytest.mark.parametrize("length", ["-1", "1e3", "0x10", "5, 6", "９"])
def test_a_length_that_is_no_number_is_refused(live, length):
    answer = raw(live, head(live, f"Content-Length: {length}") + b"{}")
    assert answer.startswith(b"HTTP/1.1 4")


def test_a_client_that_goes_away_in_the_middle_harms_nobody(live):
    for _ in range(12):
        with socket.create_connection(("127.0.0.1", live.port), timeout=20) as line:
            line.sendall(head(live, "Content-Length: 500") + b'{"days": ')
    assert live.ask("GET", "/v1/account").status == 200
    assert "Traceback" not in live.log.read_text()


def test_no_secret_and_nothing_that_was_typed_is_in_the_log(live):
    before = len(live.log.read_text())
    live.ask("POST", "/v1/tokens", {"holder": "typed-holder", "role": "x"}, **new_header())
    live.send("GET", "/v1/account", headers={"Authorization": "Bearer typed-token"})
    live.send("GET", "/v1/tokens?cursor=typed-cursor")
    live.send("GET", "/typed-path")
    live.ask("GET", "/v1/account")
    log = live.log.read_text()[before:]
    assert log.count('"request": ') >= 5
    assert live.token not in log
    assert "typed" not in log
