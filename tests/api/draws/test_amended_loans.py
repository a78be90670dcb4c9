"""What the lender agrees to later, a preset, and a paper that was entered wrongly."""

from __future__ import annotations

from api.store.verify import verify
from tests.api.draws.made import LOAN, lent, sent, settled, submitted
from tests.api.ledger.made import open_books

EXTENSION = {
    "since": "2026-03-01",
    "reason": "letter of 2026-03-01, signed by both",
    "terms": {"ends": "2027-06-01", "rates": [{"since": "2026-04-01", "percent": "9.25"}]},
}
STANDARD_203K = "203(k) Standard, HUD Handbook 4000.1"


def amended(service, project, **said):
    return sent(service, f"{project}/loan/amendments", EXTENSION | said)


def test_an_extension_holds_from_its_day_on_and_its_history_stays(service):
    project = lent(service, ends="2026-02-28")
    draw = submitted(service, project)
    settled(service, project, draw)
    late = sent(service, f"{project}/draw-draft", {"through": "2026-03-02"})
    assert "2026-03-02 is after the end of the loan, 2026-02-28" in late.text
    loan = amended(service, project)
    assert loan.status_code == 201, loan.text
    assert submitted(service, project, through="2026-03-02")["request"]["terms"]["ends"] == (
        "2027-06-01"
    )
    (own,) = loan.json["amendments"]
    assert (own["number"], own["since"], own["reason"]) == (
        1, "2026-03-01", "letter of 2026-03-01, signed by both",
    )  # fmt: skip
    assert [one["term"] for one in own["changes"]] == ["ends", "rates"]
    assert own["changes"][0] == {"term": "ends", "before": "2026-02-28", "after": "2027-06-01"}
    assert service.get(f"{project}/draws/{draw['id']}").json["request"]["terms"]["ends"] == (
        "2026-02-28"
    )
    assert verify(service.store).accounts >= 1


def test_an_amendment_that_contradicts_the_loan_is_refused_with_every_fault(embedded):
    project = lent(embedded)
    wrong = {"commitment": "1.00", "waivers": "none", "no_waiver_from": ["City"]}
    answer = amended(embedded, project, since="2026-01-01", terms=wrong)
    assert [one["pointer"] for one in answer.json["errors"]] == ["#", "#/since", "#"]
    assert answer.json["errors"][0]["what"] == "names payees, and no waivers are requested"
    fixed = amended(embedded, project, terms={"equity": "1.00"})
    assert (fixed.status_code, fixed.json["errors"][0]["pointer"]) == (422, "#/terms/equity")
    assert embedded.get(f"{project}/loan").json["amendments"] == []


def test_a_preset_holds_where_the_loan_states_nothing(embedded):
    project = open_books(embedded).removesuffix("/books")
    stated = {name: value for name, value in LOAN.items() if name != "basis"}
    loan = sent(
        embedded, f"{project}/loan", stated | {"preset": STANDARD_203K, "most_draws": 4}
    ).json
    terms = loan["terms"]
    assert (terms["preset"], terms["basis"], terms["most_draws"]) == (STANDARD_203K, "percent", 4)
    other = sent(embedded, f"{project}/loan", LOAN | {"preset": "that of my bank"})
    (error,) = other.json["errors"]
    assert error["pointer"] == "#/preset"
    assert error["remedy"].startswith("use one of '203(k) Standard, HUD Handbook 4000.1', ")
    standard, federal = embedded.get("/v1/loan-presets", role="lender").json["presets"]
    assert standard["name"] == STANDARD_203K
    assert standard["terms"] == {
        "basis": "percent", "most_draws": 5, "vendors": "jointly",
        "retainage": {"work_percent": "10", "stored_percent": "10"},
    }  # fmt: skip
    assert federal["source"].startswith("48 CFR 52.232-5 (b) and (e): ")


def test_a_waiver_that_was_entered_wrongly_is_taken_back_and_stays_listed(service):
    project = lent(service, waivers="conditional")
    waiver = {"payee": "Ridge Road Quarry", "draw": 1, "conditional": True, "amount": "1540.80",
              "received": "2026-03-01"}  # fmt: skip
    paper = sent(service, f"{project}/waivers", waiver).json
    draft = f"{project}/draw-draft"
    assert sent(service, draft, {"through": "2026-02-28"}).json["notes"] == []
    at = f"{project}/papers/{paper['id']}/withdrawal"
    taken_back = sent(service, at, {"reason": "of another job"})
    assert taken_back.json["withdrawn"]["reason"] == "of another job"
    assert service.get(draft).json["notes"] == [
        "no conditional waiver from Ridge Road Quarry for draw 1, $1,540.80"
    ]
    (listed,) = service.get(f"{project}/waivers").json["papers"]
    assert listed == taken_back.json
    again = sent(service, at, {"reason": "of another job"})
    assert (again.status_code, again.json["detail"]) == (
        409, "paper 1 was taken back already.",
    )  # fmt: skip
