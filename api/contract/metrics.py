"""Figures of the service for a collector: requests by route and status, how long, who was refused.

Each process counts by itself.
"""

from __future__ import annotations

import hmac
from time import perf_counter

from flask import Blueprint, Flask, Response, abort, current_app, g, request
from prometheus_client import (
    CONTENT_TYPE_LATEST,
    CollectorRegistry,
    Counter,
    Histogram,
    generate_latest,
)

from api.contract.errors import NotSignedIn
from api.contract.services import services, this_request
from estimator.errors import fault

METRICS_PATH = "/metrics"
BUCKETS_S = (0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 10.0)

_NAME = "groundsill_metrics"
NO_ROUTE = "none"

metrics_routes = Blueprint("metrics", __name__)


class Metrics:
    """What is counted."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        self.requests = Counter(
            "groundsill_requests_total", "Requests that were answered.",
            ("method", "route", "status"), registry=self.registry,
        )  # fmt: skip
        self.seconds = Histogram(
            "groundsill_request_seconds", "Time to an answer.", ("route",),
            registry=self.registry, buckets=BUCKETS_S,
        )  # fmt: skip
        self._counted: dict[tuple[str, str, int], tuple[Counter, Histogram]] = {}

    def add(self, method: str, route: str, status: int, seconds: float) -> None:
        """Count a request."""
        counters = self._counted.get((method, route, status))
        if counters is None:
            counters = self.requests.labels(method, route, str(status)), self.seconds.labels(route)
            self._counted[method, route, status] = counters
        counters[0].inc()
        counters[1].observe(seconds)


def count_requests(app: Flask) -> None:
    """Give an application the route of its figures, once `start_metrics` is called."""
    app.register_blueprint(metrics_routes)


def start_metrics(app: Flask) -> None:
    """Begin to count at zero."""
    app.extensions[_NAME] = Metrics()


def begin() -> None:
    """Begin to measure a request."""
    g.began = perf_counter()


def count(answer: Response) -> Response:
    """Count an answer."""
    figures: Metrics = current_app.extensions[_NAME]
    here = this_request()
    rule = here.url_rule
    method, route = (here.method, rule.rule) if rule else (NO_ROUTE, NO_ROUTE)
    figures.add(method, route, answer.status_code, perf_counter() - g.began)
    return answer


@metrics_routes.get(METRICS_PATH)
def metrics() -> Response:
    """Return the figures to whoever shows the collector's token; there are none without one."""
    wanted = services().settings.metrics_token
    if not wanted:
        abort(404)
    shown = request.headers.get("Authorization", "").removeprefix("Bearer ")
    if not hmac.compare_digest(shown.encode(), wanted.encode()):
        raise fault(NotSignedIn, "the collector's token is needed", "send it as a bearer token")
    figures: Metrics = current_app.extensions[_NAME]
    return Response(generate_latest(figures.registry), content_type=CONTENT_TYPE_LATEST)
