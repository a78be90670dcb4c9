"""A change of the budget, as a row of the library that was checked."""

from __future__ import annotations

from api.ledger import money_entry_shapes as money
from api.ledger.desk import Desk
from estimator.errors import Faults, LedgerFaulty, fault, quoted
from estimator.money import cents_money, to_cents
from estimator.tracking.budget import (
    CONTINGENCY,
    BudgetCode,
    Change,
    ChangePart,
    latest_changes,
    spread_like_baseline,
)
from estimator.tracking.change_states import APPROVED
from estimator.tracking.entry_checks import check_day


def budget_change_row(desk: Desk, body: money.NewChange) -> tuple[Change, list[str]]:
    """Return the row that a change makes, with how it was spread and what it overdraws.

    Raises
    ------
    LedgerFaulty
        If it has no reason or no part, its number is that of a change that is approved, or a part
        cannot be spread.
    """
    check_day(body.happened, desk.today)
    before = _before(desk, body)
    _check(body, before)
    notes: list[str] = []
    parts = tuple(_part(desk, one, notes) for one in body.parts)
    change = Change(
        **desk.head(body), reason=body.reason or (before.reason if before else ""),
        parts=parts or (before.parts if before else ()), number=body.number, state=body.state,
    )  # fmt: skip
    if change.state == APPROVED:
        notes += _overdrawn(desk, change)
    return change, notes


def _before(desk: Desk, body: money.NewChange) -> Change | None:
    """Return the change of that number as it stands; None of a new one."""
    if not body.number:
        return None
    stands = latest_changes(desk.rows("changes", Change))
    return next((one for one in stands if one.number == body.number), None)


def _check(body: money.NewChange, before: Change | None) -> None:
    faults = Faults()
    if before is not None and before.state == APPROVED:
        what = f"{quoted(body.number)} is approved already, in row {before.row}"
        faults.add("number", what, "post a new change that takes off what it added")
    if not body.number and body.state != APPROVED:
        what = f"is missing, and the state is {body.state}"
        faults.add("number", what, "give it a number, to approve it by later")
    if before is None and not body.reason:
        faults.add("reason", "is missing", "say why the budget changes")
    if before is None and not body.parts:
        faults.add("parts", "are missing", "name a cost code and an amount at least")
    faults.raise_if_any(LedgerFaulty)


def _part(desk: Desk, part: money.NewChangePart, notes: list[str]) -> ChangePart:
    cents, known = _cents(part), desk.budget.get(part.code)
    if not (cents or part.quantity or part.days):
        what = f"the part for {part.code} changes nothing"
        raise fault(LedgerFaulty, what, "leave it out", "parts")
    if part.kind:
        by_kind = {part.kind: cents}
    elif known is None:
        what = f"{quoted(part.code)} is a new cost code"
        raise fault(LedgerFaulty, what, "name the kind of its cost", "parts")
    else:
        by_kind = _spread(desk, cents, known) if cents else {}
        if len(by_kind) > 1:
            kinds = ", ".join(f"{kind} {cents_money(own)}" for kind, own in by_kind.items())
            like = "baseline" if part.code in desk.baseline else "budget"
            notes.append(f"{part.code} is spread like its {like}: {kinds}")
    return ChangePart(part.code, by_kind, part.quantity, part.days)


def _spread(desk: Desk, cents: int, known: BudgetCode) -> dict[str, int]:
    """Return a sum spread like the baseline of a code; of one that a change made, its budget."""
    accepted = desk.baseline.get(known.code, known)
    if min(accepted.cents_by_kind.values(), default=0) < 0 or not accepted.cents:
        what = f"{known.code} has no budget by which a sum can be spread"
        raise fault(LedgerFaulty, what, "name the kind of its cost", "parts")
    return dict(spread_like_baseline(cents, accepted))


def _cents(part: money.NewChangePart) -> int:
    """Return a sum, or a quantity at a rate [0.01 $]."""
    if part.rate is None:
        return to_cents(part.amount)
    faults = Faults()
    if part.amount:
        faults.add("parts", f"{part.code} has an amount and a rate", "give one of them")
    if not part.quantity:
        faults.add("parts", f"{part.code} has a rate without a quantity", "give the quantity")
    faults.raise_if_any(LedgerFaulty)
    return to_cents(part.quantity * part.rate)


def _overdrawn(desk: Desk, change: Change) -> list[str]:
    """Return a note where the contingency is drawn below nothing."""
    drawn = sum(
        sum(one.cents_by_kind.values()) for one in change.parts if one.code == CONTINGENCY
    )  # fmt: skip
    there = desk.budget[CONTINGENCY].cents if CONTINGENCY in desk.budget else 0
    if drawn >= 0 or there + drawn >= 0:
        return []
    return [f"it draws {cents_money(-drawn)} from a contingency of {cents_money(there)}"]
