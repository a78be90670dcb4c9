"""What a body of each kind of entry says, as a row of the library that was checked."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from api.ledger import money_entry_shapes as money
from api.ledger import site_entry_shapes as site
from api.ledger.bank_entries import bank_rule_row, bank_terms_row
from api.ledger.change_entries import budget_change_row
from api.ledger.credit_entries import approval_row, basis_row, credit_answer_row
from api.ledger.desk import AMOUNT, DAY, NUMBER, Desk, party_key
from api.ledger.machine_entries import (
    called_off_row,
    check_rents,
    machine_hours_row,
    rent_row,
)
from api.ledger.payroll_entries import hours_row, payroll_settings
from estimator.errors import Faults, LedgerFaulty, fault, quoted
from estimator.money import fixed_point, to_cents
from estimator.tracking.bank_terms import BankRule, BankTerms
from estimator.tracking.budget import Change
from estimator.tracking.commitments import Commitment
from estimator.tracking.credit_papers import Approval, BasisRow, CreditAnswer
from estimator.tracking.day_sheets import DaySheet, LostHours, check_day_sheet
from estimator.tracking.entry_checks import check_code, check_day
from estimator.tracking.hold_points import HoldPoint, HoldResult, open_holds
from estimator.tracking.ledger_rows import Cost, Payment, Receipt, split_by_amounts, split_cost
from estimator.tracking.machine_log import MachineHours
from estimator.tracking.machines_on_rent import CalledOff, OnRent
from estimator.tracking.measured_points import MeasuredPoint, Reading
from estimator.tracking.own_stock import StockMove
from estimator.tracking.payroll_settings import PayrollSettings
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.planned_dates import PlannedDates
from estimator.tracking.posting import check_cost, check_payment
from estimator.tracking.progress import Progress, in_place
from estimator.tracking.site_checks import (
    check_progress,
    check_stock,
    check_ticket,
    placed_notes,
    unit_notes,
)
from estimator.tracking.tickets import (
    Ticket,
    bill_against_tickets,
    priced_like_last,
    standing,
)

Checked = tuple[Any, list[str]]
"""A row of the library, and what is to be noted about it."""

_SHARE_DECIMALS = 6


def _cost(desk: Desk, body: money.NewCost) -> Checked:
    net, tax = to_cents(body.net), to_cents(body.tax)
    cost = Cost(
        **desk.head(body), vendor=body.vendor, document=body.document, note=body.note,
        splits=_splits(net, tax, body.splits), quantity=body.quantity, unit=body.unit,
        is_once=body.once, is_credit=body.credit, tickets=tuple(body.tickets), order=body.order,
        rents=tuple(body.rents), rent_through=body.rent_through,
    )  # fmt: skip
    # only a row of the same amount can be the same bill, or what takes it back
    same_vendor = desk.rows_alike("costs", Cost, body.vendor, AMOUNT, cost.cents)
    notes = check_cost(cost, desk.budget, same_vendor, desk.today, desk.work_starts)
    notes += desk.loan_terms.notes_of_early_cost(cost.happened) if desk.loan_terms else []
    related = desk.related(cost.tickets)
    tickets = [one for one in related if isinstance(one, Ticket)]
    _check_tickets(cost, tickets, [one for one in related if isinstance(one, Cost)])
    check_rents(desk, cost)
    if different := bill_against_tickets(cost, tickets, body.loads):
        notes.append(different)
    return cost, notes


def _splits(net: int, tax: int, splits: Sequence[money.Split]) -> Any:
    stated = [one.amount for one in splits if one.amount is not None]
    if not stated:
        shares = [(s.code, s.kind, fixed_point(s.share, _SHARE_DECIMALS)) for s in splits]
        return split_cost(net, tax, shares)
    if len(stated) < len(splits):
        what = "some have an amount and some do not"
        raise fault(LedgerFaulty, what, "give each an amount, or none", "splits")
    parts = [(s.code, s.kind, to_cents(amount)) for s, amount in zip(splits, stated, strict=True)]
    return split_by_amounts(net, tax, parts)


def _check_tickets(cost: Cost, tickets: Sequence[Ticket], costs: Sequence[Cost]) -> None:
    """Refuse a bill over tickets that are not there, are reversed, or are billed already."""
    if not cost.tickets:
        return
    faults, live = Faults(), set(standing(tickets))
    bills = {n: one.row for one in costs if one.row in set(standing(costs)) for n in one.tickets}
    for number in cost.tickets:
        if number not in live:
            faults.add("tickets", f"there is no ticket in row {number}, or it is reversed")
        elif number in bills:
            what = f"the ticket in row {number} is billed already, in row {bills[number]}"
            faults.add("tickets", what)
    faults.raise_if_any(LedgerFaulty)


def _payment(desk: Desk, body: money.NewPayment) -> Checked:
    payment = Payment(
        **desk.head(body), cost=body.cost, cents=to_cents(body.amount), means=body.means
    )
    related = desk.related([body.cost])
    costs = {one.row: one for one in related if isinstance(one, Cost)}
    earlier = [one for one in related if isinstance(one, Payment) and one.cost == body.cost]
    back = next((one.row for one in costs.values() if one.reverses == body.cost), None)
    check_payment(payment, costs.get(body.cost), earlier, desk.today, back)
    return payment, []


def _receipt(desk: Desk, body: money.NewReceipt) -> Checked:
    check_day(body.happened, desk.today)
    receipt = Receipt(
        **desk.head(body), payer=body.payer, reason=body.reason, cents=to_cents(body.amount)
    )
    return receipt, []


def _ticket(desk: Desk, body: money.NewTicket) -> Checked:
    ticket = Ticket(
        **desk.head(body), number=body.number, vendor=body.vendor, truck=body.truck,
        code=body.code, kind=body.kind, quantity=body.quantity, unit=body.unit,
        cents=0 if body.amount is None else to_cents(body.amount), came=body.came, left=body.left,
        waited_minutes=body.waited_minutes, is_placed=body.placed,
    )  # fmt: skip
    same = desk.rows_alike("tickets", Ticket, body.vendor, NUMBER, body.number)
    check_ticket(ticket, desk.budget, same, desk.today)
    notes = unit_notes(ticket, desk.budget.get(body.code))
    notes += placed_notes(ticket, _open_holds(desk, body.code)) if body.placed else []
    if body.amount is not None:
        return ticket, notes
    priced, more = priced_like_last(ticket, desk.rows("tickets", Ticket, body.vendor))
    return priced, notes + more


def _commitment(desk: Desk, body: money.NewCommitment) -> Checked:
    check_day(body.happened, desk.today)
    check_code(body.code, desk.budget)
    if not body.amount:
        raise fault(LedgerFaulty, "is zero", "leave the row out", "amount")
    _check_order_vendor(desk, body)
    return Commitment(
        **desk.head(body), number=body.number, vendor=body.vendor, code=body.code,
        kind=body.kind, cents=to_cents(body.amount), retainage_fraction=body.retainage,
    ), []  # fmt: skip


def _check_order_vendor(desk: Desk, body: money.NewCommitment) -> None:
    """Refuse what changes an order of another vendor."""
    for one in desk.rows_alike("commitments", Commitment, None, NUMBER, body.number):
        if one.number == body.number and party_key(one.vendor) != party_key(body.vendor):
            what = f"order {one.number} went to {quoted(one.vendor)}, in row {one.row}"
            raise fault(LedgerFaulty, what, "give this one another number", "vendor")


def _progress(desk: Desk, body: site.NewProgress) -> Checked:
    row = Progress(
        **desk.head(body), code=body.code, in_place=body.in_place, expected=body.expected,
        is_percent=body.percent, is_inspector=body.inspector, unit=body.unit, reason=body.reason,
    )  # fmt: skip
    earlier = desk.rows("progress", Progress, body.code)
    before = in_place(earlier, body.happened, desk.at, body.inspector).get(body.code)
    holds = _open_holds(desk, body.code)
    return row, check_progress(row, desk.budget.get(body.code), before, holds, desk.today)


def _open_holds(desk: Desk, code: str) -> list[HoldPoint]:
    return open_holds(desk.rows("holds", HoldPoint, code), desk.rows("results", HoldResult, code))


def _hold(desk: Desk, body: site.NewHold) -> Checked:
    check_day(body.happened, desk.today)
    check_code(body.code, desk.budget)
    return HoldPoint(
        **desk.head(body), code=body.code, name=body.name, needs=body.needs, decides=body.decides,
        allowed=body.allowed, notice_days=body.notice_days,
    ), []  # fmt: skip


def _result(desk: Desk, body: site.NewHoldResult) -> Checked:
    check_day(body.happened, desk.today)
    names = [one.name for one in desk.rows("holds", HoldPoint, body.code)]
    if body.name not in names:
        what = f"{body.code} has no hold point {quoted(body.name)}"
        remedy = f"it has {', '.join(names)}" if names else "post the hold point first"
        raise fault(LedgerFaulty, what, remedy, "name")
    return HoldResult(
        **desk.head(body), code=body.code, name=body.name, is_passed=body.passed, note=body.note
    ), []


def _stock(desk: Desk, body: site.NewStockMove) -> Checked:
    move = StockMove(
        **desk.head(body), material=body.material, unit=body.unit, move=body.move,
        quantity=body.quantity, code=body.code, kind=body.kind,
        cents=None if body.amount is None else to_cents(body.amount),
    )  # fmt: skip
    earlier = desk.rows("stock", StockMove, body.material)
    return move, check_stock(move, earlier, desk.budget, desk.today)


def _point(desk: Desk, body: site.NewPoint) -> Checked:
    check_day(body.happened, desk.today)
    if body.least is not None and body.most is not None and body.least > body.most:
        what = f"{body.least} is more than the most, {body.most}"
        raise fault(LedgerFaulty, what, "correct one of them", "least")
    return MeasuredPoint(
        **desk.head(body), name=body.name, unit=body.unit, least=body.least, most=body.most,
        note=body.note,
    ), []  # fmt: skip


def _reading(desk: Desk, body: site.NewReading) -> Checked:
    check_day(body.happened, desk.today)
    if not desk.rows("points", MeasuredPoint, body.point):
        what = f"there is no point {quoted(body.point)}"
        raise fault(LedgerFaulty, what, "post the point with its limits first", "point")
    return Reading(**desk.head(body), point=body.point, value=body.value), []


def _plan(desk: Desk, body: site.NewPlan) -> Checked:
    check_day(body.happened, desk.today)
    check_code(body.code, [*desk.budget, *(one.phase for one in desk.budget.values())])
    if body.finish < body.start:
        what = f"{body.finish} is before the start on {body.start}"
        raise fault(LedgerFaulty, what, where="finish")
    return PlannedDates(**desk.head(body), code=body.code, start=body.start, finish=body.finish), []


def _day(desk: Desk, body: site.NewDay) -> Checked:
    sheet = DaySheet(
        **desk.head(body), weather=body.weather, temperature_f=body.temperature_f,
        people=tuple(body.people), visitors=body.visitors, found=body.found,
        incidents=body.incidents, lost=tuple(LostHours(one.hours, one.reason) for one in body.lost),
    )  # fmt: skip
    that_day = desk.rows_alike("days", DaySheet, None, DAY, body.happened)
    return sheet, check_day_sheet(sheet, that_day, desk.today)


# By the name of its list in `Books`: the row of the library, and what returns it with notes.
CHECKED: Mapping[str, tuple[type, Callable[[Desk, Any], Checked]]] = {
    "costs": (Cost, _cost),
    "payments": (Payment, _payment),
    "receipts": (Receipt, _receipt),
    "tickets": (Ticket, _ticket),
    "commitments": (Commitment, _commitment),
    "changes": (Change, budget_change_row),
    "hours": (HoursRow, hours_row),
    "progress": (Progress, _progress),
    "holds": (HoldPoint, _hold),
    "results": (HoldResult, _result),
    "stock": (StockMove, _stock),
    "rents": (OnRent, rent_row),
    "points": (MeasuredPoint, _point),
    "readings": (Reading, _reading),
    "plans": (PlannedDates, _plan),
    "called_off": (CalledOff, called_off_row),
    "machine_hours": (MachineHours, machine_hours_row),
    "days": (DaySheet, _day),
    "banks": (BankTerms, bank_terms_row),
    "bank_rules": (BankRule, bank_rule_row),
    "payroll": (PayrollSettings, payroll_settings),
    "credit_answers": (CreditAnswer, credit_answer_row),
    "approvals": (Approval, approval_row),
    "bases": (BasisRow, basis_row),
}
