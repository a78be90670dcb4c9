"""The server that runs the service: worker processes with threads, forked from one that is ready.

The application is made once, before the workers are, so that they share its memory and its limits;
each opens its own connections.
"""

from __future__ import annotations

import logging
import os
import shutil
import signal
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from flask import Flask
from gunicorn.app.base import BaseApplication
from gunicorn.arbiter import Arbiter

from api.settings import Settings, SettingsFaulty, variable
from api.store.store import Store
from api.worker import Worker
from estimator.errors import fault

FOLDER = "PROMETHEUS_MULTIPROC_DIR"
LONGEST_REQUEST_S = 60

_MEMORY_FOLDER = Path("/dev/shm")  # noqa: S108 (for heartbeats, which hold nothing)
_LINE = "%(levelname)s %(name)s %(message)s"


class _Server(BaseApplication):  # type: ignore[misc]
    """Gunicorn, told by our settings and by nothing else."""

    def __init__(self, app: Flask, options: dict[str, Any]) -> None:
        self.app = app
        self.options = options
        super().__init__()

    def load_config(self) -> None:
        for name, value in self.options.items():
            self.cfg.set(name, value)

    def load(self) -> Flask:
        return self.app

    def run(self) -> None:
        _Parent(self).run()


class _Parent(Arbiter):  # type: ignore[misc]
    """The process that forks the workers; none of them is too young to be told to stop."""

    def spawn_worker(self) -> Any:
        # Until a worker has handlers of its own it would take a signal with its parent's, to no
        # effect, and the stop would wait for it half a minute. It lets signals in once it has them.
        signal.pthread_sigmask(signal.SIG_BLOCK, Worker.SIGNALS)
        try:
            return super().spawn_worker()
        finally:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, Worker.SIGNALS)


def run_server(app: Flask, settings: Settings, store: Store, on_ready: Callable[[], None]) -> None:
    """Serve an application until the process is told to stop.

    Parameters
    ----------
    app : Flask
    settings : Settings
    store : Store
        What the application uses; each worker opens its connections anew.
    on_ready : callable
        Called once the port is listened on.
    """
    logging.basicConfig(level=logging.WARNING, format=_LINE)
    logging.getLogger("groundsill").setLevel(logging.INFO)
    store.close()
    _Server(app, _options(settings, store, on_ready)).run()


def check_port(settings: Settings) -> None:
    """Refuse to start where something else listens already.

    Raises
    ------
    SettingsFaulty
        Naming the port.
    """
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((settings.host, settings.port))
        except OSError as error:
            raise fault(
                SettingsFaulty,
                f"{address(settings)} cannot be listened on: {error.strerror}",
                f"stop what uses it, or set {variable('port')}",
            ) from error


def address(settings: Settings) -> str:
    """Return where the service listens, as an URL."""
    return f"http://{_bind(settings)}"


@contextmanager
def metrics_folder(settings: Settings) -> Iterator[None]:
    """Give the workers a folder to count in together, if anybody may read the figures.

    Must be opened before the library that counts is imported.
    """
    if not settings.metrics_token or FOLDER in os.environ:
        yield
        return
    folder, starter = mkdtemp(prefix="groundsill-metrics-"), os.getpid()
    os.environ[FOLDER] = folder
    try:
        yield
    finally:
        if os.getpid() == starter:  # workers leave through here as well
            shutil.rmtree(folder, ignore_errors=True)


def _bind(settings: Settings) -> str:
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    return f"{host}:{settings.port}"


def _options(settings: Settings, store: Store, on_ready: Callable[[], None]) -> dict[str, Any]:
    options: dict[str, Any] = {
        "bind": _bind(settings),
        "workers": settings.workers,
        "threads": settings.threads,
        "worker_class": Worker,
        "preload_app": True,
        "control_socket_disable": True,
        "forwarded_allow_ips": "",  # what proxies say is read by the application, as set
        "timeout": LONGEST_REQUEST_S,
        "loglevel": "warning",
        "proc_name": "groundsill",
        "when_ready": lambda _server: on_ready(),
        "post_fork": lambda _server, _worker: store.close(),
        "child_exit": _forget_worker,
    }
    if _MEMORY_FOLDER.is_dir():
        options["worker_tmp_dir"] = str(_MEMORY_FOLDER)
    return options


def _forget_worker(_server: object, worker: Any) -> None:
    if FOLDER in os.environ:
        from prometheus_client.multiprocess import mark_process_dead

        with suppress(OSError):
            mark_process_dead(worker.pid)  # type: ignore[no-untyped-call]
