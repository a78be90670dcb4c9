"""Who may use which route of estimates."""

from __future__ import annotations

from api.access.roles import ALL, OWNERS, RouteRoles

_PROJECT = "/v1/projects/<uuid:project_id>"
_ESTIMATES = f"{_PROJECT}/estimates"
_ESTIMATE = f"{_ESTIMATES}/<uuid:estimate_id>"

ROLES: RouteRoles = {
    f"GET {_ESTIMATES}": ALL,
    f"POST {_ESTIMATES}": OWNERS,
    f"GET {_ESTIMATE}": ALL,
    f"GET {_ESTIMATE}/document": ALL,
    f"GET {_ESTIMATE}/workbook": ALL,
    f"POST {_ESTIMATE}/acceptance": OWNERS,
    f"GET {_PROJECT}/budget": ALL,
    f"GET {_ESTIMATE}/lines": ALL,
    f"GET {_ESTIMATE}/explanations": ALL,
    f"GET {_ESTIMATE}/difference": ALL,
    f"POST {_ESTIMATE}/comparisons": OWNERS,
    f"GET {_ESTIMATE}/comparisons": ALL,
    f"GET {_ESTIMATE}/comparisons/<uuid:study_id>": ALL,
    f"POST {_ESTIMATE}/schedule": ALL,
    f"POST {_ESTIMATE}/ranges": OWNERS,
    f"GET {_ESTIMATE}/ranges": ALL,
    f"GET {_ESTIMATE}/ranges/<uuid:study_id>": ALL,
}
