"""Open books of the tests; all of it is invented."""

from __future__ import annotations

from typing import Any

from werkzeug.test import TestResponse

from tests.api.estimates.made import PITS, keep_project, path_of, priced
from tests.api.service import Service, new_key

STONE = {"code": "30.020", "kind": "material"}


def open_books(service: Service, scope: str = PITS) -> str:
    """Accept an estimate, of two items, as the budget, and return the path of the books."""
    project = keep_project(service, scope.encode())
    estimate = path_of(priced(service, project))
    assert service.post(f"{estimate}/acceptance", headers=new_key()).status_code == 201
    return f"{project}/books"


def posted(service: Service, books: str, path: str, **body: Any) -> TestResponse:
    """Post an entry of a day in February unless it says another."""
    sent = {"happened": "2026-02-12"} | body
    return service.post(f"{books}/{path}", sent, headers=new_key())


def cost(**more: Any) -> dict[str, Any]:
    """Return a bill over stone of $1,440.00 and $100.80 of tax."""
    return {
        "vendor": "Ridge Road Quarry", "document": "Q-1187", "net": "1440.00", "tax": "100.80",
        "splits": [STONE],
    } | more  # fmt: skip
