"""Reports go by sums that are kept with the entries; they say what the rows themselves say."""

from __future__ import annotations

from datetime import date, timedelta
from uuid import UUID

import pytest
from sqlalchemy import MetaData, Table, select, text

from api.ledger.baselines import baseline_of
from api.ledger.known_books import books_of, books_of_code, daily_books_of, settled_ledger
from api.ledger.payroll_shapes import EXAMPLE_PAYROLL
from api.ledger.reports import track_of
from api.ledger.rows import IS_PLACED, BookEntry
from api.ledger.stored_sums import incurred_on_days
from api.store.caller import Caller
from api.store.errors import StoreFaulty
from api.store.migrations.steps import downgrade, upgrade
from api.store.verify import verify
from estimator.tracking.books_by_day import daily_books
from estimator.tracking.job_track import track
from estimator.tracking.ledger_lines import lines_of_ledger, settled_rows
from estimator.tracking.ledger_movements import all_movements, incurred_by_day
from estimator.tracking.traced_rows import trace
from tests.api.ledger.made import STONE, cost, open_books, posted
from tests.api.service import NOON, new_key

LOAD = {
    "vendor": "Ridge Road Quarry", "quantity": "20", "unit": "ton", "amount": "520.00",
    "placed": True,
} | STONE  # fmt: skip
RENT = {
    "machine": "lift", "vendor": "Mill Street Rental", "code": "30.020", "day": "295.00",
    "week": "1040.00", "month": "2950.00",
}  # fmt: skip
DAYS = [date(2026, 2, day) for day in (1, 6, 9, 11, 12, 13, 15, 18, 28)]


def hours(person, **more):
    wages = {"trade": "laborer", "code": "30.020", "hours": "8.5", "rate": "30.00"}
    return {"person": person} | wages | more


@pytest.fixture
def books(service):
    """Books in which accruals come and go, some of it late and some of it taken back."""
    path = open_books(service)

    def post(to, day, /, **body):
        answer = posted(service, path, to, happened=f"2026-02-{day:02}", **body)
        assert answer.status_code == 201, answer.text
        service.clock.turn(hours=1)
        return answer.headers["Location"]

    def back(where, day):
        sent = {"happened": f"2026-02-{day:02}"}
        assert service.post(f"{where}/reversal", sent, headers=new_key()).status_code == 201
        service.clock.turn(hours=1)

    loads = [post("tickets", 2 + number, number=f"T-{number}", **LOAD) for number in (1, 2, 3)]
    bill = post("costs", 9, **cost(tickets=[1, 2], order="PO-1"))
    post("orders", 2, number="PO-1", vendor="Ridge Road Quarry", amount="5000.00", **STONE)
    post("payments", 12, cost=4, amount="700.00", means="check 1")
    back(bill, 13)
    post("costs", 11, **cost(document="Q-2", tickets=[2], once=True))
    back(loads[0], 14)
    post("hours", 9, **hours("AB"))
    post("hours", 10, **hours("OW", unpaid=True))
    terms = {name: own for name, own in EXAMPLE_PAYROLL.items() if name != "happened"}
    post("payroll-terms", 1, **terms)
    closed = service.post(f"{path}/weeks", {"ends": "2026-02-15"}, headers=new_key())
    assert closed.status_code == 201
    post("hours", 17, **hours("AB", hours="4"))
    post("rents", 16, **RENT)
    post("costs", 17, **cost(vendor=RENT["vendor"], document="M-1", rents=[15]))
    post("progress", 12, code="30.020", in_place="40", expected="300")
    post("progress", 19, code="30.020", in_place="60")
    return path


def session_of(service):
    return service.store.reading(Caller(service.account_id))


def test_a_report_says_what_the_rows_say_as_of_and_known_on_any_day(service, books):
    project_id = UUID(books.split("/")[3])
    with session_of(service) as session:
        rows = books_of(session, project_id)
        for known_on in (NOON, NOON + timedelta(hours=7), service.clock.now):
            baseline = baseline_of(session, project_id, known_on)
            for as_of in DAYS:
                for since in (None, as_of - timedelta(6)):
                    report = track_of(session, project_id, as_of, known_on, since)
                    assert report == track(rows, baseline, as_of, known_on, since)
                known = rows.known(as_of, known_on)
                incurred = incurred_on_days(session, project_id, as_of, known_on)
                assert incurred == incurred_by_day(all_movements(known.money))
                added_up = daily_books_of(session, project_id, as_of, known_on)
                settled = settled_ledger(session, project_id, as_of, known_on)
                whole = lines_of_ledger(settled_rows(known.money), report.rents)
                lines = lines_of_ledger(settled, report.rents)
                assert list(map(shown, lines)) == list(map(shown, whole))
                plain = daily_books(rows, as_of, known_on)
                assert something(added_up.hours) == something(plain.hours)
                assert something(added_up.recurring_cents) == something(plain.recurring_cents)


def shown(line):
    """Return a line without the payments that it names, which are in its amounts."""
    return line._replace(payments=())


def something(by_code):
    """Return what comes to anything, by code and what it is added up by there."""
    return {(code, of): own for code, by in by_code.items() for of, own in by.items() if own}


def test_a_code_is_traced_by_its_own_rows_as_by_all(service, books):
    project_id = UUID(books.split("/")[3])
    with session_of(service) as session:
        rows, own = books_of(session, project_id), books_of_code(session, project_id, "30.020")
        assert len(own.hours) + len(own.tickets) + len(own.payments) == 8
        for known_on in (NOON + timedelta(hours=7), service.clock.now):
            for as_of in DAYS:
                report = track_of(session, project_id, as_of, known_on)
                whole = trace(rows, report, "30.020", [])
                assert trace(own, report, "30.020", []) == whole


def tables(engine):
    """Return what is kept of the ledger, table by table."""
    names = ("ledger_movements", "ledger_sums", "open_hours")
    with engine.connect() as connection:
        kept = (Table(name, MetaData(), autoload_with=connection) for name in names)
        return [sorted(map(str, connection.execute(select(table)))) for table in kept]


def test_an_older_database_gets_the_sums_of_the_entries_that_it_has(service, books):
    kept = tables(service.store.engine)
    assert all(kept)
    with service.store.engine.begin() as connection:  # whose role the older step does not know
        connection.execute(text("DELETE FROM tokens WHERE role = 'crew'"))
    downgrade(service.store.engine, "0012")
    upgrade(service.store.engine)
    assert [sorted(made) for made in tables(service.store.engine)] == kept


@pytest.mark.parametrize(
    "alter", ["UPDATE ledger_sums SET paid_cents = paid_cents + 1", "DELETE FROM open_hours"]
)
def test_a_sum_that_was_altered_is_reported(service, books, alter):
    verify(service.store)
    with service.store.engine.begin() as connection:
        connection.execute(text(alter))
    with pytest.raises(StoreFaulty, match="the sums are not those of the entries"):
        verify(service.store)


def test_loads_that_were_placed_are_found_by_an_index_of_their_own(sqlite_store):
    """Else a report would read all entries of the project for a few of them."""
    statement = select(BookEntry.kind).where(BookEntry.project_id == UUID(int=1), IS_PLACED)
    words = statement.compile(sqlite_store.engine, compile_kwargs={"literal_binds": True})
    with sqlite_store.engine.connect() as connection:
        (plan,) = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {words}").all()
    assert "ix_book_entries_placed" in plan[3]
