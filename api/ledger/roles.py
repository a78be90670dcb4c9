"""Who may use which route of the books: they are the owner's and the bookkeeper's own."""

from __future__ import annotations

from api.access.roles import OWNERS, OWNERS_AND_BOOKKEEPERS, RouteRoles

_BOOKS = "/v1/projects/<uuid:project_id>/books"
_PATHS = (
    "costs", "payments", "receipts", "tickets", "orders", "hours", "progress", "holds",
    "hold-results", "stock", "rents", "points", "readings", "plans",
    "days", "weeks", "call-offs", "machine-hours", "banks", "bank-rules",
    "bank-previews", "bank-imports",
)  # fmt: skip

ROLES: RouteRoles = {
    **{f"POST {_BOOKS}/{path}": OWNERS_AND_BOOKKEEPERS for path in _PATHS},
    f"POST {_BOOKS}/changes": OWNERS,
    f"POST {_BOOKS}/payroll-terms": OWNERS,
    f"POST {_BOOKS}/entries/<uuid:entry_id>/reversal": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/entries": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/entries/<uuid:entry_id>": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/tracking": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/day-sheet": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/outlook": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/trace": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/workbook": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/learned-rates": OWNERS,
    f"POST {_BOOKS}/import-previews": OWNERS_AND_BOOKKEEPERS,
    f"POST {_BOOKS}/imports": OWNERS_AND_BOOKKEEPERS,
}
