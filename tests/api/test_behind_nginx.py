"""The configuration of docs/operations.md: nginx keeps half-sent requests away from the service."""

from __future__ import annotations

import json
import re
import shutil
import socket
import ssl
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from http.client import HTTPSConnection
from pathlib import Path
from time import monotonic, sleep

import pytest

from tests.api.live import free_port, served

pytestmark = pytest.mark.xdist_group("live")

SHOWN = Path("docs/operations.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```nginx\n(.*?)^```", SHOWN, re.MULTILINE | re.DOTALL)
ABSENT = "nginx or openssl is not installed: apt-get install nginx-light openssl"
AROUND = """
pid {folder}/pid; error_log {folder}/error.log; daemon off; worker_processes 1;
events {{ worker_connections 256; }}
http {{
    access_log off;
    client_body_temp_path {folder}/body; proxy_temp_path {folder}/proxy;
    fastcgi_temp_path {folder}/f; uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;
{server}
}}
"""


def configuration(folder: Path, port: int, service_port: int) -> str:
    """Return the page's configuration with the names and ports of a test."""
    named = {"127.0.0.1:8765": f"127.0.0.1:{service_port}"}
    return around(folder, port, BLOCKS[0], named)


def of_many_hosts(folder: Path, port: int, service_ports: Sequence[int]) -> str:
    """Return the page's configuration for two hosts, put together as the page says."""
    server, before, instead = BLOCKS
    shown = "        proxy_pass http://127.0.0.1:8765;\n"
    assert server.count(shown) == 1
    server = server.replace(shown, instead)
    hosts = [f"127.0.0.1:{one}" for one in service_ports]
    named = dict(zip(("10.0.0.11:8765", "10.0.0.12:8765"), hosts, strict=True))
    return around(folder, port, before + server, named)


def around(folder: Path, port: int, server: str, named: Mapping[str, str]) -> str:
    of_files = {
        "listen 443 ssl": f"listen 127.0.0.1:{port} ssl",
        "/etc/ssl/certs/groundsill.pem": f"{folder}/pem",
        "/etc/ssl/private/groundsill.key": f"{folder}/key",
    }
    for shown, ours in (of_files | dict(named)).items():
        assert server.count(shown) == 1
        server = server.replace(shown, ours)
    return AROUND.format(folder=folder, server=server)


@pytest.fixture(scope="module")
def fronted(tmp_path_factory):
    """A service of one worker with two threads, and the port of the nginx before it."""
    folder, port = certified(tmp_path_factory.mktemp("nginx")), free_port()
    few = {"GROUNDSILL_WORKERS": "1", "GROUNDSILL_THREADS": "2", "GROUNDSILL_PROXIES": "1"}
    with ExitStack() as stack:
        live = stack.enter_context(served(folder, **few))
        stack.enter_context(proxy(folder, port, configuration(folder, port, live.port)))
        yield live, port


def certified(folder: Path) -> Path:
    """Return the folder, with a certificate in it."""
    openssl = shutil.which("openssl")
    if shutil.which("nginx") is None or openssl is None:
        pytest.skip(ABSENT)
    subprocess.run(
        [openssl, "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2",
         "-subj", "/CN=groundsill.example", "-keyout", folder / "key", "-out", folder / "pem"],
        check=True, capture_output=True,
    )  # fmt: skip
    return folder


@contextmanager
def proxy(folder: Path, port: int, configured: str) -> Iterator[None]:
    """Run nginx with a configuration until the `with` ends."""
    (folder / "conf").write_text(configured)
    program = [shutil.which("nginx"), "-c", folder / "conf", "-e", folder / "error.log"]
    running = subprocess.Popen(program)
    try:
        wait_for(port)
        yield
    finally:
        running.terminate()
        running.wait(30)


def wait_for(port: int) -> None:
    until = monotonic() + 20
    while monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port)).close()
        except OSError:
            sleep(0.05)
        else:
            return
    raise AssertionError(ABSENT)


def context() -> ssl.SSLContext:
    trusting = ssl.create_default_context()
    trusting.check_hostname, trusting.verify_mode = False, ssl.CERT_NONE
    return trusting


def asked(
    port: int, path: str, token: str, method: str = "GET", body: str | None = None, **headers: str
) -> tuple[int, dict[str, str], str]:
    connection = HTTPSConnection("127.0.0.1", port, timeout=20, context=context())
    sent = {name.replace("_", "-"): told for name, told in headers.items()}
    connection.request(method, path, body, {"Authorization": f"Bearer {token}", **sent})
    answer = connection.getresponse()
    body = answer.read().decode()
    connection.close()
    return answer.status, dict(answer.getheaders()), body


def in_a_row(port: int, token: str, times: int) -> list[tuple[int, dict[str, str], str]]:
    """Return the answers to the same read, sent again and again on one connection."""
    line, answers = HTTPSConnection("127.0.0.1", port, timeout=20, context=context()), []
    for _ in range(times):
        line.request("GET", "/v1/account", headers={"Authorization": f"Bearer {token}"})
        answer = line.getresponse()
        answers.append((answer.status, dict(answer.getheaders()), answer.read().decode()))
    line.close()
    return answers


