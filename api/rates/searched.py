"""What the tables hold that has certain words in it, with the prices of a day."""

from __future__ import annotations

from typing import Any

from api.contract.services import Services
from api.rates.looked_up import tables_to_look_in
from api.rates.lookup_shapes import SearchQuery
from api.store.caller import Caller


def search_json(parts: Services, caller: Caller, query: SearchQuery) -> dict[str, Any]:
    """Return what a search finds, as `groundsill search --json` prints it."""
    from estimator.assemblies.table_search import search
    from estimator.assemblies.table_search_json import matches_fields

    day = query.on or parts.now.date()
    return matches_fields(search(tables_to_look_in(parts, caller, query), query.words, day), day)
