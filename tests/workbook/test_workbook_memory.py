"""What a long workbook takes of the memory while it is written."""

import tracemalloc

from estimator.pricing.estimate import Estimate
from estimator.scheduling.dated_estimate import price
from estimator.workbook.estimate_workbook import estimate_bytes
from tests.factories import item, scope_of
from tests.workbook.estimates import PRICING_DATE, sample_tables

LINES_OF_ITEM = 5


def long_estimate(count: int) -> Estimate:
    tables = sample_tables()
    measures = {"length": "62 ft 6 in", "width": "22'-4\"", "depth": "4 ft"}
    items = [item(str(n), "stone-fill-skid-steer", **measures) for n in range(count)]
    estimate = price(scope_of(tables, {"20": items}), tables, PRICING_DATE)
    assert len(estimate.priced.lines.cents) == LINES_OF_ITEM * count
    return estimate


def most_bytes(estimate: Estimate) -> int:
    tracemalloc.start()
    try:
        estimate_bytes(estimate)
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


def test_a_line_takes_less_than_2500_bytes_so_that_10000_items_fit_into_300_megabytes() -> None:
    most_bytes(long_estimate(1))
    few, many = most_bytes(long_estimate(200)), most_bytes(long_estimate(1_200))
    assert (many - few) / (1_000 * LINES_OF_ITEM) < 2_500
