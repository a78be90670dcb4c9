"""A draw request as it is frozen: every figure and paper that the lender is shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from estimator.funding.draws import DrawLine, DrawTotals
from estimator.funding.loan_terms import LoanTerms

WORK, SOFT, CONTINGENCY_LINE, INTEREST = "work", "soft", "contingency", "interest"
LINE_KINDS = (WORK, SOFT, CONTINGENCY_LINE, INTEREST)
PROGRESS, RELEASE = "progress", "release"
ON_SITE, OFF_SITE, DEPOSIT = "on site", "off site", "deposit"
PLACES = (ON_SITE, OFF_SITE, DEPOSIT)
REIMBURSE, PAY_VENDOR, PAY_JOINTLY = "reimburse the owner", "pay the vendor", "pay both jointly"
THERE, MISSING, EXPIRED = "there", "missing", "expired"
RECEIVED, EXCEPTED = "received", "gives none"


@dataclass(frozen=True)
class CodeProgress:
    """A cost code of a line, as the walk around the job looks at it.

    Parameters
    ----------
    code, name, unit : str
        As in the budget.
    quantity, expected : Decimal
        [unit] In place by our own measure, and final quantity.
    percent : Decimal
        [%] In place by our own measure.
    inspector_percent : Decimal or None
        [%] By the inspector; None where they have not looked since the draw before.
    where : str
        Where to look.
    covered : tuple of str
        What may be out of sight since the draw before, with the picture taken before, in words.
    """

    code: str
    name: str
    unit: str
    quantity: Decimal
    expected: Decimal
    percent: Decimal
    inspector_percent: Decimal | None = None
    where: str = ""
    covered: tuple[str, ...] = ()


@dataclass(frozen=True)
class RequestLine:
    """A line of a draw request, with what stands beside it.

    Parameters
    ----------
    figures : DrawLine
        Scheduled, done, stored, retainage, balance.
    kind, basis : str
        `work`, `soft`, `contingency` or `interest`; what the line counts as done.
    earned_cents, incurred_cents, paid_cents : int
        [0.01 $] Beside it: worth in the budget of what is in place; cost that came about, with
        accruals; money that left.
    unbacked_cents : int
        [0.01 $] Billed in this draw without a receipt: by measure, or interest of the lender.
    codes : tuple of CodeProgress
        What stands in it.
    is_released : bool
        True where nothing is held back any more.
    cut_cents : int
        [0.01 $] What the lender took off; none while it is not decided.
    cut_reason : str
        Why.
    """

    figures: DrawLine
    kind: str
    basis: str
    earned_cents: int = 0
    incurred_cents: int = 0
    paid_cents: int = 0
    unbacked_cents: int = 0
    codes: tuple[CodeProgress, ...] = ()
    is_released: bool = False
    cut_cents: int = 0
    cut_reason: str = ""

    @property
    def line(self) -> str:
        """Number of the line."""
        return self.figures.state.line

    @property
    def name(self) -> str:
        """What it is called."""
        return self.figures.state.name


@dataclass(frozen=True)
class BackupPart:
    """What a draw takes of one entry of the books, on one line.

    Parameters
    ----------
    row : int
        Number of the entry in the books.
    line : str
        Of the schedule.
    happened : date
        The day the cost was incurred.
    vendor, document, what : str
        Whose bill; its number; `bill`, `credit`, `reversal` or `payroll`.
    entry_cents, drawn_before_cents, cents : int
        [0.01 $] What the line bears of the entry; drawn before; drawn now, negative where a draw
        before is corrected.
    paid_cents : int
        [0.01 $] What was paid on that, to date.
    proof : tuple of str
        Payments on the entry, in words.
    """

    row: int
    line: str
    happened: date
    vendor: str
    document: str
    what: str
    entry_cents: int
    drawn_before_cents: int
    cents: int
    paid_cents: int = 0
    proof: tuple[str, ...] = ()

    def taking(self, cents: int) -> BackupPart:
        """Return the part with what a draw takes of it, or gives back [0.01 $]."""
        if cents == self.cents:
            return self
        # written out, as `replace` takes three times as long over the entries of a large draw
        return BackupPart(
            self.row, self.line, self.happened, self.vendor, self.document, self.what,
            self.entry_cents, self.drawn_before_cents, cents, self.paid_cents, self.proof,
        )  # fmt: skip


@dataclass(frozen=True)
class Payee:
    """Who gets which part of what is billed, before retainage.

    Parameters
    ----------
    name, way : str
        The vendor, and whether the owner is reimbursed, the vendor is paid, or both jointly.
    cents : int
        [0.01 $]
    rows : tuple of int
        Entries of the books.
    proof : tuple of str
        Payments on them, in words.
    """

    name: str
    way: str
    cents: int
    rows: tuple[int, ...]
    proof: tuple[str, ...]


@dataclass(frozen=True)
class EvidenceItem:
    """A paper that the lender wants to see.

    Parameters
    ----------
    kind, state : str
        What it is; `there`, `missing` or `expired`.
    note : str
        Name of the paper, or what it is needed for.
    issued, expires : date or None
        Where it is there.
    """

    kind: str
    state: str
    note: str = ""
    issued: date | None = None
    expires: date | None = None


@dataclass(frozen=True)
class WaiverItem:
    """A lien waiver that is due with a draw.

    Parameters
    ----------
    payee : str
        Who gives it.
    draw : int
        Number of the draw that it is for.
    is_conditional, is_final : bool
        Conditional on being paid; final, not progress.
    cents : int
        [0.01 $] What it is for.
    state : str
        `received`, `missing`, or `gives none`.
    note : str
        What differs, in words.
    """

    payee: str
    draw: int
    is_conditional: bool
    is_final: bool
    cents: int
    state: str
    note: str = ""


@dataclass(frozen=True)
class LineChange:
    """What an approved change or transfer did to a line since the schedule was frozen.

    Parameters
    ----------
    row : int
        In the books.
    happened : date
        The day of approval.
    reason, line : str
        Why; which line.
    cents : int
        [0.01 $]
    """

    row: int
    happened: date
    reason: str
    line: str
    cents: int


@dataclass(frozen=True)
class StoredPart:
    """What of an entry is stored, or paid on what is to come, on the day of a draw.

    Parameters
    ----------
    row : int
        Number of the entry in the books.
    line : str
        Of the schedule; empty where the entry stands on one line only.
    cents : int
        [0.01 $]
    place : str
        `on site`, `off site`, or `deposit`.
    """

    row: int
    line: str
    cents: int
    place: str = ON_SITE


@dataclass(frozen=True)
class LeftOut:
    """An entry, or a part of one, that a draw does not ask for.

    Parameters
    ----------
    row : int
        In the books.
    cents : int
        [0.01 $]
    reason : str
        Why.
    """

    row: int
    cents: int
    reason: str


@dataclass(frozen=True)
class DrawRequest:
    """A draw request: lines, backup, payees, papers, totals, and the terms that hold.

    Parameters
    ----------
    project : str
        Its name.
    number, issue : int
        Of the draw, from 1; of its version: one that was returned is followed by the next.
    kind : str
        `progress`, or `release` of retainage.
    is_last : bool
        True for the last draw: no retainage is held.
    since, through : date
        First and last day of what is new in it.
    known_on : datetime
        [UTC] What was entered by then counts.
    terms : LoanTerms
        Of the loan.
    lines : tuple of RequestLine
        In the lender's order.
    backup, payees, evidence, waivers, changes, stored, left_out : tuples
        The sheets behind them.
    holds, differences : tuple of str
        Open hold points on lines that are billed; where inspector and own measure differ.
    totals : DrawTotals
        What it asks for, and whose money it is.
    """

    project: str
    number: int
    issue: int
    kind: str
    is_last: bool
    since: date
    through: date
    known_on: datetime
    terms: LoanTerms
    lines: tuple[RequestLine, ...]
    backup: tuple[BackupPart, ...]
    payees: tuple[Payee, ...]
    evidence: tuple[EvidenceItem, ...]
    waivers: tuple[WaiverItem, ...]
    changes: tuple[LineChange, ...]
    stored: tuple[StoredPart, ...]
    left_out: tuple[LeftOut, ...]
    holds: tuple[str, ...]
    differences: tuple[str, ...]
    totals: DrawTotals

    def sum_cents(self, name: str) -> int:
        """Return a figure of `DrawLine` or `LineState` over all lines [0.01 $].

        Parameters
        ----------
        name : str
            Such as `done_cents`, `retainage_cents`, `scheduled_cents`.
        """
        figures = [one.figures for one in self.lines]
        return sum(getattr(one if hasattr(one, name) else one.state, name) for one in figures)

    @property
    def billed_cents(self) -> int:
        """Work and stored material since the draw before, in all [0.01 $]."""
        return self.sum_cents("billed_cents")
