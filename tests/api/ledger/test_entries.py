"""Entries are posted once, numbered, noted, taken back; and never changed."""

from __future__ import annotations

from threading import Barrier, Thread

import pytest
from sqlalchemy import event, text

from api.store.errors import Unchangeable
from api.store.refusals import store_errors
from api.store.verify import verify
from tests.api.estimates.made import keep_project
from tests.api.ledger.made import STONE, cost, open_books, posted
from tests.api.service import new_key


@pytest.fixture
def books(service):
    return open_books(service)


def errors_of(answer):
    assert answer.status_code == 422, answer.text
    return [(one.get("pointer"), one["what"]) for one in answer.json["errors"]]


def test_entries_are_numbered_in_the_order_of_posting_and_shown_as_stored(service, books):
    first = posted(service, books, "costs", **cost())
    second = posted(service, books, "payments", cost=1, amount="500.00", means="check 12")
    assert [first.json["number"], second.json["number"]] == [1, 2]
    assert first.json["amount"] == "1540.80"
    assert first.json["entered_at"] == "2026-03-02T12:00:00Z"
    assert service.get(first.headers["Location"]).json == first.json
    listed = service.get(f"{books}/entries").json["entries"]
    assert listed == [first.json, second.json]
    of_kind = service.get(f"{books}/entries?kind=payments").json["entries"]
    assert of_kind == [second.json]


def test_books_are_not_open_before_an_estimate_is_accepted(service):
    project = keep_project(service)
    answer = posted(service, f"{project}/books", "costs", **cost())
    assert "the books of the project are not open" in answer.text


def test_all_faults_of_an_entry_come_with_their_fields(service, books):
    wrong = cost(vendor="Quarry", net="0.00", tax="0.00", splits=[STONE | {"code": "30.099"}])
    answer = posted(service, books, "costs", happened="2026-03-03", **wrong)
    assert errors_of(answer) == [
        ("#/happened", "2026-03-03 is in the future"),
        ("#/splits", "there is no cost code '30.099'"),
        ("#/net", "is zero"),
    ]


def test_the_same_document_is_refused_until_it_is_reversed_and_then_taken_once(service, books):
    first = posted(service, books, "costs", **cost())
    again = posted(service, books, "costs", **cost(vendor="ridge road  QUARRY"))
    assert errors_of(again) == [("#/document", "ridge road  QUARRY Q-1187 over $1,540.80 is row 1")]
    back = service.post(
        f"{first.headers['Location']}/reversal", {"happened": "2026-02-20"}, headers=new_key()
    )
    assert (back.json["reverses"], back.json["amount"]) == (1, "-1540.80")
    assert posted(service, books, "costs", **cost()).status_code == 201
    assert posted(service, books, "costs", **cost()).status_code == 422


def test_a_row_is_taken_back_once_and_a_reversal_never(service, books):
    where = posted(service, books, "costs", **cost()).headers["Location"]
    back = service.post(f"{where}/reversal", {"happened": "2026-02-20"}, headers=new_key())
    for of, what in (
        (where, "is reversed already, by row 2"),
        (back.headers["Location"], "itself"),
    ):
        answer = service.post(f"{of}/reversal", {"happened": "2026-02-20"}, headers=new_key())
        assert what in answer.text


def test_a_cost_before_the_planned_start_is_posted_with_a_note(service, books):
    posted(service, books, "plans", code="30", start="2026-02-20", finish="2026-04-03")
    early = posted(service, books, "costs", **cost(written="2026-02-14"))
    assert early.json["notes"] == [
        "written down on 2026-02-14", "2026-02-12 is before the work starts on 2026-02-20",
    ]  # fmt: skip
    later = posted(service, books, "costs", **cost(document="Q-2"), happened="2026-02-20")
    assert later.json["notes"] == []


def test_progress_is_corrected_by_the_latest_never_by_a_reversal(service, books):
    where = posted(service, books, "progress", code="30.020", in_place="12").headers["Location"]
    answer = service.post(f"{where}/reversal", {"happened": "2026-02-20"}, headers=new_key())
    assert "post what is right: the latest counts" in answer.text


