"""An estimate as JSON: a stable form for other programs, described in docs/estimate-json.md.

Money and quantities are decimal strings; keys stand in a fixed order; the same estimate gives the
same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from estimator.money import dollars, from_fixed_point
from estimator.pricing import summaries
from estimator.pricing.estimate import Estimate
from estimator.pricing.indented_json import indented_json
from estimator.rates.resources import ResourceRate

FORM = 1


def estimate_json(estimate: Estimate, risk: Mapping[str, Any] | None = None) -> str:
    """Return an estimate as JSON text with two-space indentation and a final newline.

    Parameters
    ----------
    estimate : Estimate
    risk : mapping or None
        How sure it is, from `risk_fields`; under the key `risk`.
    """
    fields = estimate_fields(estimate) | ({} if risk is None else {"risk": risk})
    return indented_json(fields) + "\n"


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
        for row in _rows(estimate.item_columns)
    ]


def _rows(columns: Mapping[str, list[Any]]) -> Iterator[dict[str, Any]]:
    for row in zip(*columns.values(), strict=True):
        yield dict(zip(columns, row, strict=True))


def _lines(estimate: Estimate) -> list[dict[str, Any]]:
    """Return the cost lines, from their whole numbers: what they share is written once."""
    lines, items = estimate.priced.lines, estimate.scope.items
    resources, rates = [_resource(one) for one in lines.rates], [_rate(one) for one in lines.rates]
    columns = (
        lines.item, lines.number, lines.kind_of_line, lines.decimals,
        lines.net, lines.waste, lines.ordered, lines.cents,
    )  # fmt: skip
    return [
        {
            "item": items[item].code,
            "line": number,
            **resources[kind],
            "net": _quantity(net, decimals),
            "waste": _quantity(waste, decimals),
            "left_over": _quantity(ordered - net - waste, decimals),
            "ordered": _quantity(ordered, decimals),
            **rates[kind],
            "amount": f"{dollars(cents):f}",
        }
        for item, number, kind, decimals, net, waste, ordered, cents in zip(
            *(column.tolist() for column in columns), strict=True
        )
    ]


def _resource(rate: ResourceRate) -> dict[str, Any]:
    return {"resource": rate.code, "name": rate.name, "kind": rate.kind}


def _rate(rate: ResourceRate) -> dict[str, Any]:
    return {
        "unit": rate.unit.name,
        "rate": f"{rate.rate:f}",
        "source": rate.source,
        "rate_row": str(rate.origin),
        "paid": rate.is_paid,
    }


def _quantity(scaled: int, decimals: int) -> str:
    return f"{from_fixed_point(scaled, decimals):f}"


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
