"""A project with open books and a loan; all of it is invented."""

from __future__ import annotations

from typing import Any

from tests.api.ledger.made import cost, open_books, posted
from tests.api.service import Service, new_key

LOAN: dict[str, Any] = {
    "lender": "Canal Street Bank", "commitment": "40000.00", "equity": "1000.00",
    "closed": "2026-02-01", "ends": "2027-02-01", "costs_from": "2026-01-15",
    "rates": [{"since": "2026-02-01", "percent": "8.75"}], "evidence": [], "waivers": "none",
    "lines": [
        {"line": "1", "name": "Fabric", "codes": ["30.010"]},
        {"line": "2", "name": "Stone", "codes": ["30"]},
        {"line": "3", "name": "Overhead", "kind": "soft", "codes": ["*"]},
        {"line": "4", "name": "Contingency", "kind": "contingency", "codes": ["contingency"]},
    ],
}  # fmt: skip


def lent(service: Service, **terms: Any) -> str:
    """Open books with a bill of $1,540.80 on stone, 12 ton in place, and a loan: its project."""
    books = open_books(service)
    project = books.removesuffix("/books")
    assert posted(service, books, "costs", **cost()).status_code == 201
    placed = {"code": "30.020", "in_place": "120", "unit": "ton"}
    assert posted(service, books, "progress", **placed).status_code == 201
    answer = sent(service, f"{project}/loan", LOAN | terms)
    assert answer.status_code == 201, answer.text
    return project


def sent(service: Service, path: str, body: Any = None, **options: Any) -> Any:
    return service.post(path, body, headers=new_key(), **options)


def submitted(service: Service, project: str, **said: Any) -> dict[str, Any]:
    """Open a draw through February, submit it, and return it as the service shows it."""
    opened = sent(service, f"{project}/draw-draft", {"through": "2026-02-28"} | said)
    assert opened.status_code == 201, opened.text
    answer = sent(service, f"{project}/draws")
    assert answer.status_code == 201, answer.text
    return answer.json


def settled(service: Service, project: str, draw: dict[str, Any], **funding: Any) -> dict[str, Any]:
    """Grant a draw whole and fund it."""
    at = f"{project}/draws/{draw['id']}"
    assert sent(service, f"{at}/decision", {}).status_code == 201
    answer = sent(service, f"{at}/funding", {"day": "2026-03-02"} | funding)
    assert answer.status_code == 201, answer.text
    return answer.json
