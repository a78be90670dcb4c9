"""Several worker processes, for PostgreSQL on Linux: the stock gunicorn, with our settings."""

from __future__ import annotations

from collections.abc import Callable
from socket import socket
from typing import Any

from flask import Flask
from gunicorn.app.base import BaseApplication

from api.settings import Settings

LONGEST_REQUEST_S = 60


class _Server(BaseApplication):  # type: ignore[misc]
    """Gunicorn, configured by our settings and nothing else."""

    def __init__(self, app: Flask, options: dict[str, Any]) -> None:
        self.app = app
        self.options = options
        super().__init__()

    def load_config(self) -> None:
        for name, value in self.options.items():
            self.cfg.set(name, value)

    def load(self) -> Flask:
        return self.app


def serve_by_several(
    app: Flask, settings: Settings, listener: socket, on_ready: Callable[[], None]
) -> None:
    """Serve an application by several processes, as `run_server` does by one.

    Connections of the application must be closed: each process opens its own.
    """
    options = {
        "bind": f"fd://{listener.detach()}",
        "workers": settings.workers,
        "threads": settings.threads,
        "worker_class": "gthread",
        "preload_app": True,
        "control_socket_disable": True,
        "forwarded_allow_ips": "",  # what proxies say is read by the application, as set
        "timeout": LONGEST_REQUEST_S,
        "loglevel": "warning",
        "proc_name": "groundsill",
        "when_ready": lambda _server: on_ready(),
    }
    _Server(app, options).run()
