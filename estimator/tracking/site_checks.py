"""What a delivery ticket, a measurement and a move of stock must keep to before they are posted."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from estimator.errors import Faults, LedgerFaulty, did_you_mean, is_near, quoted
from estimator.quantity.units import counted
from estimator.tracking.budget import CONTINGENCY, BudgetCode
from estimator.tracking.entry_checks import note_day, note_unit
from estimator.tracking.hold_points import HoldPoint, holding
from estimator.tracking.own_stock import (
    SOLD,
    UNUSED,
    USED,
    StockMove,
    over_use_sentences,
    stock,
)
from estimator.tracking.progress import MONEY, InPlace, Progress, percent_of_sum
from estimator.tracking.tickets import Ticket, standing

_SUMS = (MONEY, "ls")  # of which no quantity is delivered


def check_ticket(
    ticket: Ticket, codes: Mapping[str, BudgetCode], same_vendor: Iterable[Ticket], today: date
) -> None:
    """Check that a delivery ticket may be posted.

    Parameters
    ----------
    ticket : Ticket
        As it would be posted.
    codes : mapping of str to BudgetCode
        The codes of the budget.
    same_vendor : iterable of Ticket
        The tickets of its vendor.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        If the day is to come, the code unknown, the quantity not above zero, the number there
        already, the truck left before it came or waited longer than it was here, or a load was
        placed in another unit than the work.
    """
    faults = Faults()
    note_day(ticket.happened, today, faults)
    if ticket.code not in codes:
        what = f"there is no cost code {quoted(ticket.code)}"
        faults.add("code", what, did_you_mean(ticket.code, codes))
    if ticket.quantity <= Decimal(0):
        faults.add("quantity", "is not above zero", "write what the ticket says")
    note_unit(ticket.unit, faults)
    _check_placed(ticket, codes.get(ticket.code), faults)
    if ticket.cents < 0:
        faults.add("amount", "is below zero", "a ticket has no credit")
    if ticket.minutes < 0:
        what = f"the truck left at {ticket.left:%H:%M}, before it came at {ticket.came:%H:%M}"
        faults.add("left", what, "check the two times")
    elif None not in (ticket.came, ticket.left) and (ticket.waited_minutes or 0) > ticket.minutes:
        what = f"{ticket.waited_minutes} min is more than the {ticket.minutes} it was here"
        faults.add("waited_minutes", what, "check it against the two times")
    _check_ticket_number(ticket, list(same_vendor), faults)
    faults.raise_if_any(LedgerFaulty)


def _check_placed(ticket: Ticket, code: BudgetCode | None, faults: Faults) -> None:
    """Refuse a load that is in place in a unit in which nobody measures the work."""
    if ticket.is_placed and code is not None and ticket.unit != code.unit:
        what = f"is {quoted(ticket.unit)}, and {code.code} is measured in {code.unit or 'percent'}"
        faults.add("unit", what, "leave out that it was placed, and log the progress")


def _check_ticket_number(ticket: Ticket, known: Sequence[Ticket], faults: Faults) -> None:
    live = set(standing(known))
    for one in known:
        if one.row in live and one.number.casefold() == ticket.number.casefold():
            what = f"ticket {ticket.number} of {ticket.vendor} is row {one.row}"
            faults.add("number", what, "reverse that row first if it is wrong")
            return


def placed_notes(ticket: Ticket, holds: Iterable[HoldPoint]) -> list[str]:
    """Return a note for each open hold point of work on which a load was placed.

    Parameters
    ----------
    ticket : Ticket
        The load.
    holds : iterable of HoldPoint
        The open ones of its code: see `open_holds`.
    """
    if not ticket.is_placed:
        return []
    return [f"placed while {one.name} is open: it needs {one.needs}" for one in holds]


def unit_notes(ticket: Ticket, code: BudgetCode | None) -> list[str]:
    """Return a note where a load is counted in another unit than the work that it is for.

    Parameters
    ----------
    ticket : Ticket
        Of material; a haul or a machine has units of its own.
    code : BudgetCode or None
        What it is for.
    """
    if code is None or ticket.kind != "material" or code.unit in ("", ticket.unit, *_SUMS):
        return []
    return [f"in {ticket.unit}, while {code.code} is measured in {code.unit}"]


def check_stock(
    move: StockMove, earlier: Sequence[StockMove], codes: Collection[str], today: date
) -> list[str]:
    """Return what to note about a move of stock, or a count of it, that may be posted.

    Parameters
    ----------
    move : StockMove
        As it would be posted.
    earlier : sequence of StockMove
        All of that material.
    codes : collection of str
        The cost codes of the budget.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        If the day is to come, the code unknown, the unit another than before, a move not above
        zero, or a count without its code, kind and amount.
    """
    faults = Faults()
    note_day(move.happened, today, faults)
    if move.code and move.code not in codes:
        what = f"there is no cost code {quoted(move.code)}"
        faults.add("code", what, did_you_mean(move.code, codes))
    other = next((one for one in earlier if one.unit != move.unit), None)
    if other is not None:
        what = f"{move.material} is counted in {other.unit} by row {other.row}"
        faults.add("unit", what, f"write {other.unit}")
    _check_count(move, faults)
    faults.raise_if_any(LedgerFaulty)
    return over_use_sentences(stock([*earlier, move])) if move.move in (USED, SOLD) else []


def _check_count(move: StockMove, faults: Faults) -> None:
    if move.move != UNUSED:
        if move.quantity <= 0:
            faults.add("quantity", "is not above zero", "write how much it was")
        if move.kind or move.cents:
            faults.add("move", f"{move.move} has no kind and no amount", "a count has them")
        return
    for field, is_there in (("code", move.code), ("kind", move.kind)):
        if not is_there:
            faults.add(field, "is missing", "say what the material was bought on")
    if bool(move.quantity) != bool(move.cents):
        faults.add("amount", "does not fit the quantity", "write what so much was bought for")


def check_progress(
    progress: Progress,
    code: BudgetCode | None,
    before: InPlace | None,
    holds: Sequence[HoldPoint],
    today: date,
) -> list[str]:
    """Return what to note about a measurement that may be posted.

    Parameters
    ----------
    progress : Progress
        As it would be posted.
    code : BudgetCode or None
        What it is measured of; None if the budget has no such code.
    before : InPlace or None
        What was in place, of the same hand: ours, or the inspector's.
    holds : sequence of HoldPoint
        The open ones: see `open_holds`.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        If the day is to come, the code unknown, a figure below zero, a percent above 100, or if it
        goes back or past an open hold point without a reason.
    """
    faults = Faults()
    note_day(progress.happened, today, faults)
    if code is None:
        faults.add("code", f"there is no cost code {quoted(progress.code)}")
    elif code.code == CONTINGENCY:
        faults.add("code", "the contingency is no work", "a change draws on it")
    else:
        _check_unit(progress, code, faults)
    _check_figures(progress, faults)
    whole = _whole(progress, code, before)
    if before is not None and not progress.reason and _goes_back(progress, before, whole):
        unit = code.unit if code else ""
        was = _measured(before.quantity, before.is_percent, unit, whole)
        now = _measured(progress.in_place, progress.is_percent, unit, whole)
        faults.add(
            "in_place", f"goes back from {was} on {before.measured_on} to {now}", "give the reason"
        )
    in_place = _quantity(progress.in_place, progress.is_percent, whole)
    past = [] if progress.is_inspector else holding(holds, progress.code, in_place)
    for hold in past:
        if not progress.reason:
            what = f"{hold.name} is open: it needs {hold.needs}, and {hold.decider} decides"
            faults.add("in_place", what, "wait for it, or give the reason for going on")
    faults.raise_if_any(LedgerFaulty)
    return [f"past the open hold point {hold.name}: {progress.reason}" for hold in past]


def _whole(progress: Progress, code: BudgetCode | None, before: InPlace | None) -> Decimal:
    """Return what 100 % is: the final quantity as measured last, else the budget's; 0 if none."""
    measured = progress.expected or (before.expected if before else None)
    return measured or (code.quantity if code else Decimal(0))


