"""The sheet of rates: each row that priced something, the one place where a rate is changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from estimator.money import RATE_DECIMALS, fixed_point
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Rates"
COLUMNS = (
    Column("No.", 5, True),
    Column("Resource", 40),
    Column("Kind", 12),
    Column("Unit", 8),
    Column("Rate\n[$ per unit]", 12, True),
    Column("Low\n[$ per unit]", 11, True),
    Column("High\n[$ per unit]", 11, True),
    Column("Date of\nthe rate", 11, True),
    Column("Quote valid\nuntil", 11, True),
    Column("Paid in\ncash", 8),
    Column("Source", 36),
    Column("Row of the rate tables", 28),
)
_RATE_COLUMN = 5
NOTE = (
    "Every rate the estimate uses. You may change the shaded rates here: cost lines, items, "
    "markups and totals follow. The owner's own labor and material have a value but are not part "
    "of the cash cost. A salvage rate is what a unit sells for: a source of money, not a cost."
)
EXPIRED = "EXPIRED: get a new quote"


RateKey = tuple[str, int, str]


@dataclass(frozen=True)
class RatesPlaced:
    """The number that the sheet gives a rate, and its address, by resource, rate and source.

    Own material that the job recovers has the number of its value, by its code alone.
    """

    numbers: Mapping[RateKey, int]
    addresses: Mapping[RateKey, str]
    of_resource: Mapping[str, int]


def write_rates(book: Book, estimate: PrintedEstimate, page: PageSetup) -> RatesPlaced:
    """Write the sheet and return where each rate stands."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    numbers: dict[RateKey, int] = {}
    addresses: dict[RateKey, str] = {}
    for number, rate in enumerate(estimate.rates, start=1):
        has_expired = rate.has_expired(estimate.on)
        pen.number(1, number, "plain number")
        pen.text(2, rate.name)
        pen.text(3, rate.kind)
        pen.text(4, rate.unit.name)
        pen.number(_RATE_COLUMN, float(rate.rate), "input rate")
        pen.number(6, None if rate.low is None else float(rate.low), "plain rate")
        pen.number(7, None if rate.high is None else float(rate.high), "plain rate")
        pen.number(8, rate.set_on, "plain day")
        pen.number(9, rate.valid_until, "warning day" if has_expired else "plain day")
        pen.text(10, "yes" if rate.is_paid else "no")
        pen.text(11, f"{EXPIRED}. {rate.source}" if has_expired else rate.source,
                 "warning" if has_expired else "plain")  # fmt: skip
        pen.text(12, str(rate.origin))
        key = rate.code, fixed_point(rate.rate, RATE_DECIMALS), rate.source
        numbers[key] = number
        addresses[key] = pen.from_elsewhere(_RATE_COLUMN)
        pen.down()
    pen.finish(page)
    return RatesPlaced(numbers, addresses, {key[0]: one for key, one in numbers.items()})
