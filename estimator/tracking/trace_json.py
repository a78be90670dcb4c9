"""A trace as JSON: sums as decimal texts."""

from __future__ import annotations

from typing import Any

from estimator.money import cents_text
from estimator.tracking.ledger_lines import LedgerLine
from estimator.tracking.traced_rows import Trace


def trace_fields(traced: Trace) -> dict[str, Any]:
    """Return where the figures of a cost code come from, as JSON."""
    status = traced.status
    return {
        "code": status.code,
        "name": status.name,
        "billed": cents_text(status.spent.billed_cents),
        "accrued": cents_text(status.spent.accrued_cents),
        "incurred": cents_text(status.spent.incurred_cents),
        "paid": cents_text(status.spent.paid_cents),
        "rows": [_row(one) for one in traced.rows],
        "budget": cents_text(status.budget_cents),
        "baseline": cents_text(status.baseline_cents),
        "baseline_lines": cents_text(traced.lines_cents),
        "baseline_markups": cents_text(traced.spread_cents),
        "markups": list(traced.markups),
        "changes": [
            {
                "row": change.row,
                "happened": change.happened.isoformat(),
                "reason": change.reason,
                "amount": cents_text(cents),
            }
            for change, cents in traced.changes
        ],
        "measured": [
            {
                "row": one.row,
                "happened": one.happened.isoformat(),
                "in_place": f"{one.in_place:f}",
                "by": "inspector" if one.is_inspector else "us",
                "reason": one.reason,
            }
            for one in traced.measured
        ],
    }


def _row(row: LedgerLine) -> dict[str, Any]:
    return {
        "row": row.row,
        "happened": row.happened.isoformat(),
        "entered": row.entered.isoformat(),
        "what": row.entry,
        "party": row.party,
        "document": row.document,
        "kind": row.place[1],
        "billed": cents_text(row.spent.billed_cents),
        "accrued": cents_text(row.spent.accrued_cents),
        "paid": cents_text(row.spent.paid_cents),
        "covers": list(row.covers),
        "payments": list(row.payments),
        "note": row.note,
    }
