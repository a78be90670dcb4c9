"""Who may use which route of rate tables, quotes and look-ups."""

from __future__ import annotations

from api.access.roles import OWNERS, OWNERS_AND_BOOKKEEPERS, RouteRoles

_PROJECT = "/v1/projects/<uuid:project_id>"
_SETS = "/v1/rate-sets"
_SET = f"{_SETS}/<uuid:rate_set_id>"
_VERSION = f"{_SET}/versions/<uuid:version_id>"

ROLES: RouteRoles = {
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
    f"GET {_PROJECT}/quotes": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/quotes/tables": OWNERS_AND_BOOKKEEPERS,
    f"PUT {_PROJECT}/quotes/tables": OWNERS,
    f"POST {_PROJECT}/quotes": OWNERS,
    f"POST {_PROJECT}/quotes/changes": OWNERS,
    f"GET {_PROJECT}/quotes/<uuid:quote_id>": OWNERS_AND_BOOKKEEPERS,
    f"PATCH {_PROJECT}/quotes/<uuid:quote_id>": OWNERS,
    f"DELETE {_PROJECT}/quotes/<uuid:quote_id>": OWNERS,
    "GET /v1/resources": OWNERS_AND_BOOKKEEPERS,
    "GET /v1/search": OWNERS_AND_BOOKKEEPERS,
}
