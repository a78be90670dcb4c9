"""Who may use which route of the books; a crew logs the work of shared projects, without money."""

from __future__ import annotations

from api.access.roles import ALL_BUT_LENDERS, OWNERS, OWNERS_AND_BOOKKEEPERS, RouteRoles

_DOCUMENTS = "/v1/projects/<uuid:project_id>/documents"
_BOOKS = "/v1/projects/<uuid:project_id>/books"
_OF_SITE = ("hours", "tickets", "progress", "machine-hours", "readings", "days")
_OF_OFFICE = (
    "costs", "payments", "receipts", "orders", "holds", "hold-results", "stock", "rents", "points",
    "plans", "weeks", "call-offs", "banks", "bank-rules", "bank-previews", "bank-imports",
    "credit-answers", "approvals", "bases",
)  # fmt: skip

ROLES: RouteRoles = {
    **{f"POST {_BOOKS}/{path}": ALL_BUT_LENDERS for path in _OF_SITE},
    **{f"POST {_BOOKS}/{path}": OWNERS_AND_BOOKKEEPERS for path in _OF_OFFICE},
    f"POST {_BOOKS}/changes": OWNERS,
    f"POST {_BOOKS}/alternates": OWNERS,
    f"POST {_BOOKS}/payroll-terms": OWNERS,
    f"POST {_BOOKS}/entries/<uuid:entry_id>/reversal": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/entries": ALL_BUT_LENDERS,
    f"GET {_BOOKS}/entries/<uuid:entry_id>": ALL_BUT_LENDERS,
    f"GET {_BOOKS}/tracking": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/quantities": ALL_BUT_LENDERS,
    f"GET {_BOOKS}/day-sheet": ALL_BUT_LENDERS,
    f"GET {_BOOKS}/points": ALL_BUT_LENDERS,
    f"GET {_BOOKS}/points/chart": ALL_BUT_LENDERS,
    f"GET {_BOOKS}/outlook": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/trace": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/workbook": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/credit": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/learned-rates": OWNERS,
    f"GET {_BOOKS}/rows": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/rows.csv": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/months": OWNERS_AND_BOOKKEEPERS,
    f"GET {_BOOKS}/calendar": OWNERS_AND_BOOKKEEPERS,
    f"POST {_DOCUMENTS}": ALL_BUT_LENDERS,
    f"GET {_DOCUMENTS}": ALL_BUT_LENDERS,
    f"GET {_DOCUMENTS}/<uuid:document_id>": ALL_BUT_LENDERS,
    f"GET {_DOCUMENTS}/<uuid:document_id>/content": ALL_BUT_LENDERS,
    f"POST {_BOOKS}/import-previews": OWNERS_AND_BOOKKEEPERS,
    f"POST {_BOOKS}/imports": OWNERS_AND_BOOKKEEPERS,
}