def test_the_same_key_posts_once(service, books):
    key = new_key()
    body = {"happened": "2026-02-12"} | cost()
    del body["document"]
    answers = [service.post(f"{books}/costs", body, headers=key) for _ in range(3)]
    assert {one.json["number"] for one in answers} == {1}


def test_splits_that_do_not_add_up_are_refused_with_both_sums(service, books):
    splits = [STONE | {"amount": "1000.00"}, STONE | {"kind": "haul", "amount": "400.00"}]
    answer = posted(service, books, "costs", **cost(splits=splits))
    assert errors_of(answer) == [("#/splits", "add up to $1,400.00, not to the net of $1,440.00")]


def test_a_bill_takes_the_place_of_its_tickets_and_a_ticket_is_billed_once(service, books):
    ticket = {
        "number": "T-1", "vendor": "Ridge Road Quarry", "quantity": "15.75", "unit": "ton",
        "amount": "404.46",
    } | STONE  # fmt: skip
    posted(service, books, "tickets", **ticket)
    project = service.get(f"{books}/tracking").json["project"]
    assert (project["accrued"], project["billed"]) == ("404.46", "0.00")
    bill = posted(service, books, "costs", **cost(tickets=[1], loads=2))
    assert bill.json["notes"] == ["2 loads billed against 1 ticket"]
    project = service.get(f"{books}/tracking").json["project"]
    assert (project["accrued"], project["billed"]) == ("0.00", "1540.80")
    again = posted(service, books, "costs", **cost(document="Q-2", tickets=[1, 9]))
    assert [what for _, what in errors_of(again)] == [
        "the ticket in row 1 is billed already, in row 2",
        "there is no ticket in row 9, or it is reversed",
    ]


def test_a_wrong_unit_is_refused_and_the_right_one_named(service, books):
    answer = posted(service, books, "progress", code="30.020", in_place="12", unit="cy")
    assert errors_of(answer) == [("#/unit", "is 'cy'")]
    assert "30.020 is measured in ton" in answer.text


def test_more_than_a_day_has_is_refused(service, books):
    work = {"person": "AB", "trade": "mason", "code": "30.020", "hours": "14", "rate": "24.00"}
    assert posted(service, books, "hours", **work).status_code == 201
    assert "28 hours are more than a day has" in posted(service, books, "hours", **work).text


def test_no_more_is_paid_than_is_billed(service, books):
    posted(service, books, "costs", **cost())
    answer = posted(service, books, "payments", cost=1, amount="1540.81", means="check")
    assert errors_of(answer) == [("#/amount", "would make $1,540.81 paid on a cost of $1,540.80")]


@pytest.mark.parametrize(
    "statement", ["UPDATE book_entries SET cents = 1", "DELETE FROM book_entries"]
)
def test_no_sql_changes_an_entry(service, books, statement):
    posted(service, books, "costs", **cost())
    with (
        pytest.raises(Unchangeable),
        store_errors(),
        service.store.across_accounts(writes=True) as connection,
    ):
        connection.execute(text(statement))


def test_each_entry_has_its_audit_row_and_the_store_verifies(service, books):
    posted(service, books, "costs", **cost())
    trail = service.get("/v1/audit-trail?subject=book_entries").json
    assert [one["action"] for one in trail["changes"]] == ["created"]
    assert verify(service.store).accounts >= 1


def test_two_people_who_post_at_once_lose_nothing(service, books):
    start, statuses = Barrier(2), []

    def post_ten(name):
        start.wait()
        for number in range(10):
            answer = posted(service, books, "costs", **cost(document=f"{name}-{number}"))
            statuses.append(answer.status_code)

    threads = [Thread(target=post_ten, args=(name,)) for name in ("A", "B")]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    entries = service.get(f"{books}/entries?limit=200").json["entries"]
    assert statuses == [201] * 20
    assert [one["number"] for one in entries] == list(range(1, 21))
    verify(service.store)  # each with its row of the trail, and the sums are those of the entries


def test_a_bookkeeper_posts_and_a_lender_sees_nothing_of_the_books(service, books):
    body = {"happened": "2026-02-12"} | cost()
    token = service.tokens["bookkeeper"]
    answer = service.post(f"{books}/costs", body, headers=new_key(), token=token)
    assert answer.status_code == 201
    assert service.get(f"{books}/entries", token=service.tokens["lender"]).status_code == 403


