"""A comparison of rate tables as plain fields, for other programs; money is decimal strings."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from estimator.assemblies.tables import Tables
from estimator.money import exact_arithmetic
from estimator.studies.difference.rates_difference import RatesDifference, RowChange
from estimator.studies.difference.scope_effect import AmountChange, ScopeEffect

FORM = 1


@exact_arithmetic
def rates_difference_fields(
    difference: RatesDifference, effect: ScopeEffect | None = None
) -> dict[str, Any]:
    """Return a comparison, and what it does to a scope, as dictionaries, lists and strings.

    Fractions (`rate_change`, `rise_fraction`) have six decimals: 0.050000 is 5 %.
    """
    fields: dict[str, Any] = {
        "form": FORM,
        "before": _set(difference.before),
        "after": _set(difference.after),
        "changes": [_change(one) for one in difference.changes],
    }
    if effect is not None:
        fields["scope"] = {
            "items": _amounts(effect.items),
            "unchanged": effect.unchanged,
            "totals": _amounts(effect.totals),
            "hidden_by_quotes": [
                {"table": one.file, "key": list(one.key)} for one in effect.hidden
            ],
        }
    return fields


def _set(tables: Tables) -> dict[str, Any]:
    return {"sets": list(tables.sets), "digest": tables.digest}


def _change(change: RowChange) -> dict[str, Any]:
    return {
        "table": change.file,
        "key": list(change.key),
        "manner": change.manner,
        "fields": [{"column": one.column, "old": one.old, "new": one.new} for one in change.fields],
        "old": None if change.old is None else dict(change.old),
        "new": None if change.new is None else dict(change.new),
        "old_rate": _text(change.old_rate),
        "new_rate": _text(change.new_rate),
        "rate_change": _fraction(change.rate_change),
    }


def _amounts(amounts: Sequence[AmountChange]) -> list[dict[str, Any]]:
    return [
        {
            "code": one.code,
            "name": one.name,
            "old": f"{one.old:f}",
            "new": f"{one.new:f}",
            "rise": f"{one.rise:f}",
            "rise_fraction": _fraction(one.rise_fraction),
        }
        for one in amounts
    ]


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:f}"


def _fraction(fraction: Decimal | None) -> str | None:
    return None if fraction is None else f"{fraction:.6f}"
