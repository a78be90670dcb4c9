"""The configuration of docs/operations.md: nginx keeps half-sent requests away from the service."""

from __future__ import annotations

import re
import shutil
import socket
import ssl
import subprocess
from contextlib import ExitStack
from http.client import HTTPSConnection
from pathlib import Path
from time import monotonic, sleep

import pytest

from tests.api.live import free_port, served

SHOWN = Path("docs/operations.md").read_text(encoding="utf-8")
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
    server = re.search(r"^```nginx\n(.*?)^```", SHOWN, re.MULTILINE | re.DOTALL)[1]
    for shown, ours in (
        ("listen 443 ssl", f"listen 127.0.0.1:{port} ssl"),
        ("/etc/ssl/certs/groundsill.pem", f"{folder}/pem"),
        ("/etc/ssl/private/groundsill.key", f"{folder}/key"),
        ("127.0.0.1:8765", f"127.0.0.1:{service_port}"),
    ):
        assert server.count(shown) == 1
        server = server.replace(shown, ours)
    return AROUND.format(folder=folder, server=server)


@pytest.fixture(scope="module")
def fronted(tmp_path_factory):
    """A service of one worker with two threads, and the port of the nginx before it."""
    nginx, openssl = shutil.which("nginx"), shutil.which("openssl")
    if nginx is None or openssl is None:
        pytest.skip(ABSENT)
    folder, port = tmp_path_factory.mktemp("nginx"), free_port()
    subprocess.run(
        [openssl, "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2",
         "-subj", "/CN=groundsill.example", "-keyout", folder / "key", "-out", folder / "pem"],
        check=True, capture_output=True,
    )  # fmt: skip
    few = {"GROUNDSILL_WORKERS": "1", "GROUNDSILL_THREADS": "2", "GROUNDSILL_PROXIES": "1"}
    with served(folder, **few) as live:
        (folder / "conf").write_text(configuration(folder, port, live.port))
        proxy = subprocess.Popen([nginx, "-c", folder / "conf", "-e", folder / "error.log"])
        wait_for(port)
        yield live, port
        proxy.terminate()
        proxy.wait(30)


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


def asked(port: int, path: str, token: str) -> tuple[int, dict[str, str], str]:
    connection = HTTPSConnection("127.0.0.1", port, timeout=20, context=context())
    connection.request("GET", path, headers={"Authorization": f"Bearer {token}"})
    answer = connection.getresponse()
    body = answer.read().decode()
    connection.close()
    return answer.status, dict(answer.getheaders()), body


def test_the_service_is_reached_through_tls_and_remembers_it(fronted):
    live, port = fronted
    status, headers, body = asked(port, "/v1/account", live.token)
    assert status == 200
    assert '"role": "owner"' in body
    assert headers["Strict-Transport-Security"] == "max-age=31536000"


def test_figures_are_not_reached_from_outside(fronted):
    live, port = fronted
    assert asked(port, "/metrics", live.token)[0] == 404


def test_half_sent_requests_do_not_stop_the_service(fronted):
    live, port = fronted
    half = (
        "POST /v1/calculations/rental HTTP/1.1\r\nHost: groundsill.example\r\n"
        f"Authorization: Bearer {live.token}\r\nContent-Type: application/json\r\n"
        'Content-Length: 500\r\n\r\n{"days": '
    )
    with ExitStack() as stack:
        for _ in range(16):
            line = stack.enter_context(socket.create_connection(("127.0.0.1", port)))
            secured = stack.enter_context(context().wrap_socket(line))
            secured.sendall(half.encode())
        began = monotonic()
        assert {asked(port, "/v1/account", live.token)[0] for _ in range(5)} == {200}
        assert monotonic() - began < 10
