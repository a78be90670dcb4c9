"""How long a report of a thousand items takes over a large ledger, on both databases.

    pytest tests/benchmarks/test_report_speed.py --benchmark-enable -n 0

Reports go by sums that are kept with the entries. So over ten times the rows a report takes at most
five times as long, and at most 300 ms; `GROUNDSILL_LEDGER_ROWS=1000000` asks for the full size.
"""

import os
from datetime import timedelta
from time import perf_counter

from api.ledger.reports import track_of
from api.store.accounts import open_account
from api.store.caller import Caller
from tests.benchmarks.large_ledger import OPENED, open_large_books

ROWS, ROWS_WITHOUT_TIMING = int(os.environ.get("GROUNDSILL_LEDGER_ROWS", "100000")), 400
MOST_SECONDS, MOST_GROWTH = 0.3, 5
LATER = OPENED + timedelta(days=1500)


def reported(store, caller, project_id):
    with store.reading(caller) as session:
        return track_of(session, project_id, LATER.date(), LATER)


def seconds(run):
    began = perf_counter()
    run()
    return perf_counter() - began


def test_a_report_of_a_large_ledger_takes_little_longer_than_that_of_a_small_one(
    benchmark, store, tmp_path
):
    rows = ROWS if benchmark.enabled else ROWS_WITHOUT_TIMING
    runs = []
    for name, count in (("small", rows // 10), ("large", rows)):
        caller = Caller(open_account(store, name, OPENED))
        project_id = open_large_books(store, caller, tmp_path, count)
        runs.append(
            lambda caller=caller, project_id=project_id: reported(store, caller, project_id)
        )
    small, large = runs
    report = large()
    assert report.status.whole().spent.billed_cents > 0
    benchmark.pedantic(large, rounds=5)
    if benchmark.enabled:
        small()
        least = min(seconds(small) for _ in range(5))
        taken = benchmark.stats.stats.min
        benchmark.extra_info.update(rows=rows, small=least, large=taken)
        assert taken <= MOST_SECONDS
        assert taken / least <= MOST_GROWTH
