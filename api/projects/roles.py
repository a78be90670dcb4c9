"""Who may use which route of projects."""

from __future__ import annotations

from api.access.roles import ALL_BUT_CREW, EVERYBODY, OWNERS, OWNERS_AND_BOOKKEEPERS, RouteRoles

_PROJECTS = "/v1/projects"
_PROJECT = f"{_PROJECTS}/<uuid:project_id>"
_SETS = "/v1/rate-sets"
_SET = f"{_SETS}/<uuid:rate_set_id>"
_VERSION = f"{_SET}/versions/<uuid:version_id>"

ROLES: RouteRoles = {
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
    f"GET {_PROJECTS}": EVERYBODY,
    f"POST {_PROJECTS}": OWNERS,
    f"POST {_PROJECTS}/from-scope": OWNERS,
    f"GET {_PROJECT}": EVERYBODY,
    f"PATCH {_PROJECT}": OWNERS,
    f"DELETE {_PROJECT}": OWNERS,
    f"GET {_PROJECT}/scope": ALL_BUT_CREW,
    f"PUT {_PROJECT}/scope": OWNERS,
    f"GET {_PROJECT}/scope-file": ALL_BUT_CREW,
    f"PUT {_PROJECT}/scope-file": OWNERS,
    f"GET {_PROJECT}/scope-workbook": OWNERS_AND_BOOKKEEPERS,
    f"PUT {_PROJECT}/scope-workbook": OWNERS,
    f"GET {_PROJECT}/shares": OWNERS,
    f"POST {_PROJECT}/shares": OWNERS,
    f"GET {_PROJECT}/shares/<uuid:share_id>": OWNERS,
    f"DELETE {_PROJECT}/shares/<uuid:share_id>": OWNERS,
    f"GET {_PROJECT}/phases": ALL_BUT_CREW,
    f"POST {_PROJECT}/phases": OWNERS,
    f"PUT {_PROJECT}/phases/order": OWNERS,
    f"GET {_PROJECT}/phases/<uuid:phase_id>": ALL_BUT_CREW,
    f"PATCH {_PROJECT}/phases/<uuid:phase_id>": OWNERS,
    f"DELETE {_PROJECT}/phases/<uuid:phase_id>": OWNERS,
    f"PUT {_PROJECT}/phases/<uuid:phase_id>/items/order": OWNERS,
    f"GET {_PROJECT}/items": ALL_BUT_CREW,
    f"POST {_PROJECT}/items": OWNERS,
    f"POST {_PROJECT}/items/additions": OWNERS,
    f"POST {_PROJECT}/items/changes": OWNERS,
    f"GET {_PROJECT}/items/<uuid:item_id>": ALL_BUT_CREW,
    f"PATCH {_PROJECT}/items/<uuid:item_id>": OWNERS,
    f"DELETE {_PROJECT}/items/<uuid:item_id>": OWNERS,
}
