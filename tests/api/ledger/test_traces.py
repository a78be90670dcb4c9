"""A figure walks back over HTTP: rows, documents, budget line, quantity, formula, rate, source."""

from __future__ import annotations

from tests.api.ledger.made import cost, open_books, posted


def test_a_code_walks_back_to_its_rows_and_to_the_working_of_its_budget(service):
    books = open_books(service)
    posted(service, books, "costs", **cost())
    posted(service, books, "payments", cost=1, amount="540.80", means="check")
    told = service.get(f"{books}/trace?code=30.020").json
    (row,) = told["rows"]
    assert (row["row"], row["what"], row["document"], row["billed"]) == (
        1, "bill", "Q-1187", "1540.80",
    )  # fmt: skip
    assert (row["paid"], row["payments"], told["incurred"]) == ("540.80", [2], "1540.80")
    report = service.get(f"{books}/tracking").json
    code = next(one for one in report["codes"] if one["code"] == "30.020")
    assert (told["budget"], told["baseline"]) == (code["budget"], code["baseline"])
    assert [one["item"] for one in told["lines"]] == ["30.020"] * len(told["lines"])
    steps = " ".join(step for one in told["lines"] for step in one["steps"])
    assert "resources.csv" in steps or "rate" in steps


def test_a_code_that_is_not_there_is_refused_with_the_nearest(service):
    books = open_books(service)
    answer = service.get(f"{books}/trace?code=30.02")
    assert answer.status_code == 422
    assert "there is no cost code '30.02'" in answer.text


def test_a_markup_has_no_lines(service):
    books = open_books(service)
    told = service.get(f"{books}/trace?code=contingency").json
    assert (told["rows"], told["lines"]) == ([], [])
    assert told["baseline_lines"] == told["baseline"]
