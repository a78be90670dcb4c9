"""How fast entries are imported, beside bare statements that insert as many, on both databases.

    pytest tests/benchmarks/test_import_speed.py --benchmark-enable -n 0

An import reads and checks each entry, writes it with what it moves, the sums and its audit row, and
goes on at a fourth of the rate at which SQLAlchemy Core inserts the bare entries, or more.
`GROUNDSILL_IMPORTED_ROWS=100000` asks for the full size.
"""

import os
from datetime import timedelta
from time import perf_counter
from uuid import uuid4

import pytest
from sqlalchemy import insert

from api.ledger.baselines import baseline_of
from api.ledger.imports import import_entries
from api.ledger.opened_books import open_books
from api.ledger.rows import BookEntry
from api.store.accounts import open_account
from api.store.caller import Caller
from api.store.models import table_of
from tests.benchmarks.large_import import entries_of
from tests.benchmarks.large_ledger import OPENED, scope_of_items

ROWS, ROWS_WITHOUT_TIMING = int(os.environ.get("GROUNDSILL_IMPORTED_ROWS", "20000")), 200
LEAST_RATIO, ROUNDS = 0.25, 3
LATER = OPENED + timedelta(days=60)


@pytest.fixture
def opened_books(store, tmp_path):
    """A way to open the books of another account."""
    scope = scope_of_items(tmp_path)

    def opened():
        caller = Caller(open_account(store, str(uuid4()), OPENED))
        return caller, open_books(store, caller, OPENED, scope).project_id

    return opened


def codes_of(store, caller, project_id):
    with store.reading(caller) as session:
        return [one.code for one in baseline_of(session, project_id, OPENED).values() if one.phase]


def imported(store, caller, project_id, entries):
    with store.unit_of_work(caller, LATER) as work:
        came = import_entries(work, project_id, entries)
        assert not came.faults.count
        work.commit()
    return came


def seconds_of_bare(store, rows, caller, project_id):
    head = {"account_id": caller.account_id, "project_id": project_id}
    bare = [{**row, **head, "id": uuid4()} for row in rows]
    began = perf_counter()
    with store.across_accounts(writes=True) as connection:
        connection.execute(insert(table_of(BookEntry)), bare)
    return perf_counter() - began


def test_an_import_goes_on_at_a_fourth_of_the_rate_of_bare_statements(
    benchmark, store, opened_books
):
    count = ROWS if benchmark.enabled else ROWS_WITHOUT_TIMING

    def prepared():
        caller, project_id = opened_books()
        entries = entries_of(codes_of(store, caller, project_id), count)
        return (store, caller, project_id, entries), {}

    came = benchmark.pedantic(imported, setup=prepared, rounds=ROUNDS)
    assert len(came.new) == count
    if benchmark.enabled:
        rows = [entry.columns() for _, entry in came.new]
        bare = min(seconds_of_bare(store, rows, *opened_books()) for _ in range(ROUNDS))
        ratio = bare / benchmark.stats.stats.min
        benchmark.extra_info.update(rows=count, ratio_to_bare_rows=ratio)
        assert ratio >= LEAST_RATIO
