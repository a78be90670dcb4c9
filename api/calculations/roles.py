"""Who may use which route of calculations."""

from __future__ import annotations

from api.access.roles import ALL_BUT_CREW, RouteRoles

ROLES: RouteRoles = {
    "POST /v1/calculations/bonus": ALL_BUT_CREW,
    "POST /v1/calculations/comparison": ALL_BUT_CREW,
    "POST /v1/calculations/estimate": ALL_BUT_CREW,
    "POST /v1/calculations/estimate-of-file": ALL_BUT_CREW,
    "POST /v1/calculations/estimate-workbook": ALL_BUT_CREW,
    "POST /v1/calculations/labor": ALL_BUT_CREW,
    "POST /v1/calculations/loader": ALL_BUT_CREW,
    "POST /v1/calculations/machine": ALL_BUT_CREW,
    "POST /v1/calculations/overtime": ALL_BUT_CREW,
    "POST /v1/calculations/production": ALL_BUT_CREW,
    "POST /v1/calculations/reinforcing": ALL_BUT_CREW,
    "POST /v1/calculations/rental": ALL_BUT_CREW,
    "POST /v1/calculations/risk": ALL_BUT_CREW,
    "POST /v1/calculations/roller": ALL_BUT_CREW,
    "POST /v1/calculations/salary": ALL_BUT_CREW,
    "POST /v1/calculations/schedule": ALL_BUT_CREW,
    "POST /v1/calculations/schedule-file": ALL_BUT_CREW,
    "POST /v1/calculations/soil": ALL_BUT_CREW,
    "POST /v1/calculations/volumes": ALL_BUT_CREW,
}
