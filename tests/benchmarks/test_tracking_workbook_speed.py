"""How fast the workbook of a large ledger is written, and in how much memory, on both databases.

    pytest tests/benchmarks/test_tracking_workbook_speed.py --benchmark-enable -n 0

A row of the ledger is read, settled and written before the next: so `tracking.xlsx` goes on at four
fifths of the rate at which openpyxl writes as many bare rows of as many columns, or more, and holds
at most 60 MB besides what was there, as `tracemalloc` counts it in a run of its own. Both are taken
by the time of the processor, since other programs run beside them; on PostgreSQL that is without
what the server takes.
`GROUNDSILL_WORKBOOK_ROWS` asks for another size; what does not grow with the ledger (a thousand
items, their outlook) weighs more in a smaller one.
"""

import os
import tracemalloc
from datetime import date, timedelta
from time import process_time

import pytest
from openpyxl import Workbook

from api.ledger.reports import tracking_workbook
from api.store.accounts import open_account
from api.store.caller import Caller
from tests.benchmarks.large_ledger import A_DAY, OPENED, open_large_books

ROWS, ROWS_WITHOUT_TIMING = int(os.environ.get("GROUNDSILL_WORKBOOK_ROWS", "100000")), 100
LEAST_RATIO, MOST_BYTES, ROUNDS = 0.8, 60_000_000, 2
BARE = (date(2026, 3, 2), "bill", "Vendor 7", "D-17", "", "10.007", "material", 107.5, 0.5, 50.5)


def seconds_of_bare(rows, path):
    """Return how long openpyxl takes to write so many rows of the columns of a ledger."""
    began = process_time()
    workbook = Workbook(write_only=True)
    sheet = workbook.create_sheet("Ledger")
    for number in range(rows):
        sheet.append([number, *BARE])
    workbook.save(path)
    return process_time() - began


def most_bytes(run):
    """Return the most memory that a run holds besides what was there [byte]."""
    tracemalloc.start()
    try:
        run()
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


@pytest.mark.benchmark(timer=process_time)
def test_a_large_ledger_is_written_at_four_fifths_of_the_rate_of_bare_rows(
    benchmark, store, tmp_path
):
    rows = ROWS if benchmark.enabled else ROWS_WITHOUT_TIMING
    caller = Caller(open_account(store, "large", OPENED))
    project_id = open_large_books(store, caller, tmp_path, rows)
    later = OPENED + timedelta(days=rows // A_DAY + 1)

    def written():
        with store.reading(caller) as session:
            return tracking_workbook(session, project_id, later.date(), later)

    assert benchmark.pedantic(written, rounds=ROUNDS).startswith(b"PK")
    if benchmark.enabled:
        bare = min(seconds_of_bare(rows, tmp_path / "bare.xlsx") for _ in range(ROUNDS))
        ratio, held = bare / benchmark.stats.stats.min, most_bytes(written)
        benchmark.extra_info.update(rows=rows, ratio_to_bare_rows=ratio, bytes=held)
        assert held <= MOST_BYTES
        assert ratio >= LEAST_RATIO
