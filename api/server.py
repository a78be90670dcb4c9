"""The server that runs the service: one process with threads, wherever Python runs.

Several processes are for PostgreSQL on Linux only (`several_workers.py`).
"""

from __future__ import annotations

import logging
import os
import signal
import socket
from collections.abc import Callable, Iterable
from threading import Lock
from time import monotonic
from typing import TYPE_CHECKING, Any

from flask import Flask
from waitress import create_server, wasyncore

from api.settings import Settings, SettingsFaulty, variable
from api.store.engine import before_disk
from estimator.errors import fault

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

LONGEST_REQUEST_S = 60
LONGEST_WAIT_S = 0.02

_IN_ONE_PIECE_BYTES = 18_000

_LINE = "%(levelname)s %(name)s %(message)s"


def run_server(
    app: Flask, settings: Settings, listener: socket.socket, on_ready: Callable[[], None]
) -> None:
    """Serve an application until the process is told to stop, by SIGTERM or Ctrl-C.

    Requests that have begun are answered before it stops.

    Parameters
    ----------
    app : Flask
    settings : Settings
    listener : socket
        From `bound_socket`.
    on_ready : callable
        Called once the port is listened on.
    """
    logging.basicConfig(level=logging.WARNING, format=_LINE)
    logging.getLogger("groundsill").setLevel(logging.INFO)
    if settings.workers == 1:
        _serve(app, settings, listener, on_ready)
        return
    from api.several_workers import serve_by_several

    serve_by_several(app, settings, listener, on_ready)


def bound_socket(settings: Settings) -> socket.socket:
    """Return a socket on the address of the service, which nobody else may take from now on.

    Raises
    ------
    SettingsFaulty
        Naming the port, if something else listens there already.
    """
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    bound = socket.socket(family, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere it would let two services share the port
        bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        bound.bind((settings.host, settings.port))
    except OSError as error:
        bound.close()
        raise fault(
            SettingsFaulty,
            f"{address(settings)} cannot be listened on: {error.strerror}",
            f"stop what uses it, or set {variable('port')}",
        ) from error
    return bound


def address(settings: Settings) -> str:
    """Return where the service listens, as an URL."""
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    return f"http://{host}:{settings.port}"


def one_after_another(app: WSGIApplication) -> WSGIApplication:
    """Return an application that works on short requests one after the other.

    Threads side by side spend a quarter of a short request on handing the interpreter to each
    other. Nobody stands in line behind a long one for more than `LONGEST_WAIT_S`, and none behind
    one that waits for the disk.

    Parameters
    ----------
    app : WSGI application
    """
    working = Lock()

    def answer(environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        is_alone = working.acquire(timeout=LONGEST_WAIT_S)

        def let_next_begin() -> None:
            nonlocal is_alone
            if is_alone:
                is_alone = False
                working.release()

        before = before_disk.set(let_next_begin)
        try:
            return app(environ, start_response)
        finally:
            before_disk.reset(before)
            let_next_begin()

    return answer


def _serve(
    app: Flask, settings: Settings, listener: socket.socket, on_ready: Callable[[], None]
) -> None:
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # a short wait is no news
    server: Any = create_server(
        one_after_another(app) if settings.is_embedded else app,
        sockets=[listener],
        threads=settings.threads,
        ident=None,
        clear_untrusted_proxy_headers=False,  # what proxies say is read by the application
        max_request_body_size=2 * settings.largest_upload_bytes,  # the application says it better
    )
    # While a thread sends the head of an answer and then its body, the main thread would ask over
    # and over whether it may send too; what is short goes out in one piece, when all is there.
    server.adj.send_bytes = _IN_ONE_PIECE_BYTES
    is_stopping = False

    def stop(*_: object) -> None:
        nonlocal is_stopping
        is_stopping = True
        server.pull_trigger()

    for one in (signal.SIGINT, signal.SIGTERM):
        signal.signal(one, stop)
    on_ready()
    while not is_stopping:
        wasyncore.loop(timeout=1, map=server._map, count=1)
    _finish(server)


def _finish(server: Any) -> None:
    """Take no further connection, and answer what has begun."""
    wasyncore.dispatcher.close(server)
    until = monotonic() + LONGEST_REQUEST_S
    while monotonic() < until and any(
        one.requests or one.total_outbufs_len for one in list(server.active_channels.values())
    ):
        wasyncore.loop(timeout=0.1, map=server._map, count=1)
    server.task_dispatcher.shutdown()
