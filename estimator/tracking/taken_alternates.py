"""An alternate that is taken after the estimate was accepted, as the parts of a change."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimator.assemblies.tables import Tables
from estimator.errors import LedgerFaulty, did_you_mean, fault, quoted
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope import Scope
from estimator.tracking.budget import Budget, ChangePart, budget_from_estimate, code_without_budget


def alternate_parts(scope: Scope, tables: Tables, on: date, code: str) -> tuple[ChangePart, ...]:
    """Return what an alternate that is taken now does to each cost code, markups with it.

    Parameters
    ----------
    scope : Scope
        Of the accepted estimate.
    tables : Tables
        That it was priced with.
    on : date
        Its pricing date.
    code : str
        Of the alternate.

    Raises
    ------
    LedgerFaulty
        If the scope has no such alternate, or the estimate has it already.

    Notes
    -----
    The difference of two budgets, by code and kind: with the alternates that were accepted, and
    with this one too, in place of those that take out the same work. Its parts add up to the
    difference of the two cash costs.
    """
    known = {one.code: one for one in scope.alternates}
    if code not in known:
        what = f"the scope has no alternate {quoted(code)}"
        raise fault(LedgerFaulty, what, did_you_mean(code, known), "alternate")
    if known[code].is_accepted:
        raise fault(LedgerFaulty, f"the estimate has alternate {quoted(code)}", where="alternate")
    out = {item.code for item in known[code].takes_out}
    before = [one.code for one in scope.alternates if one.is_accepted]
    rivals = [one for one in before if out & {item.code for item in known[one].takes_out}]
    after = [one for one in before if one not in rivals] + [code]
    now, then = (_budget(scope.with_alternates(one), tables, on) for one in (before, after))
    parts = (_part(one, now, then) for one in dict.fromkeys([*now, *then]))
    return tuple(one for one in parts if one.cents_by_kind or one.quantity)


def _budget(scope: Scope, tables: Tables, on: date) -> Budget:
    return budget_from_estimate(printed_estimate(price(scope, tables, on)))


def _part(code: str, now: Budget, then: Budget) -> ChangePart:
    nothing = code_without_budget(code)
    before, after = now.get(code, nothing), then.get(code, nothing)
    kinds = dict.fromkeys([*before.cents_by_kind, *after.cents_by_kind])
    more = {
        kind: after.cents_by_kind.get(kind, 0) - before.cents_by_kind.get(kind, 0) for kind in kinds
    }
    quantity = after.quantity - before.quantity if before.unit == after.unit else Decimal(0)
    return ChangePart(code, {kind: cents for kind, cents in more.items() if cents}, quantity)
