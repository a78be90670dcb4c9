"""The file of the rehabilitation credit as JSON: sums as decimal texts, days as dates."""

from __future__ import annotations

from typing import Any

from estimator.funding.credit_entries import CreditEntry
from estimator.funding.credit_from_books import CreditFile
from estimator.funding.tax_credit import ASK, Window
from estimator.money import cents_text


def credit_fields(shown: CreditFile) -> dict[str, Any]:
    """Return the file as `docs/draws.md` describes it.

    Parameters
    ----------
    shown : CreditFile
        What the books give.
    """
    facts, credit = shown.facts, shown.credit
    return {
        "basis": cents_text(facts.basis_cents),
        "placed_in_service": facts.placed_in_service.isoformat(),
        "months": facts.months,
        "cash_basis": facts.is_cash_basis,
        "by_answer": {key: cents_text(own) for key, own in shown.cents_by_answer.items()},
        "by_code": {key: cents_text(own) for key, own in shown.cents_by_code.items()},
        "later": cents_text(shown.later_cents),
        "unpaid_labor": {
            "hours": f"{shown.unpaid.hours:f}",
            "value": cents_text(shown.unpaid.cents),
        },
        "windows": [_window(one) for one in shown.windows],
        "credit": cents_text(credit.credit_cents),
        "by_year": [{"year": year, "amount": cents_text(own)} for year, own in credit.by_year],
        "basis_reduction": cents_text(credit.basis_reduction_cents),
        "recapture": [
            {
                "until": one.until.isoformat(),
                "percent": one.percent,
                "amount": cents_text(one.cents),
            }
            for one in shown.recapture
        ],
        "dangers": list(shown.dangers),
        "entries": [_entry(one) for one in shown.entries],
        "note": ASK,
    }


def _window(window: Window) -> dict[str, Any]:
    return {
        "start": window.start.isoformat(),
        "end": window.end.isoformat(),
        "spent": cents_text(window.spent_cents),
        "basis": cents_text(window.basis_cents),
        "to_exceed": cents_text(window.needed_cents),
        "over": cents_text(window.over_cents),
        "passes": window.passes,
    }


def _entry(entry: CreditEntry) -> dict[str, Any]:
    return {
        "row": entry.row,
        "day": entry.day.isoformat(),
        "vendor": entry.vendor,
        "document": entry.document,
        "code": entry.code,
        "kind": entry.kind,
        "amount": cents_text(entry.cents),
        "answer": entry.answer,
        "reason": entry.reason,
        "override": entry.is_override,
        "papers": list(entry.papers),
        "missing": list(entry.missing),
        "before_approval": entry.is_before_approval,
    }
