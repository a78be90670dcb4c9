"""The service, wired together in one place: settings, store and clock in, an application out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from flask import Flask, Response
from werkzeug.middleware.proxy_fix import ProxyFix

from api.access.sign_in import guard_routes, sign_in, start_limits
from api.contract.answers import finished, safely
from api.contract.blueprint import check_query
from api.contract.bodies import check_body
from api.contract.metrics import begin, count, count_requests, start_metrics
from api.contract.open_routes import open_routes, serve_specification
from api.contract.problems import register_problems
from api.contract.request_log import log_request
from api.contract.services import Clock, Services, register_services
from api.settings import Settings
from api.store.store import Store
from api.subjects import ALLOWED, blueprints

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIEnvironment


class _Service(Flask):
    """An application without coroutines, whose answers have the safe headers."""

    def wsgi_app(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Answer a request."""
        return super().wsgi_app(environ, safely(environ, start_response))

    def ensure_sync(self, func: Callable[..., Any]) -> Callable[..., Any]:
        """Return a view or hook as it is: none waits, and to look takes longer than most do."""
        return func


def utc_now() -> datetime:
    """Return the time now, in UTC."""
    return datetime.now(UTC)


def create_app(settings: Settings, store: Store, clock: Clock = utc_now) -> Flask:
    """Return the service as an application.

    Parameters
    ----------
    settings : Settings
        From `read_settings`.
    store : Store
        From `open_store`; who opens it closes it.
    clock : callable
        Returns the time now, in UTC.
    """
    app = _Service(__name__, static_folder=None)
    app.url_map.merge_slashes = False
    wire(app, settings, store, clock)
    register_problems(app)
    count_requests(app)
    guard_routes(app, ALLOWED)
    app.before_request(_begin)
    app.after_request(_finish)
    app.register_blueprint(open_routes)
    subjects = blueprints()
    for subject in subjects:
        app.register_blueprint(subject)
    serve_specification(app, subjects)
    if settings.proxies:
        app.wsgi_app = ProxyFix(  # type: ignore[method-assign]
            app.wsgi_app, x_for=settings.proxies, x_proto=settings.proxies
        )
    return app


def wire(app: Flask, settings: Settings, store: Store, clock: Clock) -> None:
    """Give an application its settings, store and clock, with nothing counted yet."""
    register_services(app, Services(settings, store, clock))
    start_metrics(app)
    start_limits(app)


def _begin() -> None:
    begin()
    sign_in()
    check_body()
    check_query()


def _finish(answer: Response) -> Response:
    return log_request(count(finished(answer)))
