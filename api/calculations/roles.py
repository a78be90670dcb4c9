"""Who may use which route of calculations."""

from __future__ import annotations

from api.access.roles import ALL, RouteRoles

ROLES: RouteRoles = {
    "POST /v1/calculations/comparison": ALL,
    "POST /v1/calculations/estimate": ALL,
    "POST /v1/calculations/estimate-of-file": ALL,
    "POST /v1/calculations/estimate-workbook": ALL,
    "POST /v1/calculations/labor": ALL,
    "POST /v1/calculations/machine": ALL,
    "POST /v1/calculations/overtime": ALL,
    "POST /v1/calculations/production": ALL,
    "POST /v1/calculations/reinforcing": ALL,
    "POST /v1/calculations/rental": ALL,
    "POST /v1/calculations/risk": ALL,
    "POST /v1/calculations/schedule": ALL,
    "POST /v1/calculations/volumes": ALL,
}