def test_the_service_is_reached_through_tls_and_remembers_it(fronted):
    live, port = fronted
    status, headers, body = asked(port, "/v1/account", live.token)
    assert status == 200
    assert '"role": "owner"' in body
    assert headers["Strict-Transport-Security"] == "max-age=31536000"


def test_figures_are_not_reached_from_outside(fronted):
    live, port = fronted
    assert asked(port, "/metrics", live.token)[0] == 404


def problem_of(answer: tuple[int, dict[str, str], str], status: int, code: str) -> dict[str, str]:
    """Return the headers of a problem that the proxy answers with."""
    told, headers, body = answer
    assert (told, headers["Content-Type"]) == (status, "application/problem+json")
    assert (json.loads(body)["status"], json.loads(body)["code"]) == (status, code)
    return headers


def test_a_body_that_the_proxy_does_not_take_is_a_problem(fronted):
    live, port = fronted
    line = HTTPSConnection("127.0.0.1", port, timeout=20, context=context())
    line.putrequest("POST", "/v1/calculations/rental")
    line.putheader("Content-Length", str(11_000_000))
    line.endheaders()  # it is refused by its length, before any of it comes
    answer = line.getresponse()
    told = answer.status, dict(answer.getheaders()), answer.read().decode()
    line.close()
    problem_of(told, 413, "body-too-large")
    assert asked(port, "/v1/problems/body-too-large", live.token)[0] == 200


def test_more_at_a_time_than_an_address_may_send_is_a_problem(fronted):
    live, port = fronted
    half = b"POST /v1/tokens HTTP/1.1\r\nHost: x\r\nContent-Length: 500\r\n\r\n{"
    with ExitStack() as stack:
        for _ in range(40):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", port)))
            stack.enter_context(context().wrap_socket(line)).sendall(half)
        sleep(0.5)
        headers = problem_of(asked(port, "/v1/account", live.token), 429, "too-many-requests")
    assert headers["Retry-After"] == "1"


def test_a_service_that_is_down_is_a_problem(tmp_path):
    folder, port = certified(tmp_path), free_port()
    with proxy(folder, port, configuration(folder, port, free_port())):
        answer = asked(port, "/v1/account", "none")
    headers = problem_of(answer, 503, "service-unavailable")
    assert headers["Retry-After"] == "5"


def test_half_sent_requests_do_not_stop_the_service(fronted):
    live, port = fronted
    half = (
        "POST /v1/calculations/rental HTTP/1.1\r\nHost: groundsill.example\r\n"
        f"Authorization: Bearer {live.token}\r\nContent-Type: application/json\r\n"
        'Content-Length: 500\r\n\r\n{"days": '
    )
    with ExitStack() as stack:
        waiting = []
        for _ in range(16):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", port)))
            waiting.append(stack.enter_context(context().wrap_socket(line)))
            waiting[-1].sendall(half.encode())
        assert {asked(port, "/v1/account", live.token)[0] for _ in range(5)} == {200}
        for line in waiting:  # none was given up for the others to be answered
            line.setblocking(False)
            with pytest.raises(ssl.SSLWantReadError):
                line.recv(1)


def test_two_hosts_on_one_database_are_one_service_behind_the_proxy(tmp_path, server):
    url, folder, port = server.migrated(), certified(tmp_path), free_port()
    options = {"GROUNDSILL_DATABASE_URL": url, "GROUNDSILL_PROXIES": "1"}
    with ExitStack() as stack:
        hosts = [stack.enter_context(served(folder, **options)) for _ in range(2)]
        token = next(host.token for host in hosts if host.token)
        ports = [host.port for host in hosts]
        stack.enter_context(proxy(folder, port, of_many_hosts(folder, port, ports)))
        kind = {"Content_Type": "application/json", "Idempotency_Key": "k"}
        issue = '{"holder": "bank", "role": "lender"}'
        ids = set()
        for _ in range(6):
            status, headers, _ = asked(port, "/v1/tokens", token, "POST", issue, **kind)
            ids.add((status, headers["Location"]))
        assert len(ids) == 1
        cursor = json.loads(asked(port, "/v1/tokens?limit=1", token)[2])["next"]
        pages = {asked(port, f"/v1/tokens?limit=1&cursor={cursor}", token)[2] for _ in range(6)}
        assert len(pages) == 1
        assert all('"POST"' in host.log.read_text() for host in hosts)
        hosts[1].stop()
        assert {asked(port, "/v1/account", token)[0] for _ in range(6)} == {200}


def test_the_proxy_counts_for_all_hosts(tmp_path, server):
    url, folder, port = server.migrated(), certified(tmp_path), free_port()
    with served(folder, GROUNDSILL_DATABASE_URL=url, GROUNDSILL_PROXIES="1") as live:
        configured = of_many_hosts(folder, port, [live.port, free_port()])
        with proxy(folder, port, configured):
            with ThreadPoolExecutor(8) as clients:  # faster than the proxy lets through
                sent = [clients.submit(in_a_row, port, live.token, 60) for _ in range(8)]
            answers = [answer for one in sent for answer in one.result()]
    refused = [one for one in answers if one[0] == 429]
    assert {status for status, _, _ in answers} == {200, 429}
    assert len(answers) - len(refused) >= 100
    for _, headers, body in refused:
        assert headers["Content-Type"] == "application/problem+json"
        assert headers["Retry-After"] == "1"
        assert json.loads(body)["code"] == "too-many-requests"
