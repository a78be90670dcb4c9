"""An import is kept whole or not at all, whatever happens to it; all its faults come together."""

from __future__ import annotations

import gc
import subprocess
import sys
from time import sleep
from uuid import UUID

import pytest
from sqlalchemy import func, select

from api.ledger.imports import import_entries
from api.ledger.reports import track_of
from api.ledger.rows import BookEntry
from api.store.caller import Caller
from api.store.models import AuditRow
from api.store.verify import verify
from estimator.workbook.entries.entry_reader import TypedEntry
from tests.api.ledger.importer import DAY, bills, imported
from tests.api.ledger.made import open_books

COUNT = 300


@pytest.fixture
def place(service):
    """An account and a project with open books."""
    return Caller(service.account_id), UUID(open_books(service).split("/")[3])


def entries_in(store, caller):
    with store.reading(caller) as session:
        written = session.scalar(select(func.count()).select_from(BookEntry))
        told = session.scalar(
            select(func.count()).select_from(AuditRow).where(AuditRow.subject == "book_entries")
        )
    assert written == told
    return written


def test_an_import_that_is_killed_leaves_nothing_or_all(service, place):
    caller, project_id = place
    url = service.store.engine.url.render_as_string(hide_password=False)
    command = [
        sys.executable, "-m", "tests.api.ledger.importer", url, caller.account_id.hex,
        project_id.hex, str(COUNT),
    ]  # fmt: skip
    for wait_s in (0.02, 0.15):
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
            assert process.stdout.readline() == "begun\n"
            sleep(wait_s)
            process.kill()
        assert entries_in(service.store, caller) in (0, COUNT + 1)
        verify(service.store)
    imported(service.store, caller, project_id, COUNT)
    assert entries_in(service.store, caller) == COUNT + 1
    again = imported(service.store, caller, project_id, COUNT)
    assert (len(again.new), len(again.known)) == (0, COUNT + 1)
    verify(service.store)


def test_bills_with_their_tickets_and_payments_are_known_again_and_add_up(service, place):
    caller, project_id = place
    costs = [one for one in bills(40) if one.kind == "costs"]
    load = {"happened": "2026-02-12", "vendor": "Ridge Road Quarry", "code": "30.020"}
    load |= {"kind": "material", "quantity": "20", "unit": "ton", "amount": "520.00"}
    tickets = [
        TypedEntry("tickets", load | {"number": f"T-{n}"}, f"ticket {n}", {}) for n in (1, 2)
    ]
    costs[3].body["tickets"] = ["T-2"]
    paid = {"happened": "2026-02-20", "vendor": "Ridge Road Quarry", "means": "check"}
    payments = [
        TypedEntry("payments", paid | {"document": f"Q-{n}", "amount": "9.50"}, f"paid {n}", {})
        for n in (0, 3, 39)
    ]
    for new in (45, 0):
        with service.store.unit_of_work(caller, DAY) as work:
            came = import_entries(work, project_id, [*tickets, *costs, *payments])
            work.commit()
        assert (len(came.new), len(came.known), came.faults.count) == (new, 45 - new, 0)
    assert entries_in(service.store, caller) == 45
    verify(service.store)  # the sums that are kept among it
    with service.store.reading(caller) as session:
        whole = track_of(session, project_id, DAY.date(), DAY).status.whole().spent
    # forty bills of $1,440 to $1,479 and $100.80 of tax; one ticket is billed, the other accrues
    assert (whole.billed_cents, whole.accrued_cents, whole.paid_cents) == (6_241_200, 52_000, 2_850)


def test_a_preview_names_each_of_five_hundred_faults_with_its_cell(service, place):
    caller, project_id = place
    sheet = bills(600)
    wrong = [one for one in sheet if one.kind == "costs"][:500]
    for number, one in enumerate(wrong):
        one.body["happened"] = "2026-03-03" if number % 2 else "the 12th"
    with service.store.unit_of_work(caller, DAY) as work:
        came = import_entries(work, project_id, sheet)
    assert (came.faults.count, len(came.faults.entries), len(came.new)) == (500, 500, 101)
    assert gc.isenabled()  # an import looks for no garbage while it goes on
    assert {one.where for one in came.faults.entries} == {one.where for one in wrong}
    assert entries_in(service.store, caller) == 0
