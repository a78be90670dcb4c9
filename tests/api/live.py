"""The service as a person starts it: `groundsill serve` in a process of its own."""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from functools import cache
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from tempfile import TemporaryDirectory
from time import monotonic, sleep
from typing import Any

from api.settings import DATABASE_FILE
from api.store.engine import make_engine, read_url
from api.store.migrations.steps import upgrade

STARTS_WITHIN_S = 30
GENEROUS = {
    "GROUNDSILL_REQUESTS_PER_MINUTE": "100000",
    "GROUNDSILL_FAILED_SIGN_INS_PER_MINUTE": "1000",
}


def migrate(url: str) -> None:
    """Bring a database up to the newest step."""
    engine = make_engine(read_url(url), 10)
    upgrade(engine)
    engine.dispose()


@cache
def migrated_file() -> bytes:
    """Return an SQLite file without a row, made once: the steps take longer than most tests."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / DATABASE_FILE
        migrate(f"sqlite:///{file}")
        return file.read_bytes()


def free_port() -> int:
    """Return a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Live:
    """A running service."""

    folder: Path
    options: dict[str, str] = field(default_factory=dict)
    port: int = field(default_factory=free_port)
    arguments: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        self.log = self.folder / f"log-{self.port}"
        self.printed = self.folder / f"printed-{self.port}"
        self.began = monotonic()
        with self.log.open("wb") as log, self.printed.open("wb") as printed:
            self.process = subprocess.Popen(
                [Path(sys.executable).parent / "groundsill", "serve", *self.arguments],
                stdout=printed, stderr=log, env=self.environment, start_new_session=True,
            )  # fmt: skip

    @property
    def environment(self) -> dict[str, str]:
        kept = {name: told for name, told in os.environ.items() if "GROUNDSILL_" not in name}
        return kept | {
            "GROUNDSILL_DATA_FOLDER": str(self.folder / "data"),
            "GROUNDSILL_PORT": str(self.port),
            **GENEROUS,
            **self.options,
        }

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def token(self) -> str:
        """The owner's token, as it was printed."""
        found = re.search(r"shown this once: (\S+)", self.printed.read_text())
        return found[1] if found else ""

    def wait(self) -> float:
        """Wait until the service is ready, and return how long it took [s]."""
        while monotonic() - self.began < STARTS_WITHIN_S:
            try:
                if self.send("GET", "/health/ready").status == 200:
                    return monotonic() - self.began
            except OSError:
                pass
            if self.process.poll() is not None:
                break
            sleep(0.01)
        raise AssertionError(self.log.read_text())

    def send(
        self, method: str, path: str, body: Any = None, headers: dict[str, str] | None = None
    ) -> HTTPResponse:
        """Send a request, with its answer read."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=60)
        sent = {"Content-Type": "application/json"} | (headers or {})
        content = body if body is None or isinstance(body, bytes) else json.dumps(body).encode()
        with closing(connection):  # also where the service is killed meanwhile
            connection.request(method, path, content, sent)
            answer = connection.getresponse()
            answer.text = answer.read().decode()
        return answer

    def ask(self, method: str, path: str, body: Any = None, **headers: str) -> HTTPResponse:
        """Send a request as the owner."""
        sent = {"Authorization": f"Bearer {self.token}"}
        sent |= {name.replace("_", "-"): told for name, told in headers.items()}
        return self.send(method, path, body, sent)

    def kill(self) -> None:
        """End all processes of the service at once, without a warning."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def stop(self, within_s: float = 30) -> int:
        """Ask the service to stop, and return its exit code."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        try:
            return self.process.wait(within_s)
        except subprocess.TimeoutExpired:
            self.kill()  # what hangs must not disturb the tests that follow
            raise


@contextmanager
def served(folder: Path, *arguments: str, is_first: bool = False, **options: str) -> Iterator[Live]:
    """Run the service until the `with` ends.

    Unless it is the very first start in its folder, it finds an up-to-date database there.
    """
    file = folder / "data" / DATABASE_FILE
    if not is_first and not file.exists():
        file.parent.mkdir(mode=0o700, exist_ok=True)
        file.touch(mode=0o600)
        file.write_bytes(migrated_file())
    live = Live(folder, options, arguments=arguments)
    try:
        live.wait()
        yield live
    finally:
        live.stop()
