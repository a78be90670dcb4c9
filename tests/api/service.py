"""The service as the tests see it: one application on a store, a clock to turn, a token a role.

To build an application takes longer than most tests, so all share one, which is wired anew for each
service; a test that changes the application itself asks for one of its own.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from flask import Flask
from werkzeug.test import TestResponse

from api.access.roles import OPEN
from api.app import create_app, wire
from api.settings import read_settings
from api.store.accounts import issue_token, open_account
from api.store.caller import Caller
from api.store.store import Store
from api.subjects import ALLOWED
from tests.api.live import GENEROUS

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
ROLES = ("owner", "bookkeeper", "crew", "lender")
Account = tuple[Any, dict[str, str]]  # its id, and a token for each role
_KEYS = count()
_APPS: dict[int, Flask] = {}  # by the number of proxies in front


def new_key() -> dict[str, str]:
    """Return the header of a fresh idempotency key."""
    return {"Idempotency-Key": f"key-{next(_KEYS)}"}


@dataclass
class Clock:
    """A clock that stands until it is turned."""

    now: datetime = NOON

    def __call__(self) -> datetime:
        return self.now

    def turn(self, **by: float) -> None:
        self.now += timedelta(**by)


@dataclass
class Service:
    """An application with an account that has a token for each role."""

    store: Store
    folder: Path
    options: dict[str, str] = field(default_factory=dict)
    clock: Clock = field(default_factory=Clock)
    own: Account | None = None
    is_shared: bool = True

    def __post_init__(self) -> None:
        given = {"GROUNDSILL_DATA_FOLDER": str(self.folder), **GENEROUS, **self.options}
        self.settings = read_settings(given)
        apps, proxies = _APPS if self.is_shared else {}, self.settings.proxies
        if proxies not in apps:
            apps[proxies] = create_app(self.settings, self.store, self.clock)
        self._app = apps[proxies]
        wire(self._app, self.settings, self.store, self.clock)
        self._parts = dict(self._app.extensions)
        self.own = self.own or self.account("Rail & Kiln")
        self.account_id, self.tokens = self.own

    @property
    def app(self) -> Flask:
        """The application, wired for this service whatever others did with it since."""
        self._app.extensions.update(self._parts)
        return self._app

    def account(self, name: str) -> Account:
        """Open an account, and return its id and a token for each role."""
        caller = Caller(open_account(self.store, name, self.clock.now))
        tokens = {}
        with self.store.unit_of_work(caller, self.clock.now) as work:
            for role in ROLES:
                _, tokens[role] = issue_token(work, role, role, self.clock.now + timedelta(days=90))
            work.commit()
        return caller.account_id, tokens

    def send(
        self, method: str, path: str, body: Any = None, *, role: str = "owner",
        token: str | None = None, headers: dict[str, str] | None = None, **options: Any,
    ) -> TestResponse:  # fmt: skip
        """Send a request as somebody; without a token if role and token are empty."""
        shown = self.tokens[role] if token is None and role else token
        sent = {"Authorization": f"Bearer {shown}"} if shown else {}
        sent |= headers or {}
        if body is not None:
            options |= {"data": body if isinstance(body, bytes) else json.dumps(body)}
            sent.setdefault("Content-Type", "application/json")
        return self.app.test_client().open(path, method=method, headers=sent, **options)

    def get(self, path: str, **options: Any) -> TestResponse:
        return self.send("GET", path, **options)

    def post(self, path: str, body: Any = None, **options: Any) -> TestResponse:
        return self.send("POST", path, body, **options)

    def issue(self, **options: Any) -> TestResponse:
        """Issue a token."""
        body = {"holder": "bank", "role": "lender"} | options.pop("body", {})
        headers = new_key() | options.pop("headers", {})
        return self.post("/v1/tokens", body, headers=headers, **options)


def routes(app: Flask) -> list[str]:
    """Return every route of an application as the table of roles has it."""
    return [
        f"{method} {rule.rule}"
        for rule in app.url_map.iter_rules()
        for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"})
    ]


def guarded_routes(app: Flask) -> list[str]:
    """Return the routes that need a token of an account."""
    return [route for route in routes(app) if route not in OPEN]


def filled_path(route: str, value: str) -> tuple[str, str]:
    """Return method and path of a route, each parameter filled with a value."""
    method, path = route.split(" ", 1)
    parts = [value if part.startswith("<") else part for part in path.split("/")]
    return method, "/".join(parts)


KNOWN_ROUTES = sorted(ALLOWED)
