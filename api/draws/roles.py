"""Who may use which route of the draws: the lender reads what is submitted, and decides on it."""

from __future__ import annotations

from api.access.roles import (
    ALL_BUT_CREW,
    OWNERS,
    OWNERS_AND_BOOKKEEPERS,
    OWNERS_AND_LENDERS,
    RouteRoles,
)

_PROJECT = "/v1/projects/<uuid:project_id>"
_DRAW = f"{_PROJECT}/draws/<uuid:draw_id>"

ROLES: RouteRoles = {
    "GET /v1/loan-presets": ALL_BUT_CREW,
    f"POST {_PROJECT}/loan": OWNERS,
    f"GET {_PROJECT}/loan": ALL_BUT_CREW,
    f"POST {_PROJECT}/loan/amendments": OWNERS,
    f"GET {_PROJECT}/loan/balance": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/loan/cash": OWNERS_AND_BOOKKEEPERS,
    f"POST {_PROJECT}/draw-draft": OWNERS,
    f"GET {_PROJECT}/draw-draft": OWNERS_AND_BOOKKEEPERS,
    f"DELETE {_PROJECT}/draw-draft": OWNERS,
    f"POST {_PROJECT}/draws": OWNERS,
    f"GET {_PROJECT}/draws": ALL_BUT_CREW,
    f"GET {_DRAW}": ALL_BUT_CREW,
    f"GET {_DRAW}/trace": OWNERS_AND_BOOKKEEPERS,
    f"GET {_DRAW}/workbook": ALL_BUT_CREW,
    f"GET {_DRAW}/pages.pdf": ALL_BUT_CREW,
    f"GET {_DRAW}/lines.csv": ALL_BUT_CREW,
    f"POST {_DRAW}/decision": OWNERS_AND_LENDERS,
    f"POST {_DRAW}/funding": OWNERS_AND_LENDERS,
    f"POST {_PROJECT}/waivers": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/waivers": OWNERS_AND_BOOKKEEPERS,
    f"POST {_PROJECT}/evidence": OWNERS_AND_BOOKKEEPERS,
    f"GET {_PROJECT}/evidence": OWNERS_AND_BOOKKEEPERS,
    f"POST {_PROJECT}/papers/<uuid:paper_id>/withdrawal": OWNERS_AND_BOOKKEEPERS,
}
