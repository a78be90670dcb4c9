"""Lines of a bank or card statement, and what each is proposed to become in the books.

A line pays an open bill, is a cost of its own, or is money that came in. Nothing is decided here.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from estimator.errors import Faults, LedgerFaulty
from estimator.money import cents_money
from estimator.tracking.bank_terms import BankRule, rule_of
from estimator.tracking.ledger_rows import Cost, Payment, Receipt
from estimator.tracking.tickets import standing

KNOWN, LOGGED, PAYMENT, COST, RECEIPT, LEFT_OUT, NEEDS_CODE, NEEDS_CHOICE = (
    "known", "logged by hand", "payment", "cost", "receipt", "left out", "needs a code",
    "needs a choice",
)  # fmt: skip
_DAYS_BEFORE, _DAYS_AFTER = 5, 60
DAYS_TO_CLEAR = 30
_OLDEST_YEARS = 10
_SHORTEST_WORD = 3


@dataclass(frozen=True)
class BankLine:
    """A line of a statement.

    Parameters
    ----------
    number : int
        Line of the file, or the how manieth transaction, from 1.
    day : date
        On which it was booked.
    cents : int
        [0.01 $] Money in; below zero, money out.
    description, reference : str
        What the bank writes; check number and the like.
    mark : str
        By which the same line is known again.
    """

    number: int
    day: date
    cents: int
    description: str
    reference: str
    mark: str


@dataclass(frozen=True)
class OpenBill:
    """A bill on which something is still to pay: its row, and what is open [0.01 $]."""

    row: int
    vendor: str
    document: str
    happened: date
    cents: int


@dataclass(frozen=True)
class MoneyLogged:
    """Money that moved as somebody logged it by hand: row, day, and [0.01 $] as a line has it."""

    row: int
    day: date
    cents: int


@dataclass(frozen=True)
class BankProposal:
    """What a line would become.

    Parameters
    ----------
    line : BankLine
        Of the statement.
    what : str
        `known`, `logged by hand`, `payment`, `cost`, `receipt`, `left out`, `needs a code`, or
        `needs a choice`.
    why : str
        In words.
    bills : tuple of OpenBill
        Which it may pay: one of a payment.
    rule : BankRule or None
        Which says whose it is.
    """

    line: BankLine
    what: str
    why: str
    bills: tuple[OpenBill, ...] = ()
    rule: BankRule | None = None


def open_bills(costs: Iterable[Cost], paid_cents: Mapping[int, int]) -> list[OpenBill]:
    """Return the bills on which something is still to pay, in the order of the books.

    Parameters
    ----------
    costs : iterable of Cost
        Bills, and what reverses them.
    paid_cents : mapping of int to int
        [0.01 $] What was paid on each, by its row.
    """
    listed = list(costs)
    live = set(standing(listed))
    rest = ((bill, bill.cents - paid_cents.get(bill.row, 0)) for bill in listed)
    return [
        OpenBill(bill.row, bill.vendor, bill.document, bill.happened, cents)
        for bill, cents in rest
        if bill.row in live and cents > 0
    ]


def money_logged(payments: Iterable[Payment], receipts: Iterable[Receipt]) -> list[MoneyLogged]:
    """Return the payments and receipts that stand and come from no statement.

    Parameters
    ----------
    payments, receipts : iterables of Payment and of Receipt
        All that are known.
    """
    out, came = list(payments), list(receipts)
    live = set(standing([*out, *came]))
    moved = [(one, -one.cents) for one in out] + [(one, one.cents) for one in came]
    return [
        MoneyLogged(one.row, one.happened, cents)
        for one, cents in moved
        if one.row in live and not one.bank_line
    ]


def check_line_days(lines: Iterable[BankLine], today: date) -> None:
    """Refuse lines of a day to come, or over ten years ago.

    Parameters
    ----------
    lines : iterable of BankLine
        Of a statement.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        With every such line.
    """
    faults = Faults()
    oldest = today - timedelta(366 * _OLDEST_YEARS)
    for line in lines:
        if line.day > today:
            faults.add(f"line {line.number}", f"{line.day} is in the future", f"today is {today}")
        elif line.day < oldest:
            what = f"{line.day} is over {_OLDEST_YEARS} years ago"
            faults.add(f"line {line.number}", what, "correct the date, or how dates are read")
    faults.raise_if_any(LedgerFaulty)


def bank_proposals(
    lines: Iterable[BankLine],
    bills: Sequence[OpenBill],
    rules: Sequence[BankRule],
    known: Collection[str],
    logged: Iterable[MoneyLogged] = (),
) -> list[BankProposal]:
    """Return what each line would become; a bill or a row is proposed for one line only.

    Parameters
    ----------
    lines : iterable of BankLine
        Of a statement.
    bills : sequence of OpenBill
        See `open_bills`.
    rules : sequence of BankRule
        In the order of the books.
    known : collection of str
        The marks of lines that the books have already.
    logged : iterable of MoneyLogged
        What moved without a line of a statement so far.

    Notes
    -----
    A line of the same amount as money that was logged by hand up to 30 days before is that money.
    A line may pay a bill of the same amount from 5 days before the line's day is reached to 60 days
    after. Where the line names the vendor of one (by a rule, or by half of the words of the name),
    that one is proposed; else the only one of that amount. A line of a vendor who has other bills
    open is left to be decided: it may pay a part of one.
    """
    left, by_hand = list(bills), list(logged)
    proposed = []
    for line in lines:
        row = None if line.mark in known else _logged(line, by_hand)
        if row is not None:
            by_hand.remove(row)
            why = f"row {row.row} of {row.day} is of the same amount"
            proposed.append(BankProposal(line, LOGGED, why))
            continue
        one = _proposal(line, left, rules, known)
        proposed.append(one)
        if one.what == PAYMENT:
            left.remove(one.bills[0])
    return proposed


def _logged(line: BankLine, by_hand: Iterable[MoneyLogged]) -> MoneyLogged | None:
    """Return the row of the same amount that is nearest before the day of a line."""
    alike = [
        one
        for one in by_hand
        if one.cents == line.cents and 0 <= (line.day - one.day).days <= DAYS_TO_CLEAR
    ]
    return max(alike, key=lambda one: one.day, default=None)


def _proposal(
    line: BankLine, bills: Sequence[OpenBill], rules: Sequence[BankRule], known: Collection[str]
) -> BankProposal:
    rule = rule_of(line.description, rules)
    if line.mark in known:
        return BankProposal(line, KNOWN, "the books have it")
    if not line.cents or (rule is not None and not rule.code):
        why = "nothing moved" if not line.cents else f"{rule and rule.words} is not the job's"
        return BankProposal(line, LEFT_OUT, why, rule=rule)
    if line.cents > 0:
        return BankProposal(line, RECEIPT, "money that came in")
    own = [one for one in bills if _is_named(one.vendor, line, rule)]
    alike = [one for one in bills if one.cents == -line.cents and _is_near(one, line)]
    named = [one for one in alike if one in own]
    if len(named or alike) == 1:
        return _payment(line, (named or alike)[0], is_named=bool(named))
    if named or alike:
        return BankProposal(
            line, NEEDS_CHOICE, "several bills are open at that", tuple(named or alike)
        )
    if own:
        why = f"{own[0].vendor} has a bill open at another amount"
        return BankProposal(line, NEEDS_CHOICE, why, tuple(own), rule)
    if rule is not None:
        return BankProposal(line, COST, f"{rule.words} is {rule.vendor}", rule=rule)
    return BankProposal(line, NEEDS_CODE, "no open bill is for that amount, and no rule fits")


def _payment(line: BankLine, bill: OpenBill, *, is_named: bool) -> BankProposal:
    days = (line.day - bill.happened).days
    count = "1 day" if abs(days) == 1 else f"{abs(days)} days"
    when = f"{count} {'before' if days < 0 else 'after'} it" if days else "on its day"
    why = f"{cents_money(bill.cents)} is open, {when}"
    return BankProposal(line, PAYMENT, why if is_named else f"{why}; no vendor is named", (bill,))


def _is_near(bill: OpenBill, line: BankLine) -> bool:
    return -_DAYS_BEFORE <= (line.day - bill.happened).days <= _DAYS_AFTER


def _is_named(vendor: str, line: BankLine, rule: BankRule | None) -> bool:
    if rule is not None:
        return rule.vendor.casefold() == vendor.casefold()
    words = set(_words(vendor))
    return bool(words) and 2 * len(words & set(_words(line.description))) >= len(words)


def _words(text: str) -> list[str]:
    return [one for one in re.findall("[a-z0-9]+", text.casefold()) if len(one) >= _SHORTEST_WORD]
