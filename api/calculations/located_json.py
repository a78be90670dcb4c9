"""A scope in JSON as the same located text that YAML gives; its places are pointers."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from api.contract.fields import decimal_text
from api.contract.places import pointer
from estimator.errors import ScopeFaulty, fault

if TYPE_CHECKING:
    from estimator.scope.located import Located


def located_json(value: Any, where: str) -> Located:
    """Return the located text of a JSON value.

    Parameters
    ----------
    value : dict, list, str, int or Decimal
        As `read_json` gives it.
    where : str
        Its pointer.

    Raises
    ------
    ScopeFaulty
        At null, true and false, which say nothing in a scope.

    Examples
    --------
    >>> located_json({"depth": ["1 ft"]}, "#/scope").entries["depth"].parts[0].where
    '#/scope/depth/0'
    """
    from estimator.scope.located import Listing, Section, Text

    if isinstance(value, dict):
        entries = {key: located_json(one, pointer(key, of=where)) for key, one in value.items()}
        return Section(entries, where)
    if isinstance(value, list):
        parts = (located_json(one, pointer(n, of=where)) for n, one in enumerate(value))
        return Listing(tuple(parts), where)
    if isinstance(value, str):
        return Text(value, where)
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return Text(decimal_text(Decimal(value)), where)
    raise fault(ScopeFaulty, "says nothing here", "write a text, or leave it out", where)
