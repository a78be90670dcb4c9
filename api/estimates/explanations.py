"""The working of stored lines, from the measures of the scope to their cents."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Any
from uuid import UUID

from api.contract.places import parameter
from api.estimates.made_again import files_of, made_with
from api.estimates.shown import lines_stored, shown_estimate
from api.projects.written_scope import read_written
from api.rates.project_tables import tables_of
from api.store.caller import Caller
from api.store.errors import NotFound
from api.store.store import Store
from estimator.errors import GroundsillError, fault, quoted
from estimator.pricing.cost_line import CostLine

if TYPE_CHECKING:
    from estimator.pricing.explain import ItemExplainer

# What a scope or tables of another version may lead to.
_UNREADABLE = (GroundsillError, LookupError, StopIteration, TypeError, ValueError)
_PRICED = (
    "code", "name", "assembly", "inputs", "crew", "methods", "method", "subcontract", "lump_sum",
    "allowance",
)  # fmt: skip


def explained(
    store: Store,
    caller: Caller,
    project_id: UUID,
    estimate_id: UUID,
    item: str,
    line: int | None,
) -> dict[str, Any]:
    """Return the working of the lines of an item, as `groundsill explain` tells it.

    The one item is worked out again; each of its lines is explained if that leads to the very line
    that is stored, to the cent. Of any other line only what is stored is shown.

    Parameters
    ----------
    store, caller : Store, Caller
    project_id, estimate_id : UUID
        Which estimate.
    item : str
        The cost code.
    line : int or None
        Number of the one line wanted, from 1.

    Raises
    ------
    NotFound
        If the caller sees no such estimate in that project, or it has no such line.
    """
    with store.reading(caller) as session:
        stored = shown_estimate(session, project_id, estimate_id)
        lines = [
            one
            for one in lines_stored(session, estimate_id, item)
            if line is None or one.line == line
        ]
        if not lines:
            name = quoted(item if line is None else f"{item}/{line}")
            raise fault(NotFound, f"the estimate has no line {name}", where=parameter("item"))
        scope, document, on = stored.scope, stored.document, stored.pricing_date
        # a lender too may see what a figure was made of, or it could not be explained to them
        with session.of_whole_account() as whole:
            files = files_of(whole, estimate_id)
    explainer = explainer_of(scope, files, lines[0])
    return {"explanations": [_steps_json(one, explainer, on, document) for one in lines]}


def explainer_of(
    scope: str, files: Mapping[str, Mapping[str, str]], line: CostLine
) -> ItemExplainer | None:
    """Return what explains the item of a line; None if this program cannot work it out.

    Parameters
    ----------
    scope : str
        What was priced, as it is stored; no other item of it is read.
    files : mapping of str to mapping of str to str
        The tables it was priced with: text by set and file.
    line : CostLine
        A line of the item.
    """
    from estimator.pricing.explain import ItemExplainer

    try:
        tables = tables_of(files)
        read = read_written(_only(json.loads(scope), line), tables)
        return ItemExplainer(read.items[0], read.shift, tables, read.work_week)
    except _UNREADABLE:
        return None


def _steps_json(
    line: CostLine, explainer: ItemExplainer | None, on: date, document: str
) -> dict[str, Any]:
    """Return the working of a line if it leads to the line as it is stored, else what is stored."""
    from estimator.pricing.explain import explanation_as_stored

    try:
        is_right = explainer is not None and explainer.leads_to(line, on)
    except _UNREADABLE:
        is_right = False
    if explainer is not None and is_right:
        shown = explainer.explanation(line, on)
    else:
        shown = explanation_as_stored(line, made_with(document))
    return {
        "item": line.item,
        "line": line.line,
        "title": shown.title,
        "steps": list(shown.steps),
    }


def _only(scope: Mapping[str, Any], line: CostLine) -> dict[str, Any]:
    """Return a scope of the one item that a line belongs to, with all that prices it."""
    phase = next(one for one in scope["phases"] if one["code"] == line.phase)
    item = next(one for one in phase["items"] if f"{line.phase}.{one['code']}" == line.item)
    alone = {name: item[name] for name in _PRICED if name in item}
    only = {"code": phase["code"], "name": phase["name"], "items": [alone]}
    of_day = {key: scope[key] for key in ("shift", "calendar") if key in scope}
    if "calendar" in of_day:  # what is inspected may be another item, which is not read
        of_day["calendar"] = {k: v for k, v in of_day["calendar"].items() if k != "inspections"}
    return {"project": scope["project"], "phases": [only]} | of_day
