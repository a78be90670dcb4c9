"""A small job with a loan: three lines of work, a contingency, overhead; entries by the month."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

from estimator.funding.draw_decisions import Cut, Funding, funding_of, granted
from estimator.funding.draw_from_books import draw_from_books
from estimator.funding.draw_papers import Papers
from estimator.funding.draw_requests import CONTINGENCY_LINE, SOFT, DrawRequest
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.funding.loan_interest import RateStep
from estimator.funding.loan_schedule import Loan, LoanLine, frozen_loan
from estimator.funding.loan_terms import LoanTerms
from estimator.tracking.books import Books
from estimator.tracking.budget import BudgetCode, Change, ChangePart
from estimator.tracking.ledger_rows import Cost, CostSplit, Payment
from estimator.tracking.progress import Progress

CLOSED = date(2026, 4, 1)
MONTH_END = date(2026, 4, 30)
NOW = datetime(2026, 4, 1, 12, tzinfo=UTC)
LATER = datetime(2026, 12, 31, 12, tzinfo=UTC)
TERMS = LoanTerms(
    "Canal Bank", 40_000_00, 12_000_00, CLOSED, date(2027, 4, 1),
    (RateStep(CLOSED, Decimal("0.0875")),), evidence=(), waivers="none",
)  # fmt: skip
BUDGET = {
    code: BudgetCode(code, name, code[:2] if "." in code else "", Decimal(100), unit, {kind: cents})
    for code, name, unit, kind, cents in [
        ("20.010", "Floor out", "sf", "labor", 10_000_00),
        ("30.010", "Stone", "ton", "material", 20_000_00),
        ("40.010", "Slab", "sf", "material", 15_000_00),
        ("overhead", "Overhead", "", "markup", 3_000_00),
        ("contingency", "Contingency", "", "markup", 4_000_00),
    ]
}
LINES = (
    LoanLine("1", "Demolition", codes=("20",)),
    LoanLine("2", "Stone", codes=("30.010",)),
    LoanLine("3", "Slab", codes=("40",)),
    LoanLine("4", "Overhead", SOFT, codes=("*",)),
    LoanLine("5", "Contingency", CONTINGENCY_LINE, codes=("contingency",)),
)


def moment(day: date) -> datetime:
    """The morning of a day."""
    return datetime(day.year, day.month, day.day, 8, tzinfo=UTC)


def bill(row: int, code: str, cents: int, day: date = date(2026, 4, 10), **other) -> Cost:
    """A bill of a vendor on one code."""
    said = {"vendor": "Quarry", "document": f"Q-{row}", "note": ""} | other
    return Cost(row, day, moment(day), splits=(CostSplit(code, "material", cents, 0),), **said)


def paid(row: int, cost: int, cents: int, day: date = date(2026, 4, 20)) -> Payment:
    return Payment(row, day, moment(day), cost, cents, "check 204")


def measured(row: int, code: str, percent: int, day: date = date(2026, 4, 25), **other) -> Progress:
    return Progress(row, day, moment(day), code, Decimal(percent), is_percent=True, **other)


def change(row: int, day: date, cents: dict[str, int]) -> Change:
    """An approved change, by code."""
    parts = tuple(ChangePart(code, {"material": own}, Decimal(0), 0) for code, own in cents.items())
    return Change(row, day, moment(day), "soft ground", parts)


def loan(terms: LoanTerms = TERMS, lines: tuple[LoanLine, ...] = LINES, **other) -> Loan:
    return frozen_loan(replace(terms, **other), lines, BUDGET, NOW)


def draw(
    books: Books, history: DrawHistory | None = None, of: Loan | None = None,
    papers: Papers | None = None, **said,
) -> DrawRequest:  # fmt: skip
    """A draw through the end of a month."""
    before = history or DrawHistory()
    number = before.last.number + 1 if before.last else 1
    said = {"number": number, "issue": 1, "through": MONTH_END} | said
    return draw_from_books(
        "Barn", of or loan(), BUDGET, books, Drawing(**said), before, papers or Papers(), LATER
    )


def after(
    request: DrawRequest, history: DrawHistory | None = None, cuts: tuple[Cut, ...] = (),
    short: int = 0,
) -> tuple[DrawHistory, Funding]:  # fmt: skip
    """What has come before once a draw is granted and funded, in full or short."""
    before = history or DrawHistory()
    own = granted(request, cuts)
    funding = funding_of(own, date(2027, 1, 1), own.totals.loan_cents - short)
    drawn = dict(before.drawn)
    for part in own.backup:
        key = (part.row, part.line)
        drawn[key] = drawn.get(key, 0) + part.cents
    equity = before.equity_cents + funding.equity_cents
    return DrawHistory(own, drawn, equity, before.loan_cents + funding.loan_cents), funding
