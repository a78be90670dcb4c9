"""A draw from the loan to the money: opened, frozen, cut, funded short, returned, released."""

from __future__ import annotations

from uuid import UUID

import pytest
from sqlalchemy.exc import DBAPIError

from api.ledger.imports import import_entries
from api.store.caller import Caller
from api.store.errors import StoreFaulty
from api.store.verify import verify
from estimator.workbook.entries.entry_reader import TypedEntry
from tests.api.draws.made import LOAN, lent, sent, settled, submitted
from tests.api.ledger.importer import DAY
from tests.api.ledger.made import cost, open_books, posted
from tests.api.projects.made import statements
from tests.api.service import new_key

SLIPPED_IN = """INSERT INTO draw_backup
    (account_id, project_id, draw_id, entry_id, line, cause, row, cents)
    SELECT account_id, project_id, draw_id, entry_id, '9', cause, row, {} FROM draw_backup"""


def line(shown, number):
    return next(one for one in shown["lines"] if one["line"] == number)


def test_the_loan_freezes_the_schedule_from_the_budget_to_the_cent(service):
    project = lent(service)
    loan = service.get(f"{project}/loan").json
    budget = service.get(f"{project}/books/tracking").json["project"]["budget"]
    assert loan["scheduled"] == budget
    rules = {one["name"]: one for one in loan["terms"]["rules"]}
    assert rules["basis of a line"] == {
        "name": "basis of a line", "words": "the lesser of cost and percent", "default": True,
    }  # fmt: skip
    again = sent(service, f"{project}/loan", LOAN)
    assert (again.status_code, again.json["code"]) == (409, "already-there")


def test_a_cost_before_the_loan_is_posted_and_imported_with_a_note(embedded):
    project = lent(embedded)
    note = (
        "2026-01-31 is before the loan closes on 2026-02-01; costs may be drawn from 2026-01-15 on"
    )
    fees = cost(vendor="Architect", document="A-1")
    early = posted(embedded, f"{project}/books", "costs", **fees, happened="2026-01-31")
    assert (early.status_code, early.json["notes"]) == (201, [note])
    later = posted(embedded, f"{project}/books", "costs", **fees | {"document": "A-2"})
    assert later.json["notes"] == []
    body = fees | {"document": "A-3", "happened": "2026-01-31"}
    sheet = [TypedEntry("costs", body, "Costs row 2", {})]
    with embedded.store.unit_of_work(Caller(embedded.account_id), DAY) as work:
        imported = import_entries(work, UUID(project.rpartition("/")[2]), sheet)
    assert imported.notes == [f"Costs row 2: note: {note}"]


def test_terms_that_contradict_each_other_are_reported_all_at_once(embedded):
    project = open_books(embedded).removesuffix("/books")
    wrong = LOAN | {"ends": "2026-01-01", "rates": [], "interest": "reserve"}
    answer = sent(embedded, f"{project}/loan", wrong)
    pointers = [one.get("pointer") for one in answer.json["errors"]]
    assert (answer.status_code, pointers) == (
        422,
        ["#/ends", "#/costs_from", "#/rates", "#/interest"],
    )
    over = LOAN | {"rates": [{"since": "2026-02-01", "percent": "100.01"}]}
    refused = sent(embedded, f"{project}/loan", over).json["errors"][0]
    assert (refused["pointer"], refused["what"]) == ("#/rates/0/percent", "is too large")
    assert embedded.get(f"{project}/loan").status_code == 404


def test_a_draw_is_frozen_decided_funded_short_and_the_rest_requested_without_its_receipts(service):
    project = lent(service)
    draw = submitted(service, project)
    stone = line(draw["request"], "2")
    assert (stone["billed"], stone["retainage"]) == ("1540.80", "154.08")
    assert draw["request"]["totals"]["requested"] == "1386.72"
    assert (draw["state"], draw["request"]["backup"][0]["row"]) == ("submitted", 1)
    at = f"{project}/draws/{draw['id']}"
    cuts = [{"line": "2", "amount": "100.00", "reason": "not seen"}]
    decided = sent(service, f"{at}/decision", {"cuts": cuts}).json
    assert decided["granted"]["totals"]["requested"] == "1296.72"
    assert decided["steps"][0]["cuts"] == [{"line": "2", "amount": "100.00", "reason": "not seen"}]
    funded = sent(
        service, f"{at}/funding", {"day": "2026-03-02", "amount": "200.00", "fees": "20.00"}
    )
    assert funded.json["steps"][1]["short"] == "76.72"
    assert (funded.json["state"], funded.json["steps"][1]["equity"]) == ("funded", "1000.00")
    second = submitted(service, project)
    assert [one["amount"] for one in second["request"]["backup"]] == ["100.00"]
    assert second["request"]["totals"] | {"earned": ""} == {
        "billed": "100.00", "earned": "", "equity": "0.00", "equity_before": "1000.00",
        "equity_required": "1000.00", "funded_before": "1220.00", "granted_before": "1296.72",
        "loan": "166.72", "requested": "166.72", "retainage": "154.08", "short_funded": "76.72",
    }  # fmt: skip
    assert service.get(at).json == funded.json
    assert verify(service.store).accounts >= 1


