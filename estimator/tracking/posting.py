"""What a cost or a payment must keep to before it is posted; notes only warn."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import date

from estimator.errors import Faults, LedgerFaulty, did_you_mean, quoted
from estimator.money import cents_money
from estimator.rates.kinds import COSTS
from estimator.tracking.entry_checks import note_day, note_unit
from estimator.tracking.ledger_rows import Cost, CostSplit, Payment
from estimator.tracking.tickets import standing


def check_cost(
    cost: Cost,
    codes: Collection[str],
    same_vendor: Iterable[Cost],
    today: date,
    work_starts: date | None = None,
) -> list[str]:
    """Return what to note about a cost that may be posted.

    Parameters
    ----------
    cost : Cost
        As it would be posted.
    codes : collection of str
        The cost codes of the budget.
    same_vendor : iterable of Cost
        The rows of its vendor, and the row that it reverses.
    today : date
        By the server's clock.
    work_starts : date or None
        First day of the project; earlier costs are noted.

    Raises
    ------
    LedgerFaulty
        With every fault: the future, an unknown code or kind, nothing, a negative that is neither
        reversal nor credit, a credit without a number, a unit that there is not, a document that is
        there already, a reversal that is not exact.
    """
    faults = Faults()
    known = list(same_vendor)
    note_day(cost.happened, today, faults)
    if not cost.vendor.strip():
        faults.add("vendor", "is missing", "name who billed it")
    _check_splits(cost.splits, codes, faults)
    _check_sign(cost, faults)
    _check_quantity(cost, faults)
    if cost.reverses is not None:
        _check_reversal(cost, known, faults)
    notes = _check_repeat(cost, known, faults)
    faults.raise_if_any(LedgerFaulty)
    if work_starts is not None and cost.happened < work_starts:
        notes.append(f"{cost.happened} is before the work starts on {work_starts}")
    return notes


def _check_splits(splits: Sequence[CostSplit], codes: Collection[str], faults: Faults) -> None:
    if not splits:
        faults.add("splits", "are missing", "name at least one cost code and kind")
    where = "splits"
    for split in splits:
        if split.code not in codes:
            what = f"there is no cost code {quoted(split.code)}"
            faults.add(where, what, did_you_mean(split.code, codes))
        if split.kind == "salvage":
            faults.add(where, "salvage is not a cost", "a sale is a receipt: log it as one")
        elif split.kind not in COSTS:
            what = f"{quoted(split.kind)} is not a kind of cost"
            faults.add(where, what, did_you_mean(split.kind, COSTS))
    places = [(split.code, split.kind) for split in splits]
    for place in dict.fromkeys(places):
        if places.count(place) > 1:
            faults.add(
                "splits", f"{place[0]} {place[1]} is listed twice", "put its shares together"
            )


def _check_sign(cost: Cost, faults: Faults) -> None:
    amounts = [part for split in cost.splits for part in (split.net_cents, split.tax_cents)]
    if not any(amounts):
        faults.add("net", "is zero", "leave the row out")
    elif min(amounts) < 0 < max(amounts):
        faults.add("net", "mixes charges and credits", "post the credit as a row of its own")
    elif cost.is_credit and max(amounts) > 0:
        faults.add("net", "of a vendor's credit is above zero", "write it with a minus")
    elif cost.is_credit and not cost.document.strip():
        faults.add("document", "is missing", "a vendor's credit has a number of its own")
    elif min(amounts) < 0 and not cost.is_credit and cost.reverses is None:
        what = "is negative, and the row is neither a vendor's credit nor a reversal"
        faults.add("net", what, "say which it is; money that came in is a receipt")


def _check_quantity(cost: Cost, faults: Faults) -> None:
    if cost.quantity is None:
        return
    if not cost.unit:
        faults.add("unit", "is missing", "a quantity has a unit")
    else:
        note_unit(cost.unit, faults)
    if not cost.quantity:
        faults.add("quantity", "is zero", "leave it out")


def _check_reversal(cost: Cost, known: Sequence[Cost], faults: Faults) -> None:
    where = "reverses"
    reversed_row = next((one for one in known if one.row == cost.reverses), None)
    if reversed_row is None:
        faults.add(where, f"there is no cost in row {cost.reverses} of this vendor")
    elif reversed_row.reverses is not None:
        faults.add(where, f"row {cost.reverses} is a reversal itself", "post the cost anew")
    elif cost.reverses not in standing(known):
        faults.add(where, f"row {cost.reverses} is reversed already")
    elif sorted(cost.splits, key=_place) != [_negated(s) for s in _in_place_order(reversed_row)]:
        what = (
            f"row {cost.reverses} is {cents_money(reversed_row.cents)}; a reversal takes back all"
        )
        faults.add(where, what, "reverse it in full, then post what is right")


def _place(split: CostSplit) -> tuple[str, str]:
    return split.code, split.kind


def _in_place_order(cost: Cost) -> list[CostSplit]:
    return sorted(cost.splits, key=_place)


def _negated(split: CostSplit) -> CostSplit:
    return CostSplit(split.code, split.kind, -split.net_cents, -split.tax_cents)


def reversal_of(cost: Cost) -> tuple[CostSplit, ...]:
    """Return the splits that take a cost back in full."""
    return tuple(_negated(split) for split in cost.splits)


def _check_repeat(cost: Cost, known: Sequence[Cost], faults: Faults) -> list[str]:
    """Refuse a document that is posted already; without a number, only note the likeness."""
    if cost.reverses is not None:
        return []
    live = set(standing(known))
    same = [one for one in known if one.row in live and one.cents == cost.cents]
    if cost.document:
        for one in same:
            if one.document.casefold() == cost.document.casefold():
                bill = f"{cost.vendor} {cost.document} over {cents_money(cost.cents)}"
                what = f"{bill} is row {one.row}"
                faults.add("document", what, "reverse that row first if it is wrong")
                break
        return []
    days = [one for one in same if one.happened == cost.happened]
    return [f"row {days[0].row} has the same vendor, day and amount"] if days else []


def check_payment(
    payment: Payment,
    cost: Cost | None,
    earlier: Iterable[Payment],
    today: date,
    reversed_by: int | None = None,
) -> None:
    """Check that a payment may be posted.

    Parameters
    ----------
    payment : Payment
        As it would be posted.
    cost : Cost or None
        The cost that it pays; None if there is none.
    earlier : iterable of Payment
        All payments on that cost.
    today : date
        By the server's clock.
    reversed_by : int or None
        Row that takes the cost back, where one does.

    Raises
    ------
    LedgerFaulty
        If there is no such cost, the day is to come, nothing is paid, more is paid than the cost
        comes to, more is taken back than was paid, or it is paid on what is reversed.
    """
    faults = Faults()
    note_day(payment.happened, today, faults)
    if cost is None:
        faults.add("cost", f"there is no cost in row {payment.cost}")
    else:
        _check_paid(payment, cost, list(earlier), faults)
        _check_not_reversed(payment, cost, reversed_by, faults)
    faults.raise_if_any(LedgerFaulty)


def _check_paid(payment: Payment, cost: Cost, earlier: Sequence[Payment], faults: Faults) -> None:
    paid = sum(one.cents for one in earlier) + payment.cents
    if not payment.cents:
        faults.add("amount", "is zero", "leave the row out")
    if not min(cost.cents, 0) <= paid <= max(cost.cents, 0):
        what = f"would make {cents_money(paid)} paid on a cost of {cents_money(cost.cents)}"
        faults.add("amount", what, f"{cents_money(cost.cents - paid + payment.cents)} is open")
    if payment.reverses is not None:
        known = {one.row: one for one in earlier}
        back = known.get(payment.reverses)
        if back is None or back.cents != -payment.cents:
            faults.add("reverses", f"row {payment.reverses} is no payment of that amount")


def _check_not_reversed(
    payment: Payment, cost: Cost, reversed_by: int | None, faults: Faults
) -> None:
    """Refuse money on what is reversed; what was paid before that may come back."""
    if cost.reverses is not None:
        what = f"row {cost.row} takes back row {cost.reverses}; nothing is paid on it"
        faults.add("cost", what, f"take back the payment on row {cost.reverses}")
    elif reversed_by is not None and payment.cents * cost.cents > 0:
        what = f"row {cost.row} is reversed by row {reversed_by}; nothing is paid on it"
        faults.add("cost", what, "pay the row that stands in its place")


def paid_notes(cost: Cost, payments: Iterable[Payment]) -> list[str]:
    """Return a note where something is paid on a cost that is taken back.

    Parameters
    ----------
    cost : Cost
        That is taken back.
    payments : iterable of Payment
        All payments on it.
    """
    paid = sum(one.cents for one in payments)
    if not paid:
        return []
    return [f"{cents_money(paid)} is paid on row {cost.row}: take that back as well, or move it"]
