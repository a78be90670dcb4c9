"""A scope in JSON as the same located text that YAML gives; its places are pointers."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from api.contract.fields import decimal_text
from api.contract.places import pointer
from estimator.errors import Faults, ScopeFaulty, fault

if TYPE_CHECKING:
    from estimator.scope.located import Located


def located_json(value: Any, where: str, faults: Faults | None = None) -> Located:
    """Return the located text of a JSON value.

    Parameters
    ----------
    value : dict, list, str, int or Decimal
        As `read_json` gives it.
    where : str
        Its pointer.
    faults : Faults, optional
        Where null, true and false are noted, which say nothing in a scope.

    Raises
    ------
    ScopeFaulty
        At the first of them, if there is nowhere to note it.

    Examples
    --------
    >>> located_json({"depth": ["1 ft"]}, "#/scope").entries["depth"].parts[0].where
    '#/scope/depth/0'
    """
    from estimator.scope.located import Listing, Section, Text

    if isinstance(value, dict):
        entries = {
            key: located_json(one, pointer(key, of=where), faults) for key, one in value.items()
        }
        return Section(entries, where)
    if isinstance(value, list):
        parts = (located_json(one, pointer(n, of=where), faults) for n, one in enumerate(value))
        return Listing(tuple(parts), where)
    if isinstance(value, str):
        return Text(value, where)
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return Text(decimal_text(Decimal(value)), where)
    what, remedy = "says nothing here", "write a text, or leave it out"
    if faults is None:
        raise fault(ScopeFaulty, what, remedy, where)
    faults.add(where, what, remedy)
    return Text("", where)