def test_a_move_of_stock_is_checked_noted_and_taken_back(service, books):
    plank = {"material": "floor plank", "unit": "sf", "move": "recovered", "quantity": "890"}
    assert posted(service, books, "stock", **plank).status_code == 201
    wrong = plank | {"unit": "lf", "code": "30.099", "quantity": "0"}
    refused = posted(service, books, "stock", **wrong).json["errors"]
    assert [one["pointer"] for one in refused] == ["#/code", "#/unit", "#/quantity"]
    used = posted(service, books, "stock", **plank | {"move": "used", "quantity": "1010"})
    assert "out of a stock of 890 sf; 120 sf short" in used.json["notes"][0]
    back = {"happened": "2026-02-18"}
    at = f"{used.headers['Location']}/reversal"
    assert service.post(at, back, headers=new_key()).json["reverses"] == 2
    assert not service.get(f"{books}/tracking?as_of=2026-03-02").json["attention"]


def test_a_count_of_what_is_not_used_yet_names_what_it_was_bought_on(service, books):
    count = {"material": "stone", "unit": "ton", "move": "not used yet", "quantity": "12"}
    refused = posted(service, books, "stock", **count).json["errors"]
    assert [one["pointer"] for one in refused] == ["#/code", "#/kind", "#/amount"]
    full = count | STONE | {"amount": "318.43"}
    assert posted(service, books, "stock", **full).status_code == 201


def test_what_says_nothing_or_contradicts_itself_is_refused_at_its_field(service, books):
    order = {"number": "PO-1", "vendor": "Quarry", **STONE, "amount": "0"}
    posted(service, books, "orders", **order | {"amount": "900.00"})
    others = order | {"vendor": "Mason", "amount": "5.00"}
    point = {"name": "crack 3", "unit": "mm", "least": "5", "most": "2"}
    for path, body, pointer, what in (
        ("costs", cost(net="0.00", tax="0.00"), "#/net", "is zero"),
        ("costs", cost(net="-5.00", tax="0.00"), "#/net", "is negative, and the row is neither"),
        ("orders", order, "#/amount", "is zero"),
        ("orders", others, "#/vendor", "order PO-1 went to 'Quarry', in row 1"),
        ("costs", cost(written="2027-01-02"), "#/written", "2027-01-02 is in the future"),
        (
            "costs",
            cost(written="2026-02-11"),
            "#/written",
            "2026-02-11 is before 2026-02-12, when it happened",
        ),
        ("points", point, "#/least", "5 is more than the most, 2"),
        (
            "changes",
            {"reason": "none", "parts": [STONE]},
            "#/parts",
            "the part for 30.020 changes nothing",
        ),
        ("progress", {"code": "30.020", "in_place": "-5"}, "#/in_place", "is below zero"),
    ):
        ((at, said),) = errors_of(posted(service, books, path, **body))
        assert (at, said.startswith(what)) == (pointer, True), said


def test_what_an_entry_is_checked_against_is_looked_up_by_what_it_is_like(embedded):
    """Without statistics SQLite goes through all entries of a project once they are ordered."""
    books, read, engine = open_books(embedded), [], embedded.store.engine

    def note(_connection, _cursor, statement, values, *_):
        if "FROM book_entries" in statement and "max(" not in statement:
            read.append((statement, values))

    event.listen(engine, "before_cursor_execute", note)
    posted(embedded, books, "costs", **cost())
    posted(embedded, books, "payments", cost=1, amount="500.00", means="check 12")
    posted(embedded, books, "progress", code="30.020", in_place="20", unit="ton")
    posted(embedded, books, "hours", person="AB", trade="laborer", code="30.020", hours="8",
           rate="24.00")  # fmt: skip
    event.remove(engine, "before_cursor_execute", note)
    with engine.connect() as connection:
        plans = [
            connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", values).all()[0][-1]
            for statement, values in read
        ]
    assert len(plans) > 8
    assert [one for one in plans if one.endswith("(project_id=?)")] == []
