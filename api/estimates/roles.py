"""Who may use which route of estimates."""

from __future__ import annotations

from api.access.roles import ALL_BUT_CREW, OWNERS, RouteRoles

_PROJECT = "/v1/projects/<uuid:project_id>"
_ESTIMATES = f"{_PROJECT}/estimates"
_ESTIMATE = f"{_ESTIMATES}/<uuid:estimate_id>"

ROLES: RouteRoles = {
    f"GET {_ESTIMATES}": ALL_BUT_CREW,
    f"POST {_ESTIMATES}": OWNERS,
    f"GET {_ESTIMATE}": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/document": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/workbook": ALL_BUT_CREW,
    f"POST {_ESTIMATE}/acceptance": OWNERS,
    f"GET {_PROJECT}/budget": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/lines": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/explanations": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/difference": ALL_BUT_CREW,
    f"POST {_ESTIMATE}/comparisons": OWNERS,
    f"GET {_ESTIMATE}/comparisons": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/comparisons/<uuid:study_id>": ALL_BUT_CREW,
    f"POST {_ESTIMATE}/schedule": ALL_BUT_CREW,
    f"POST {_ESTIMATE}/schedule-file": ALL_BUT_CREW,
    f"POST {_ESTIMATE}/ranges": OWNERS,
    f"GET {_ESTIMATE}/ranges": ALL_BUT_CREW,
    f"GET {_ESTIMATE}/ranges/<uuid:study_id>": ALL_BUT_CREW,
}
