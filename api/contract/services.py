"""What a request finds wired together: settings, store and clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from flask import Flask, Request, current_app, request

from api.settings import Settings
from api.store.store import Store

_NAME = "groundsill"

Clock = Callable[[], datetime]


@dataclass(frozen=True)
class Services:
    """The parts of the service, made once.

    Parameters
    ----------
    settings : Settings
    store : Store
    clock : callable
        Returns the time now, in UTC.
    """

    settings: Settings
    store: Store
    clock: Clock

    @property
    def now(self) -> datetime:
        """The time now, in UTC."""
        return self.clock()


def register_services(app: Flask, services: Services) -> None:
    """Make the parts known to the requests of an application."""
    app.extensions[_NAME] = services


def this_request() -> Request:
    """Return the request in hand itself, for code that asks it more than once or twice."""
    current: Request = request._get_current_object()  # type: ignore[attr-defined]
    return current


def services() -> Services:
    """Return the parts that the request in hand may use."""
    current: Services = current_app.extensions[_NAME]
    return current
