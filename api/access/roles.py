"""Which role may use which route: one table, from which a test generates who gets what answer.

A route that is not in the table is refused to everybody, and fails the build.
"""

from __future__ import annotations

from collections.abc import Mapping

from api.contract.errors import NotAllowed
from api.store.models.access import BOOKKEEPER, LENDER, OWNER
from estimator.errors import fault

Roles = frozenset[str]

OWNERS: Roles = frozenset({OWNER})
OWNERS_AND_BOOKKEEPERS: Roles = frozenset({OWNER, BOOKKEEPER})
ALL: Roles = frozenset({OWNER, BOOKKEEPER, LENDER})

# Routes that need no token of an account.
OPEN = frozenset(
    {
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


_PROJECTS = "/v1/projects"
_PROJECT = f"{_PROJECTS}/<uuid:project_id>"

_SETS = "/v1/rate-sets"
_SET = f"{_SETS}/<uuid:rate_set_id>"
_VERSION = f"{_SET}/versions/<uuid:version_id>"

ALLOWED: Mapping[str, Roles] = {
    "GET /v1/account": ALL,
    "GET /v1/tokens": OWNERS,
    "POST /v1/tokens": OWNERS,
    "GET /v1/tokens/<uuid:token_id>": OWNERS,
    "PATCH /v1/tokens/<uuid:token_id>": OWNERS,
    "POST /v1/tokens/<uuid:token_id>/revocation": OWNERS,
    "POST /v1/calculations/comparison": ALL,
    "POST /v1/calculations/estimate": ALL,
    "POST /v1/calculations/estimate-of-file": ALL,
    "POST /v1/calculations/estimate-workbook": ALL,
    "POST /v1/calculations/overtime": ALL,
    "POST /v1/calculations/production": ALL,
    "POST /v1/calculations/reinforcing": ALL,
    "POST /v1/calculations/rental": ALL,
    "POST /v1/calculations/risk": ALL,
    "POST /v1/calculations/volumes": ALL,
    "GET /v1/assemblies": OWNERS_AND_BOOKKEEPERS,
    "GET /v1/assemblies/<code>": OWNERS_AND_BOOKKEEPERS,
    f"GET {_SET}/assemblies/<code>/versions": OWNERS_AND_BOOKKEEPERS,
    f"GET {_SETS}": OWNERS_AND_BOOKKEEPERS,
    f"POST {_SETS}": OWNERS,
    f"GET {_SET}": OWNERS_AND_BOOKKEEPERS,
    f"PATCH {_SET}": OWNERS,
    f"DELETE {_SET}": OWNERS,
    f"GET {_SET}/versions": OWNERS_AND_BOOKKEEPERS,
    f"POST {_SET}/versions": OWNERS,
    f"GET {_VERSION}": OWNERS_AND_BOOKKEEPERS,
    f"PATCH {_VERSION}": OWNERS,
    f"DELETE {_VERSION}": OWNERS,
    f"GET {_VERSION}/tables": OWNERS_AND_BOOKKEEPERS,
    f"PUT {_VERSION}/tables": OWNERS,
    f"GET {_VERSION}/workbook": OWNERS_AND_BOOKKEEPERS,
    f"PUT {_VERSION}/workbook": OWNERS,
    f"POST {_VERSION}/publication": OWNERS,
    f"GET {_VERSION}/difference": OWNERS_AND_BOOKKEEPERS,
    f"GET {_VERSION}/rows": OWNERS_AND_BOOKKEEPERS,
    f"POST {_VERSION}/rows": OWNERS,
    f"POST {_VERSION}/rows/changes": OWNERS,
    f"GET {_VERSION}/rows/<uuid:row_id>": OWNERS_AND_BOOKKEEPERS,
    f"PATCH {_VERSION}/rows/<uuid:row_id>": OWNERS,
    f"DELETE {_VERSION}/rows/<uuid:row_id>": OWNERS,
    f"GET {_PROJECT}/quotes": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/quotes/tables": OWNERS_AND_BOOKKEEPERS,
    f"PUT {_PROJECT}/quotes/tables": OWNERS,
    f"POST {_PROJECT}/quotes": OWNERS,
    f"POST {_PROJECT}/quotes/changes": OWNERS,
    f"GET {_PROJECT}/quotes/<uuid:quote_id>": OWNERS_AND_BOOKKEEPERS,
    f"PATCH {_PROJECT}/quotes/<uuid:quote_id>": OWNERS,
    f"DELETE {_PROJECT}/quotes/<uuid:quote_id>": OWNERS,
    "GET /v1/resources": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/estimates": ALL,
    f"POST {_PROJECT}/estimates": OWNERS,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/document": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/workbook": ALL,
    f"POST {_PROJECT}/estimates/<uuid:estimate_id>/acceptance": OWNERS,
    f"GET {_PROJECT}/budget": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/lines": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/explanations": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/difference": ALL,
    f"POST {_PROJECT}/estimates/<uuid:estimate_id>/comparisons": OWNERS,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/comparisons": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/comparisons/<uuid:study_id>": ALL,
    f"POST {_PROJECT}/estimates/<uuid:estimate_id>/ranges": OWNERS,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/ranges": ALL,
    f"GET {_PROJECT}/estimates/<uuid:estimate_id>/ranges/<uuid:study_id>": ALL,
    f"GET {_PROJECTS}": ALL,
    f"POST {_PROJECTS}": OWNERS,
    f"POST {_PROJECTS}/from-scope": OWNERS,
    f"GET {_PROJECT}": ALL,
    f"PATCH {_PROJECT}": OWNERS,
    f"DELETE {_PROJECT}": OWNERS,
    f"GET {_PROJECT}/scope": ALL,
    f"PUT {_PROJECT}/scope": OWNERS,
    f"GET {_PROJECT}/scope-file": ALL,
    f"GET {_PROJECT}/scope-workbook": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/shares": OWNERS,
    f"POST {_PROJECT}/shares": OWNERS,
    f"GET {_PROJECT}/shares/<uuid:share_id>": OWNERS,
    f"DELETE {_PROJECT}/shares/<uuid:share_id>": OWNERS,
    f"GET {_PROJECT}/phases": ALL,
    f"POST {_PROJECT}/phases": OWNERS,
    f"PUT {_PROJECT}/phases/order": OWNERS,
    f"GET {_PROJECT}/phases/<uuid:phase_id>": ALL,
    f"PATCH {_PROJECT}/phases/<uuid:phase_id>": OWNERS,
    f"DELETE {_PROJECT}/phases/<uuid:phase_id>": OWNERS,
    f"PUT {_PROJECT}/phases/<uuid:phase_id>/items/order": OWNERS,
    f"GET {_PROJECT}/items": ALL,
    f"POST {_PROJECT}/items": OWNERS,
    f"POST {_PROJECT}/items/additions": OWNERS,
    f"POST {_PROJECT}/items/changes": OWNERS,
    f"GET {_PROJECT}/items/<uuid:item_id>": ALL,
    f"PATCH {_PROJECT}/items/<uuid:item_id>": OWNERS,
    f"DELETE {_PROJECT}/items/<uuid:item_id>": OWNERS,
}


def check_role(route: str, role: str) -> None:
    """Refuse a role that the table does not list for a route.

    Raises
    ------
    NotAllowed
        Naming the roles that may.
    """
    allowed = ALLOWED.get(route, frozenset())
    if role not in allowed:
        may = " or ".join(sorted(allowed)) or "nobody"
        raise fault(NotAllowed, f"the token is that of a {role}", f"this is for the {may}")
