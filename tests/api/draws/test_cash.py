"""The balance of the loan and the course of the cash, over HTTP; the credit beside them."""

from __future__ import annotations

from tests.api.draws.made import lent, settled, submitted
from tests.api.ledger.made import open_books, posted


def test_the_balance_has_both_sides_line_by_line_and_says_what_is_missing(service):
    project = lent(service)
    shown = service.get(f"{project}/loan/balance?as_of=2026-03-02&contingency_percent=5").json
    lines = {one["name"]: one["P50"] for one in shown["lines"]}
    assert lines["Loan not drawn yet"] == "40000.00"
    assert lines["Equity not paid in yet"] == "1000.00"
    assert lines["Bills not paid"] == "1540.80"
    assert shown["sentence"].startswith("The loan is in balance: $")


def test_the_cash_goes_on_from_what_was_funded(embedded):
    project = lent(embedded)
    settled(embedded, project, submitted(embedded, project), day="2026-03-02")
    shown = embedded.get(f"{project}/loan/cash?as_of=2026-03-02&at=P80&own_cash=500.00").json
    assert shown["through"] > shown["as_of"]
    assert sum(float(one["equity"]) for one in shown["months"]) == 0.0
    assert shown["sentences"][0].startswith("The cash ")
    later = embedded.get(f"{project}/loan/cash?as_of=2026-03-02&days_to_pay=30&draw_days=monthly")
    assert float(later.json["peak"]["paid"]) <= float(shown["peak"]["paid"])


def test_a_project_without_a_loan_has_no_balance(embedded):
    project = open_books(embedded).removesuffix("/books")
    assert embedded.get(f"{project}/loan/balance").status_code == 404
    assert embedded.get(f"{project}/loan/cash?days_to_pay=400").status_code == 422


def test_the_credit_goes_by_the_answers_and_papers_of_the_books(embedded):
    project = lent(embedded)
    books = f"{project}/books"
    assert posted(embedded, books, "bases", amount="2000.00").status_code == 201
    paper = {"paper": "part 2", "state": "approved", "codes": ["30"]}
    assert posted(embedded, books, "approvals", **paper).status_code == 201
    shown = embedded.get(f"{books}/credit?in_service=2026-10-01").json
    assert (shown["by_answer"]["yes"], shown["credit"]) == ("1540.80", "308.16")
    assert shown["entries"][0]["missing"] == ["part 1", "photographs before"]
    said = {"cost": 1, "answer": "ask", "reason": "new work?", "decides": "adviser"}
    assert posted(embedded, books, "credit-answers", **said).status_code == 201
    assert embedded.get(f"{books}/credit?in_service=2026-10-01").json["credit"] == "0.00"
    wrong = posted(embedded, books, "approvals", **paper | {"state": "on file"})
    assert (wrong.status_code, wrong.json["errors"][0]["pointer"]) == (422, "#/state")
