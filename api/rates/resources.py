"""Resources at the rates of a day: what an owner-builder looks up before they ask for a quote."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING, Any

from api.contract.lists import page_of_listed
from api.contract.services import Services
from api.rates.looked_up import tables_to_look_in
from api.rates.lookup_shapes import ResourceQuery, ResourceRateAnswer
from api.store.caller import Caller

if TYPE_CHECKING:
    from estimator.rates.resources import RateTable, ResourceRate


def page_of_resources(
    parts: Services, caller: Caller, query: ResourceQuery, key: bytes
) -> dict[str, Any]:
    """Return a page of the resources that the filters select and that have a rate on the day.

    Parameters
    ----------
    parts, caller : Services, Caller
    query : ResourceQuery
    key : bytes
        What cursors are signed with.
    """
    rates = tables_to_look_in(parts, caller, query).rates
    on = query.on or parts.now.date()
    matching = [
        one
        for one in _in_force(rates, on)
        if query.names(one.code, one.name) and query.kind in (None, one.kind)
    ]
    page = page_of_listed(matching, lambda one: str(one.code), query, key)
    return {
        "on": on.isoformat(),
        "resources": ResourceRateAnswer(many=True).dump(page.rows),
        "next": page.next,
    }


def _in_force(rates: RateTable, on: date) -> Iterator[ResourceRate]:
    from estimator.errors import RateMissing

    for code in rates.codes:
        try:
            yield rates.rate_on(code, on)
        except RateMissing:
            continue