def test_a_returned_draw_is_followed_by_its_next_version_with_the_same_receipts(service):
    project = lent(service)
    first = submitted(service, project)
    at = f"{project}/draws/{first['id']}"
    assert sent(service, f"{at}/decision", {"returned": True}).status_code == 422
    back = sent(service, f"{at}/decision", {"returned": True, "reason": "no photographs"})
    assert (back.json["state"], back.json["steps"][0]["reason"]) == ("returned", "no photographs")
    assert sent(service, f"{at}/decision", {}).status_code == 422
    assert sent(service, f"{at}/funding", {"day": "2026-03-02"}).status_code == 422
    second = submitted(service, project)
    assert (second["number"], second["issue"]) == (1, 2)
    assert second["request"]["backup"] == first["request"]["backup"]
    listed = service.get(f"{project}/draws").json["draws"]
    assert [(one["issue"], one["state"]) for one in listed] == [(1, "returned"), (2, "submitted")]


def test_a_list_of_draws_reads_none_of_their_documents(service):
    settled(service, (project := lent(service)), submitted(service, project))
    with statements(service.store) as read:
        (listed,) = service.get(f"{project}/draws").json["draws"]
    assert (listed["number"], listed["state"]) == (1, "funded")
    assert [one for one in read if "document" in one] == []


def test_draws_follow_each_other_and_one_is_open_at_a_time(service):
    project = lent(service)
    opened = sent(service, f"{project}/draw-draft", {"through": "2026-02-28"})
    again = sent(service, f"{project}/draw-draft", {"through": "2026-02-28"})
    assert (again.status_code, again.json["detail"]) == (
        409,
        "a draw is open already; submit it, or close it.",
    )
    shown = service.get(f"{project}/draw-draft")
    assert (shown.json, shown.headers["ETag"]) == (opened.json, '"1"')
    closed = service.send("DELETE", f"{project}/draw-draft", headers={"If-Match": '"1"'})
    assert closed.status_code == 204
    assert service.get(f"{project}/draw-draft").status_code == 404
    submitted(service, project)
    early = sent(service, f"{project}/draw-draft", {"through": "2026-03-01"})
    assert "draw 1 is neither funded nor returned" in early.text
    assert service.get(f"{project}/draw-draft").status_code == 404
    before = sent(service, f"{project}/draw-draft", {"through": "2026-01-02"})
    assert before.status_code == 422


def test_a_draw_before_costs_may_be_drawn_or_past_a_cell_of_an_entry_is_refused(embedded):
    project = lent(embedded)
    early = sent(embedded, f"{project}/draw-draft", {"through": "2026-01-02"})
    assert early.json["errors"][0]["pointer"] == "#/through"
    stored = {"through": "2026-02-28", "stored": [{"row": 1, "amount": "1540.81"}]}
    over = sent(embedded, f"{project}/draw-draft", stored)
    assert over.json["errors"][0]["what"] == "row 1 has $1,540.80 on line 2"


def test_what_is_out_of_order_or_goes_back_is_refused_and_nothing_of_it_is_stored(embedded):
    project = lent(embedded)
    draw = submitted(embedded, project)
    foreign = sent(embedded, f"{project}/draws/{draw['id']}/decision", {}, role="lender")
    assert (foreign.status_code, foreign.json["code"]) == (404, "not-found")
    assert embedded.get(f"{project}/draws/{draw['id']}").json == draw
    settled(embedded, project, draw)
    early = sent(embedded, f"{project}/draw-draft", {"through": "2026-02-27"})
    assert early.json["errors"] == [{
        "pointer": "#/through", "what": "2026-02-27 is before the end of draw 1",
        "remedy": "draws follow each other: from 2026-02-28 on",
    }]  # fmt: skip
    assert embedded.get(f"{project}/draw-draft").status_code == 404
    entries = embedded.get(f"{project}/books/entries").json
    half = {"code": "30.020", "in_place": "1", "percent": True}
    back = posted(embedded, f"{project}/books", "progress", **half)
    assert (back.status_code, back.json["errors"][0]["remedy"]) == (422, "give the reason")
    assert embedded.get(f"{project}/books/entries").json == entries


CHANGES = (
    "UPDATE draws SET number = 7",
    "DELETE FROM draw_backup",
    "UPDATE draw_lines SET done_cents = 1",
    "UPDATE loans SET digest = digest",
    "DELETE FROM draw_steps",
)


def test_what_was_submitted_is_changed_by_no_statement(service):
    settled(service, (project := lent(service)), submitted(service, project))
    refusals = {}
    for statement in CHANGES:
        with service.store.across_accounts(writes=True) as connection:
            try:
                connection.exec_driver_sql(statement)
            except DBAPIError as error:
                refusals[statement] = str(error)
            connection.rollback()
    assert [one for one in CHANGES if "groundsill final" not in refusals.get(one, "")] == []


