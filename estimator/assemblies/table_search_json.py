"""What a search of the tables finds, for other programs."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from estimator.assemblies.table_search import Match
from estimator.money import exact_arithmetic, rate_text


@exact_arithmetic
def matches_fields(matches: Iterable[Match], on: date) -> dict[str, Any]:
    """Return matches as plain JSON: amounts are texts, in dollars per unit."""
    return {
        "on": on.isoformat(),
        "matches": [
            {
                "sort": one.sort,
                "code": one.code,
                "words": one.words,
                "unit": one.unit,
                "prices": [
                    {"amount": rate_text(price.amount), "unit": price.unit, "paid": price.is_paid}
                    for price in one.prices
                ],
            }
            for one in matches
        ],
    }
