"""Rows of money and monthly movements as plain JSON: dollars as text, days and times in ISO."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from estimator.money import cents_text
from estimator.tracking.money_lines import MoneyLine
from estimator.tracking.monthly_movements import MonthMovement

MOVEMENTS = ("planned", "earned", "incurred", "paid")


def money_line_fields(one: MoneyLine) -> dict[str, Any]:
    """Return a row of money as plain JSON, in the order of the columns of a table."""
    return {
        "row": one.row,
        "entry": one.entry,
        "happened": one.happened.isoformat(),
        "entered": one.entered.isoformat(),
        "party": one.party,
        "document": one.document,
        "note": one.note,
        "code": one.code,
        "kind": one.kind,
        "quantity": None if one.quantity is None else f"{one.quantity:f}",
        "unit": one.unit,
        "net": _dollars(one.net_cents),
        "tax": _dollars(one.tax_cents),
        "amount": cents_text(one.cents),
        "billed": cents_text(one.spent.billed_cents),
        "accrued": cents_text(one.spent.accrued_cents),
        "paid": cents_text(one.spent.paid_cents),
        "open": cents_text(one.spent.open_cents),
        "reverses": one.reverses,
        "pays": one.pays,
        "bank_line": one.bank_line,
    }


def _dollars(cents: int | None) -> str | None:
    return None if cents is None else cents_text(cents)


def months_fields(movements: Iterable[MonthMovement]) -> dict[str, Any]:
    """Return what each month added, and all of them together, as plain JSON."""
    listed = list(movements)
    months = [
        {"month": f"{one.first:%Y-%m}", "through": one.last.isoformat()}
        | {name: cents_text(getattr(one, f"{name}_cents")) for name in MOVEMENTS}
        for one in listed
    ]
    totals = {name: sum(getattr(one, f"{name}_cents") for one in listed) for name in MOVEMENTS}
    return {
        "months": months,
        "total": {name: cents_text(cents) for name, cents in totals.items()},
    }
