"""Changes over HTTP and by command: their states, what they may say, how they are spread."""

from __future__ import annotations

import json

import pytest

from estimator.opening import SAMPLE_SCOPE
from tests.api.estimates.made import keep_project, path_of, priced
from tests.api.ledger.made import STONE, open_books, posted
from tests.api.service import new_key
from tests.api.world import ROUND
from tests.commands.running import groundsill

PART = STONE | {"amount": "432.00"}


@pytest.fixture
def books(service):
    return open_books(service)


def budget(service, books):
    return float(service.get(f"{books}/tracking").json["project"]["budget"])


def test_a_change_is_in_the_budget_once_it_is_approved(service, books):
    before = budget(service, books)
    first = posted(service, books, "changes", number="CO-1", state="draft", reason="soft ground",
                   parts=[PART])  # fmt: skip
    assert first.status_code == 201, first.text
    posted(service, books, "changes", number="CO-1", state="submitted")
    assert budget(service, books) == before
    (waits,) = service.get(f"{books}/outlook").json["to_decide"]
    assert (waits["amount"], waits["sentence"][:40]) == (
        "432.00", "change CO-1 is submitted and waits for a",
    )  # fmt: skip
    posted(service, books, "changes", number="CO-1", state="approved")
    assert budget(service, books) == before + 432
    again = posted(service, books, "changes", number="CO-1", state="rejected")
    assert "is approved already, in row 3; post a new change" in again.text


def test_a_change_that_is_rejected_stays_out(service, books):
    before = budget(service, books)
    posted(service, books, "changes", number="CO-1", state="draft", reason="x", parts=[PART])
    posted(service, books, "changes", number="CO-1", state="rejected")
    assert budget(service, books) == before
    assert service.get(f"{books}/outlook").json["to_decide"] == []


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ({"state": "draft", "reason": "x", "parts": [PART]}, "the state is draft; give it"),
        ({"parts": [PART]}, "say why the budget changes"),
        ({"reason": "x"}, "name a cost code and an amount"),
        ({"reason": "x", "parts": [PART | {"rate": "24.00", "quantity": "18"}]}, "an amount and a"),
        ({"reason": "x", "parts": [STONE | {"rate": "24.00"}]}, "a rate without a quantity"),
    ],
)
def test_what_a_change_lacks_is_said(service, books, body, said):
    answer = posted(service, books, "changes", **body)
    assert answer.status_code == 422
    assert said in answer.text


def test_a_quantity_at_a_rate_is_a_sum(service, books):
    part = STONE | {"rate": "24.00", "quantity": "18"}
    answer = posted(service, books, "changes", reason="18 tons more", parts=[part])
    assert answer.json["amount"] == "432.00"


def test_how_a_sum_is_spread_and_what_the_contingency_lacks_is_noted(service, books):
    parts = [{"code": "30.020", "amount": "100.00"},
             {"code": "contingency", "amount": "-9000000.00"}]  # fmt: skip
    notes = posted(service, books, "changes", reason="more of it", parts=parts).json["notes"]
    assert notes[0].startswith("30.020 is spread like its baseline: labor $")
    assert notes[1].startswith("it draws $9,000,000.00 from a contingency of $")


def test_a_code_that_a_change_made_is_spread_like_its_budget(service, books):
    new = [{"code": "30.900", "kind": kind, "amount": "60.00"} for kind in ("labor", "material")]
    posted(service, books, "changes", reason="a sump", parts=new)
    more = [{"code": "30.900", "amount": "50.00"}]
    notes = posted(service, books, "changes", reason="a deeper one", parts=more).json["notes"]
    assert notes == ["30.900 is spread like its budget: labor $25.00, material $25.00"]


def test_an_alternate_is_taken_by_one_command_and_once(tmp_path, monkeypatch):
    """Granite setts: what the estimate says that alternate A2 adds, $24,520.60, is the change."""
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
    assert groundsill("books", "open", SAMPLE_SCOPE).exit_code == 0
    ran = groundsill("books", "alternate", "A2", "--happened", "2026-05-04")
    assert ran.out.splitlines()[0] == "Row 1 is posted: change of 2026-05-04, $24,520.60"
    job = json.loads(groundsill("track", "--as-of", "2026-05-04", "--json").out)["project"]
    assert job["changes"] == "24520.60"
    assert (
        "'alternate A2' is approved already, in row 1" in groundsill("books", "alternate", "A2").err
    )
    assert "has no alternate 'A9'" in groundsill("books", "alternate", "A9").err


def test_an_alternate_is_taken_over_http_and_once(service):
    """$400.00, 6 % overhead $24.00, insurance $193.99 less $188.91, 12 % contingency $50.88."""
    project = keep_project(service, ROUND.encode())
    estimate = path_of(priced(service, project))
    assert service.post(f"{estimate}/acceptance", headers=new_key()).status_code == 201
    books = f"{project}/books"
    taken = posted(service, books, "alternates", alternate="A1")
    assert (taken.status_code, taken.json["amount"]) == (201, "479.96")
    assert "50.020" in [one["code"] for one in taken.json["row"]["parts"]]
    for code, what in (("A1", "is approved already, in row 1"), ("A9", "has no alternate 'A9'")):
        refused = posted(service, books, "alternates", alternate=code)
        (fault,) = refused.json["errors"]
        assert what in fault["what"]
        assert refused.status_code == 422
    assert fault["pointer"] == "#/alternate"
