"""The difference of two estimates as plain fields; money and quantities are decimal texts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from estimator.money import RATE_DECIMALS, cents_text, fixed_point_text
from estimator.pricing.cost_line import CostLine
from estimator.pricing.indented_json import indented_json
from estimator.studies.difference.estimate_difference import (
    EstimateDifference,
    LineDifference,
    SumDifference,
)

FORM = 1


def estimate_difference_json(difference: EstimateDifference) -> str:
    """Return a difference as JSON text with two-space indentation and a final newline."""
    return indented_json(estimate_difference_fields(difference)) + "\n"


def estimate_difference_fields(difference: EstimateDifference) -> dict[str, Any]:
    """Return a difference as dictionaries, lists and strings; of the lines those that changed."""
    changed = difference.changed_lines
    return {
        "form": FORM,
        "totals": {
            one.code: {"before": cents_text(one.before), "after": cents_text(one.after),
                       "difference": cents_text(one.cents)}
            for one in difference.totals
        },
        "by_cause": _causes(difference.cents_by_cause),
        "markups": _sums(difference.markups),
        "by_phase": _sums(difference.by_phase),
        "by_item": _sums(difference.by_item),
        "by_kind": _sums(difference.by_kind),
        "lines": [_line(one) for one in changed],
        "unchanged_lines": len(difference.lines) - len(changed),
    }  # fmt: skip


def _sums(sums: Iterable[SumDifference]) -> list[dict[str, str]]:
    return [
        {
            "code": one.code,
            "name": one.name,
            "before": cents_text(one.before),
            "after": cents_text(one.after),
            "difference": cents_text(one.cents),
        }
        for one in sums
    ]


def _line(one: LineDifference) -> dict[str, Any]:
    shown = one.shown
    return {
        "item": shown.item,
        "assembly": shown.assembly,
        "resource": shown.resource,
        "name": shown.name,
        "kind": shown.kind,
        "unit": shown.unit,
        "paid": shown.is_paid,
        "before": _figures(one.before),
        "after": _figures(one.after),
        "difference": cents_text(one.cents),
        "why": list(one.why),
        "by_cause": _causes(one.cents_by_cause),
    }


def _figures(line: CostLine | None) -> dict[str, Any] | None:
    if line is None:
        return None
    return {
        "line": line.line,
        "ordered": fixed_point_text(line.ordered, line.decimals),
        "rate": fixed_point_text(line.rate, RATE_DECIMALS),
        "amount": cents_text(line.cents),
    }


def _causes(cents: Mapping[str, int]) -> dict[str, str]:
    return {cause: cents_text(amount) for cause, amount in cents.items()}