def _quantity(in_place: Decimal, is_percent: bool, whole: Decimal) -> Decimal:
    """Return what is in place in the unit of the code; a percent, where that has no quantity."""
    return in_place * whole / 100 if is_percent and whole else in_place


def _goes_back(progress: Progress, before: InPlace, whole: Decimal) -> bool:
    if progress.is_percent == before.is_percent:
        return progress.in_place < before.quantity
    was = _quantity(before.quantity, before.is_percent, whole)
    return _quantity(progress.in_place, progress.is_percent, whole) < was


def _measured(in_place: Decimal, is_percent: bool, unit: str, whole: Decimal) -> str:
    """Return a quantity in words; of a sum of money in percent, because a crew reads it."""
    if unit == MONEY and whole and not is_percent:
        in_place, is_percent = percent_of_sum(in_place, whole), True
    return f"{in_place} %" if is_percent else counted(f"{in_place:f}", unit).rstrip()


def _check_unit(progress: Progress, code: BudgetCode, faults: Faults) -> None:
    measured_in = "%" if progress.is_percent else code.unit or "%"
    if progress.unit and progress.unit != measured_in:
        faults.add(
            "unit", f"is {quoted(progress.unit)}", f"{code.code} is measured in {measured_in}"
        )
    if not progress.is_percent and code.unit == MONEY:
        faults.add("in_place", f"{code.code} is a sum of money", "give a percent: a crew sees it")
    elif not progress.is_percent and not code.quantity and code.cents:
        what = f"{code.code} has no budgeted quantity"
        faults.add("in_place", what, "give a percent")


def _check_figures(progress: Progress, faults: Faults) -> None:
    if progress.in_place < 0:
        faults.add("in_place", "is below zero", "write what is in place to date")
    if progress.is_percent and progress.in_place > 100:
        faults.add("in_place", "is above 100 %", "write 0 to 100")
    if progress.expected is not None and progress.expected <= 0:
        faults.add("expected", "is not above zero", "write the final quantity as measured")


def trade_notes(trade: str, known: Collection[str]) -> list[str]:
    """Return what to note about a trade: one that is near to another is probably meant for it.

    Parameters
    ----------
    trade : str
        As it was written.
    known : collection of str
        The trades of the accepted estimate.

    Examples
    --------
    >>> trade_notes("labourer", ["laborer", "mason"]), trade_notes("owner", ["laborer", "mason"])
    (["the estimate has no trade 'labourer': did you mean 'laborer'?"], [])
    """
    if trade in known or not is_near(trade, known):
        return []
    return [f"the estimate has no trade {quoted(trade)}: {did_you_mean(trade, known)}"]
