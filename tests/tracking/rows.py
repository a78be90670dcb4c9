"""Rows of invented books, with what most tests do not care about filled in."""

from datetime import UTC, date, datetime
from decimal import Decimal

from estimator.tracking.ledger_lines import lines_of
from estimator.tracking.ledger_rows import Cost, CostSplit, Payment, as_known
from estimator.tracking.ledger_sums import sums_of
from estimator.tracking.progress import Progress
from estimator.tracking.tickets import Ticket

MONDAY = date(2026, 5, 4)
LATER = date(2026, 12, 31)


def at(day: date, hour: int = 18) -> datetime:
    return datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


NOW = at(LATER)


def cost(row: int, *splits: tuple[str, str, int, int], happened: date = MONDAY, **more) -> Cost:
    """Return a cost of splits `(code, kind, net, tax)`."""
    fields = {"entered": at(happened), "vendor": "Quarry", "document": f"Q-{row}", "note": ""}
    parts = tuple(CostSplit(*split) for split in splits)
    return Cost(row=row, happened=happened, splits=parts, **(fields | more))


def payment(row: int, of: int, cents: int, happened: date = MONDAY, **more) -> Payment:
    fields = {"entered": at(happened), "means": "check"} | more
    return Payment(row=row, happened=happened, cost=of, cents=cents, **fields)


def ticket(row: int, cents: int, happened: date = MONDAY, **more) -> Ticket:
    fields = {
        "entered": at(happened), "number": f"T-{row}", "vendor": "Quarry", "truck": "7",
        "code": "20.010", "kind": "material", "quantity": Decimal("16.25"), "unit": "ton",
    }  # fmt: skip
    return Ticket(row=row, happened=happened, cents=cents, **(fields | more))


def progress(row: int, code: str, in_place: str, happened: date = MONDAY, **more) -> Progress:
    fields = {"entered": at(happened)} | more
    return Progress(row=row, happened=happened, code=code, in_place=Decimal(in_place), **fields)


def spent_of(rows, as_of: date = LATER, known_on: datetime = NOW):
    """Return what rows of costs, payments, tickets and hours come to by code and kind."""
    return sums_of(lines_of(as_known(rows, as_of, known_on))).spent()
