"""Lines of a bank or card statement, and what each is proposed to become in the books.

A line pays an open bill, is a cost of its own, or is money that came in. Nothing is decided here.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from estimator.errors import Faults, LedgerFaulty, how_many
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
_MOST_TO_CHOOSE = 20


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
    open is left to be decided: it may pay a part of one. Of bills to choose from 20 are listed.
    """
    left, by_hand = _Unpaid(bills), defaultdict[int, list[MoneyLogged]](list)
    for row in logged:
        by_hand[row.cents].append(row)
    proposed = []
    for line in lines:
        same = None if line.mark in known else _logged(line, by_hand[line.cents])
        if same is not None:
            by_hand[line.cents].remove(same)
            why = f"row {same.row} of {same.day} is of the same amount"
            proposed.append(BankProposal(line, LOGGED, why))
            continue
        one = _proposal(line, left, rules, known)
        proposed.append(one)
        if one.what == PAYMENT:
            del left.bills[one.bills[0].row]
    return proposed


class _Unpaid:
    """Bills that no line has paid so far, found by their amount and by the words of their vendor.

    Looking at each bill for each line would take minutes for a year of a busy job.
    """

    def __init__(self, bills: Iterable[OpenBill]) -> None:
        self.bills = {one.row: one for one in bills}
        self._by_cents: dict[int, list[OpenBill]] = defaultdict(list)
        self._vendors: dict[str, set[str]] = defaultdict(set)
        for one in self.bills.values():
            self._by_cents[one.cents].append(one)
            for word in (one.vendor.casefold(), *_words(one.vendor)):
                self._vendors[word].add(one.vendor)

    def alike(self, line: BankLine) -> list[OpenBill]:
        """Return the bills of the amount of a line, about its day."""
        listed = self._by_cents.get(-line.cents, ())
        return [one for one in listed if one.row in self.bills and _is_near(one, line)]

    def vendors(self, line: BankLine, rule: BankRule | None) -> set[str]:
        """Return the vendors that a rule means, or of whose names a line has half of the words."""
        if rule is not None:
            folded = rule.vendor.casefold()
            return {one for one in self._vendors.get(folded, ()) if one.casefold() == folded}
        words = _words(line.description)
        near = {one for word in words for one in self._vendors.get(word, ())}
        return {one for one in near if 2 * len(words & _words(one)) >= len(_words(one))}

    def of(self, vendors: Collection[str]) -> tuple[OpenBill, ...]:
        """Return the bills of vendors."""
        return tuple(one for one in self.bills.values() if one.vendor in vendors) if vendors else ()


def _logged(line: BankLine, alike: Iterable[MoneyLogged]) -> MoneyLogged | None:
    """Return the row of the same amount that is nearest before the day of a line."""
    near = (one for one in alike if 0 <= (line.day - one.day).days <= DAYS_TO_CLEAR)
    return max(near, key=lambda one: one.day, default=None)


def _proposal(
    line: BankLine, left: _Unpaid, rules: Sequence[BankRule], known: Collection[str]
) -> BankProposal:
    rule = rule_of(line.description, rules)
    if line.mark in known:
        return BankProposal(line, KNOWN, "the books have it")
    if not line.cents or (rule is not None and not rule.code):
        why = "nothing moved" if not line.cents else f"{rule and rule.words} is not for this job"
        return BankProposal(line, LEFT_OUT, why, rule=rule)
    if line.cents > 0:
        return BankProposal(line, RECEIPT, "money that came in")
    vendors, alike = left.vendors(line, rule), left.alike(line)
    named = [one for one in alike if one.vendor in vendors]
    if len(named or alike) == 1:
        return _payment(line, (named or alike)[0], is_named=bool(named))
    if named or alike:
        return _choice(line, "several bills are open at that", named or alike)
    if own := left.of(vendors):
        return _choice(line, f"{own[0].vendor} has a bill open at another amount", own, rule)
    if rule is not None:
        return BankProposal(line, COST, f"{rule.words} is {rule.vendor}", rule=rule)
    return BankProposal(line, NEEDS_CODE, "no open bill is for that amount, and no rule fits")


def _choice(
    line: BankLine, why: str, bills: Sequence[OpenBill], rule: BankRule | None = None
) -> BankProposal:
    if len(bills) > _MOST_TO_CHOOSE:
        why = f"{why}; the first {_MOST_TO_CHOOSE} of {len(bills):,} are listed"
    return BankProposal(line, NEEDS_CHOICE, why, tuple(bills[:_MOST_TO_CHOOSE]), rule)


def _payment(line: BankLine, bill: OpenBill, *, is_named: bool) -> BankProposal:
    days = (line.day - bill.happened).days
    apart = how_many(abs(days), "day")
    when = f"{apart} {'before' if days < 0 else 'after'} it" if days else "on its day"
    why = f"{cents_money(bill.cents)} is open, {when}"
    return BankProposal(line, PAYMENT, why if is_named else f"{why}; no vendor is named", (bill,))


def _is_near(bill: OpenBill, line: BankLine) -> bool:
    return -_DAYS_BEFORE <= (line.day - bill.happened).days <= _DAYS_AFTER


@lru_cache(maxsize=10_000)
def _words(text: str) -> frozenset[str]:
    words = re.findall("[a-z0-9]+", text.casefold())
    return frozenset(one for one in words if len(one) >= _SHORTEST_WORD)
