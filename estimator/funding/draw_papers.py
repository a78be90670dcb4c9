"""Papers of a draw: the evidence that the lender wants, and the lien waivers that are due."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from estimator.funding.draw_requests import (
    DEPOSIT,
    EXCEPTED,
    EXPIRED,
    MISSING,
    RECEIVED,
    THERE,
    BackupPart,
    EvidenceItem,
    StoredPart,
    WaiverItem,
)
from estimator.funding.loan_terms import BOTH, NO_WAIVERS, EvidenceRule, LoanTerms
from estimator.money import cents_money

BILL_OF_SALE = "bill of sale"
_PAYROLL = "payroll"


@dataclass(frozen=True)
class Waiver:
    """A lien waiver that came in.

    Parameters
    ----------
    number : int
        Of the paper, from 1.
    entered : datetime
        [UTC]
    payee : str
        Who gave it.
    draw : int
        Number of the draw that it is for.
    is_conditional, is_final : bool
        Conditional on being paid; final, not progress.
    cents : int
        [0.01 $] What it is for.
    received : date
        The day it came.
    note : str
        What it excepts.
    """

    number: int
    entered: datetime
    payee: str
    draw: int
    is_conditional: bool
    is_final: bool
    cents: int
    received: date
    note: str = ""


@dataclass(frozen=True)
class Evidence:
    """A paper that the lender wants to see.

    Parameters
    ----------
    number : int
        Of the paper, from 1.
    entered : datetime
        [UTC]
    kind, name : str
        `insurance`, `permit`, ...; what it is called.
    issued : date
        Its day.
    expires : date or None
        Last day it is valid.
    draw : int or None
        Number of the draw that it is for; None of one that holds for all.
    row : int or None
        Entry of the books that it is of, such as stored material.
    note : str
        Where it lies, what it says.
    """

    number: int
    entered: datetime
    kind: str
    name: str
    issued: date
    expires: date | None = None
    draw: int | None = None
    row: int | None = None
    note: str = ""


@dataclass(frozen=True)
class Picture:
    """A picture of the job that was kept with its books.

    Parameters
    ----------
    number : int
        Of the document.
    taken : date
        Its day.
    code, spot, name : str
        What it is of and from where, each empty if nobody said; what the file was called.
    row : int or None
        Entry of the books that it belongs to.
    """

    number: int
    taken: date
    code: str
    spot: str
    name: str
    row: int | None = None


@dataclass(frozen=True)
class Papers:
    """All papers of a loan, each list in the order of entry; pictures by their days."""

    waivers: list[Waiver] = field(default_factory=list)
    evidence: list[Evidence] = field(default_factory=list)
    pictures: list[Picture] = field(default_factory=list)


def evidence_list(
    rules: Iterable[EvidenceRule],
    evidence: Sequence[Evidence],
    draw: int,
    day: date,
    stored: Iterable[StoredPart] = (),
) -> tuple[EvidenceItem, ...]:
    """Return what the lender wants to see with a draw, and whether it is there.

    Parameters
    ----------
    rules : iterable of EvidenceRule
        Of the loan.
    evidence : sequence of Evidence
        All that came in.
    draw : int
        Its number.
    day : date
        On which papers must hold.
    stored : iterable of StoredPart
        Each wants a bill of sale that says where it lies.
    """
    items = []
    for rule in rules:
        papers = [one for one in evidence if one.kind.casefold() == rule.kind.casefold()]
        own = [one for one in papers if one.draw == draw or not rule.each_draw]
        items.append(_item(rule.kind, own, day, ""))
    for part in stored:
        if part.place != DEPOSIT:
            papers = [one for one in evidence if (one.kind, one.row) == (BILL_OF_SALE, part.row)]
            items.append(_item(BILL_OF_SALE, papers, day, f"row {part.row}, {part.place}"))
    return tuple(items)


def _item(kind: str, papers: Sequence[Evidence], day: date, note: str) -> EvidenceItem:
    if not papers:
        return EvidenceItem(kind, MISSING, note)
    newest = max(papers, key=lambda one: (one.expires or date.max, one.issued, one.number))
    state = EXPIRED if newest.expires is not None and newest.expires < day else THERE
    words = f"{note}: {newest.name}" if note else newest.name
    return EvidenceItem(kind, state, words, newest.issued, newest.expires)


def waiver_list(
    terms: LoanTerms,
    waivers: Sequence[Waiver],
    draw: int,
    backup: Iterable[BackupPart],
    before: Iterable[BackupPart] = (),
    *,
    is_last: bool = False,
) -> tuple[WaiverItem, ...]:
    """Return the waivers that are due with a draw, and which came in.

    Parameters
    ----------
    terms : LoanTerms
        `conditional` asks for one of each payee with the draw, `both` for the unconditional one of
        the draw before too. Nobody on the payroll gives one, nor who is named as giving none.
    waivers : sequence of Waiver
        All that came in.
    draw : int
        Its number.
    backup, before : iterables of BackupPart
        Of this draw, and of the one before as it was granted.
    is_last : bool
        Then the ones of this draw are final.

    Notes
    -----
    Forms are set by statute in some states: this lists and tracks them; it drafts none.
    """
    if terms.waivers == NO_WAIVERS:
        return ()
    due = [(payee, draw, cents, True, is_last) for payee, cents in _paid(backup).items()]
    if terms.waivers == BOTH:
        due += [(payee, draw - 1, cents, False, False) for payee, cents in _paid(before).items()]
    return tuple(_waiver(terms, waivers, *one) for one in due)


def _paid(backup: Iterable[BackupPart]) -> Mapping[str, int]:
    sums: dict[str, int] = defaultdict(int)
    for part in backup:
        if part.what != _PAYROLL:
            sums[part.vendor] += part.cents
    return {payee: cents for payee, cents in sums.items() if cents > 0}


def _waiver(
    terms: LoanTerms,
    waivers: Sequence[Waiver],
    payee: str,
    draw: int,
    cents: int,
    is_conditional: bool,
    is_final: bool,
) -> WaiverItem:
    if payee.casefold() in (one.casefold() for one in terms.no_waiver_from):
        return WaiverItem(payee, draw, is_conditional, is_final, cents, EXCEPTED)
    came = list(_that_serve(waivers, payee, draw, is_conditional, is_final))
    if not came:
        return WaiverItem(payee, draw, is_conditional, is_final, cents, MISSING)
    newest = came[-1]
    notes = [newest.note] if newest.note else []
    if newest.cents != cents:
        notes.append(f"it is for {cents_money(newest.cents)}")
    note = "; ".join(notes)
    return WaiverItem(payee, draw, is_conditional, is_final, cents, RECEIVED, note)


def _that_serve(
    waivers: Iterable[Waiver], payee: str, draw: int, is_conditional: bool, is_final: bool
) -> Iterator[Waiver]:
    """Yield waivers that serve: an unconditional one for a conditional, a final for a progress."""
    for one in waivers:
        of_payee = one.payee.casefold() == payee.casefold() and one.draw == draw
        if (
            of_payee
            and (is_conditional or not one.is_conditional)
            and (one.is_final or not is_final)
        ):
            yield one
