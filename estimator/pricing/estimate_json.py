"""An estimate as JSON: a stable form for other programs, described in docs/estimate-json.md.

Money and quantities are decimal strings; keys stand in a fixed order; the same estimate gives the
same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from estimator.money import dollars
from estimator.pricing import summaries
from estimator.pricing.estimate import Estimate

FORM = 1


def estimate_json(estimate: Estimate) -> str:
    """Return an estimate as JSON text with two-space indentation and a final newline."""
    return json.dumps(estimate_fields(estimate), indent=2, ensure_ascii=False) + "\n"


def estimate_fields(estimate: Estimate) -> dict[str, Any]:
    """Return an estimate as plain dictionaries, lists and strings."""
    return {
        "form": FORM,
        "project": estimate.scope.project,
        "on": estimate.on.isoformat(),
        "digest": estimate.digest,
        "tables": {"sets": list(estimate.tables.sets), "digest": estimate.tables.digest},
        "totals": _totals(estimate),
        "markups": _markups(estimate),
        "by_phase": _by_phase(estimate),
        "by_kind": _texts(summaries.cash_by_kind(estimate)),
        "by_element": _texts(summaries.cash_by_element(estimate)),
        "by_credit": _texts(summaries.cash_by_credit(estimate)),
        "labor_hours": _texts(summaries.labor_hours(estimate)),
        "machine_days": _texts(summaries.machine_days(estimate)),
        "machine_hours": _texts(summaries.machine_hours(estimate)),
        "planning_quantities": _texts(summaries.planning_quantities(estimate)),
        "items": _items(estimate),
        "lines": _lines(estimate),
        "warnings": list(estimate.warnings),
        "cautions": _cautions(estimate),
        "assumptions": list(estimate.scope.assumptions),
    }


def _texts(amounts: Mapping[str, Decimal]) -> dict[str, str]:
    return {name: f"{amount:f}" for name, amount in amounts.items()}


def _totals(estimate: Estimate) -> dict[str, str]:
    return _texts(
        {
            "direct_cost": estimate.direct_cost,
            "cash_cost": estimate.cash_cost,
            "own_value": estimate.own_value,
            "full_cost": estimate.full_cost,
        }
    )


def _markups(estimate: Estimate) -> list[dict[str, Any]]:
    return [
        {
            "code": one.markup.code,
            "name": one.markup.name,
            "percent": None if one.markup.percent is None else f"{one.markup.percent:f}",
            "on": list(one.markup.on),
            "base": f"{dollars(one.base_cents):f}",
            "amount": f"{dollars(one.amount_cents):f}",
        }
        for one in estimate.markups
    ]


def _by_phase(estimate: Estimate) -> list[dict[str, str]]:
    cash, own = summaries.cash_by_phase(estimate), summaries.own_by_phase(estimate)
    return [
        {
            "phase": phase.code,
            "name": phase.name,
            "cash": f"{cash[phase.code]:f}",
            "own": f"{own[phase.code]:f}",
        }
        for phase in estimate.scope.phases
    ]


def _items(estimate: Estimate) -> list[dict[str, Any]]:
    return [
        {
            "item": row["item"],
            "name": row["name"],
            "assembly": row["assembly"],
            "quantity": f"{row['quantity']:.{row['decimals']}f}",
            "unit": row["unit"],
            "crew": row["crew"],
            "crew_hours": f"{row['crew_hours']:.2f}",
            "element": row["element"],
            "credit": row["credit"],
            "cash": f"{dollars(row['cash_cents']):f}",
            "own": f"{dollars(row['own_cents']):f}",
        }
        for row in estimate.items.to_dict("records")
    ]


def _lines(estimate: Estimate) -> list[dict[str, Any]]:
    return [_line(row) for row in estimate.lines.to_dict("records")]


def _line(row: Mapping[Any, Any]) -> dict[str, Any]:
    quantities = {
        name: f"{row[name]:.{row['decimals']}f}"
        for name in ("net", "waste", "left_over", "ordered")
    }
    return {
        "item": row["item"],
        "line": row["line"],
        "resource": row["resource"],
        "name": row["name"],
        "kind": row["kind"],
        **quantities,
        "unit": row["unit"],
        "rate": f"{row['rate']:f}",
        "source": row["source"],
        "rate_row": row["rate_row"],
        "paid": bool(row["paid"]),
        "amount": f"{dollars(row['cents']):f}",
    }


def _cautions(estimate: Estimate) -> list[dict[str, Any]]:
    return [
        {
            "code": note.caution.code,
            "caution": note.caution.caution,
            "defer_to": note.caution.defer_to,
            "source": note.caution.source,
            "items": list(note.items),
        }
        for note in estimate.cautions
    ]
