"""Sign-in: from the bearer token of a request to the caller, with role and limits.

A wrong token is counted against the address that sent it, and beyond the limit is answered without
telling whether it was wrong. A right token always passes: whoever shares an address with a
guesser is not locked out, and 256 random bits need no help against guessing.
"""

from __future__ import annotations

from datetime import datetime

from flask import Flask, current_app, g, request

from api.access.limits import Limits
from api.access.roles import OPEN, RouteRoles, check_role
from api.contract.errors import NotSignedIn, TooManyRequests
from api.contract.services import Services, services, this_request
from api.store.accounts import find_caller, token_digest
from api.store.caller import Caller
from api.store.errors import NotFound
from estimator.errors import InputFaulty, fault, how_many

_NAME = "groundsill_limits"
_ROLES = "groundsill_roles"
_SCHEME = "bearer"


def guard_routes(app: Flask, allowed: RouteRoles) -> None:
    """Say which roles may use which route; `sign_in` asks for them."""
    app.extensions[_ROLES] = allowed


def start_limits(app: Flask) -> None:
    """Begin with nobody's requests counted."""
    app.extensions[_NAME] = Limits()


def current_caller() -> Caller:
    """Return who sent the request in hand."""
    caller: Caller = g.caller
    return caller


def cursor_key() -> bytes:
    """Return what cursors of the request's token are signed with."""
    key: bytes = g.token_digest
    return key


def sign_in() -> None:
    """Find out who sent a request to a route that is not open, and refuse a role that may not.

    Raises
    ------
    NotSignedIn, TooManyRequests, NotAllowed
        As the token asks for.
    """
    here = this_request()
    if here.url_rule is None or here.method == "OPTIONS":
        return
    route = f"{'GET' if here.method == 'HEAD' else here.method} {here.url_rule.rule}"
    if route in OPEN:
        return
    parts = services()
    text, now = _shown_token(here.environ.get("HTTP_AUTHORIZATION", "")), parts.now
    try:
        caller = find_caller(parts.store, text, now)
    except NotFound as error:
        raise _refused(parts, error, now) from None
    g.caller, g.token_digest = caller, token_digest(text).encode()
    _count(f"token {caller.token_id}", parts.settings.requests_per_minute, "with this token", now)
    allowed: RouteRoles = current_app.extensions[_ROLES]
    check_role(allowed.get(route, frozenset()), caller.role)


def _shown_token(header: str) -> str:
    scheme, _, text = header.partition(" ")
    if scheme.lower() != _SCHEME or not text.strip():
        raise fault(NotSignedIn, "there is no token", "send 'Authorization: Bearer TOKEN'")
    return text.strip()


def _refused(parts: Services, error: NotFound, now: datetime) -> InputFaulty:
    most = parts.settings.failed_sign_ins_per_minute
    _count(f"address {request.remote_addr}", most, "with wrong tokens from this address", now)
    return NotSignedIn(error.faults)


def _count(key: str, per_minute: int, of: str, now: datetime) -> None:
    limits: Limits = current_app.extensions[_NAME]
    wait_s = limits.take(key, per_minute, now)
    if wait_s:
        raise TooManyRequests(f"more than {how_many(per_minute, 'request')} a minute {of}", wait_s)