def test_the_database_itself_refuses_more_of_an_entry_than_it_bears(service):
    project = lent(service)
    submitted(service, project)
    for cents in (1, -154_081):
        with (
            service.store.across_accounts(writes=True) as connection,
            pytest.raises(Exception, match="groundsill overdrawn"),
        ):
            connection.exec_driver_sql(SLIPPED_IN.format(cents))
        # nothing of it stays: the connection is given back without a commit
    assert verify(service.store).accounts >= 1


def test_a_row_that_was_slipped_in_shows_when_the_store_is_verified(service):
    project = lent(service)
    submitted(service, project)
    with service.store.across_accounts(writes=True) as connection:
        connection.exec_driver_sql(SLIPPED_IN.format(-1))
    with pytest.raises(StoreFaulty, match="its receipts do not add up to its document"):
        verify(service.store)


def test_the_lender_reads_what_is_shared_decides_and_sees_nothing_else(service):
    project = lent(service)
    draw = submitted(service, project)
    at = f"{project}/draws/{draw['id']}"
    for path in (f"{project}/loan", f"{project}/draws", at):
        assert service.get(path, role="lender").status_code == 404
    foreign = sent(service, f"{at}/decision", {}, role="lender")
    assert foreign.status_code == 404
    (token,) = service.get("/v1/tokens?role=lender").json["tokens"]
    assert sent(service, f"{project}/shares", {"token_id": token["id"]}).status_code == 201
    for path in (f"{project}/loan", f"{project}/draws", at):
        assert service.get(path, role="lender").json == service.get(path).json
    cuts = [{"line": "2", "amount": "40.80", "reason": "not seen"}]
    decided = sent(service, f"{at}/decision", {"cuts": cuts}, role="lender")
    assert (decided.status_code, decided.json["state"]) == (201, "granted")
    assert sent(service, f"{at}/funding", {"day": "2026-03-02"}, role="lender").status_code == 201
    for path in ("draw-draft", "waivers", "evidence", "books/entries", f"draws/{draw['id']}/trace"):
        assert service.get(f"{project}/{path}", role="lender").status_code == 403
    assert sent(service, f"{project}/draws", role="lender").status_code == 403
    assert submitted(service, project)["request"]["totals"]["requested"] == "36.72"
    assert verify(service.store).accounts >= 1


def test_submissions_under_one_key_make_one_draw(service):
    project = lent(service)
    sent(service, f"{project}/draw-draft", {"through": "2026-02-28"})
    key = new_key()
    answers = [service.post(f"{project}/draws", headers=key) for _ in range(5)]
    assert {one.status_code for one in answers} == {201}
    assert len({one.text for one in answers}) == 1
    assert len(service.get(f"{project}/draws").json["draws"]) == 1


def test_a_credit_after_the_draw_is_a_negative_in_the_next_and_retainage_is_released(service):
    project = lent(service, basis="cost")
    settled(service, project, submitted(service, project))
    credit = cost(document="C-9", net="-100.00", tax="-7.00", credit=True, happened="2026-03-01")
    assert posted(service, f"{project}/books", "costs", **credit).status_code == 201
    second = submitted(service, project, through="2026-03-02")
    assert second["request"]["totals"]["requested"] == "-96.30"
    settled(service, project, second)
    early = sent(service, f"{project}/draw-draft", {"through": "2026-03-02", "release": ["2"]})
    assert "line 2 is not complete" in early.text


def test_papers_that_came_in_stand_on_the_draw(service):
    project = lent(service, waivers="both", evidence=[{"kind": "insurance"}])
    first = sent(service, f"{project}/draw-draft", {"through": "2026-02-28"}).json
    assert first["notes"] == [
        "insurance is missing",
        "no conditional waiver from Ridge Road Quarry for draw 1, $1,540.80",
    ]
    waiver = {"payee": "Ridge Road Quarry", "draw": 1, "conditional": True, "amount": "1540.80",
              "received": "2026-03-01"}  # fmt: skip
    paper = {"kind": "insurance", "name": "BR-6114", "issued": "2026-02-01"}
    assert sent(service, f"{project}/waivers", waiver).json["number"] == 1
    assert sent(service, f"{project}/evidence", paper).json["number"] == 2
    assert service.get(f"{project}/draw-draft").json["notes"] == []
    (listed,) = service.get(f"{project}/waivers").json["papers"]
    assert listed["paper"]["payee"] == "Ridge Road Quarry"


def test_each_dollar_of_a_draw_is_walked_back_to_its_receipts(service):
    project = lent(service)
    draw = submitted(service, project)
    shown = service.get(f"{project}/draws/{draw['id']}/trace").json
    (of_stone,) = shown["lines"]
    (receipt,) = of_stone["receipts"]
    assert (receipt["row"], receipt["document"], receipt["drawn"]) == (1, "Q-1187", "1540.80")
    assert (of_stone["retained"], shown["requested"]) == ("154.08", "1386.72")
