"""Which role may use which route: a table a subject, from which tests generate who gets what.

A route that is in no table is refused to everybody, and fails the build.
"""

from __future__ import annotations

from collections.abc import Mapping

from api.contract.errors import NotAllowed
from api.store.models.access import BOOKKEEPER, CREW, LENDER, OWNER
from estimator.errors import fault

Roles = frozenset[str]
RouteRoles = Mapping[str, Roles]

OWNERS: Roles = frozenset({OWNER})
OWNERS_AND_BOOKKEEPERS: Roles = frozenset({OWNER, BOOKKEEPER})
OWNERS_AND_LENDERS: Roles = frozenset({OWNER, LENDER})
ALL_BUT_CREW: Roles = frozenset({OWNER, BOOKKEEPER, LENDER})  # what shows money
ALL_BUT_LENDERS: Roles = frozenset({OWNER, BOOKKEEPER, CREW})  # what the site logs and reads
EVERYBODY: Roles = ALL_BUT_CREW | ALL_BUT_LENDERS

# Routes that need no token of an account.
OPEN = frozenset(
    {
        "GET /",
        "GET /docs",
        "GET /docs/<name>",
        "GET /docs/reference.js",
        "GET /health/live",
        "GET /health/ready",
        "GET /metrics",  # which has a token of its own
        "GET /v1/openapi.json",
        "GET /v1/problems",
        "GET /v1/problems/<code>",
    }
)

ACCOUNT_ROLES: RouteRoles = {
    "GET /v1/account": EVERYBODY,
    "GET /v1/audit-trail": OWNERS,
    "GET /v1/tokens": OWNERS,
    "POST /v1/tokens": OWNERS,
    "GET /v1/tokens/<uuid:token_id>": OWNERS,
    "PATCH /v1/tokens/<uuid:token_id>": OWNERS,
    "POST /v1/tokens/<uuid:token_id>/revocation": OWNERS,
}


def check_role(allowed: Roles, role: str) -> None:
    """Refuse a role that the table does not list for a route.

    Raises
    ------
    NotAllowed
        Naming the roles that may.
    """
    if role not in allowed:
        may = f"this takes {' or '.join(sorted(allowed))}" if allowed else "no role may do this"
        raise fault(NotAllowed, f"the role of the token is {role}", may)
