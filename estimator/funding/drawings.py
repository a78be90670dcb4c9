"""What the owner says when a draw is opened, what came before, and what is refused of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from estimator.errors import Faults, FundingFaulty, how_many, quoted
from estimator.funding.draw_backup import Drawn
from estimator.funding.draw_requests import (
    PLACES,
    PROGRESS,
    RELEASE,
    BackupPart,
    DrawRequest,
    RequestLine,
    StoredPart,
)
from estimator.funding.loan_schedule import Loan
from estimator.funding.loan_terms import FROM_RESERVE
from estimator.money import cents_money


@dataclass(frozen=True)
class Drawing:
    """What the owner says when a draw is opened.

    Parameters
    ----------
    number, issue : int
        Of the draw, and of its version.
    through : date
        Last day of what is new in it.
    kind : str
        `progress`, or `release` of retainage.
    stored : tuple of StoredPart
        Material that is not built in yet, and deposits.
    interest_cents : int
        [0.01 $] That the lender posted to the reserve since the draw before.
    is_last : bool
        True of the last draw.
    released : tuple of str
        Lines whose retainage is requested.
    left_out : tuple of int
        Rows of the books that are not requested this time.
    """

    number: int
    issue: int
    through: date
    kind: str = PROGRESS
    stored: tuple[StoredPart, ...] = ()
    interest_cents: int = 0
    is_last: bool = False
    released: tuple[str, ...] = ()
    left_out: tuple[int, ...] = ()


@dataclass(frozen=True)
class DrawHistory:
    """What earlier draws came to.

    Parameters
    ----------
    last : DrawRequest or None
        The draw before, as it was granted.
    drawn : mapping of (row, line) to int
        [0.01 $] What all of them took of each entry.
    equity_cents, loan_cents : int
        [0.01 $] What was funded, by the owner and by the lender, with fees that were withheld.
    """

    last: DrawRequest | None = None
    drawn: Drawn = field(default_factory=dict)
    equity_cents: int = 0
    loan_cents: int = 0

    @property
    def funded_cents(self) -> int:
        """All that was funded [0.01 $]."""
        return self.equity_cents + self.loan_cents

    @property
    def granted_cents(self) -> int:
        """All that was granted, net of retainage [0.01 $]."""
        return self.last.totals.earned_cents if self.last else 0

    @property
    def lines(self) -> Mapping[str, RequestLine]:
        """The lines of the draw before, by number."""
        return {one.line: one for one in self.last.lines} if self.last else {}

    @property
    def backup(self) -> Sequence[BackupPart]:
        """The backup of the draw before."""
        return self.last.backup if self.last else ()


def check_drawing(loan: Loan, drawing: Drawing, history: DrawHistory) -> None:
    """Refuse a draw that the terms, or the draws before, do not allow.

    Parameters
    ----------
    loan : Loan
        With its terms.
    drawing : Drawing
        What the owner says.
    history : DrawHistory
        What came before.

    Raises
    ------
    FundingFaulty
        With every fault: out of order, before costs may be drawn, after the end, too many.
    """
    faults, terms = Faults(), loan.terms
    if drawing.through < terms.drawable_from:
        faults.add("through", f"{drawing.through} is before {terms.drawable_from}",
                   "costs may be drawn from that day on")  # fmt: skip
    if drawing.through > terms.ends:
        what = f"{drawing.through} is after the end of the loan, {terms.ends}"
        faults.add("through", what, "ask the lender to extend it")
    if history.last is not None and drawing.through < history.last.through:
        what = f"{drawing.through} is before the end of draw {history.last.number}"
        faults.add("through", what, f"draws follow each other: from {history.last.through} on")
    if terms.most_draws and drawing.number > terms.most_draws and drawing.kind == PROGRESS:
        faults.add(
            "number",
            f"the loan has {how_many(terms.most_draws, 'draw')}",
            "ask the lender for more",
        )
    _check_parts(loan, drawing, history, faults)
    faults.raise_if_any(FundingFaulty)


def _check_parts(loan: Loan, drawing: Drawing, history: DrawHistory, faults: Faults) -> None:
    kinds = {one.line: one.kind for one in loan.lines}
    for part in drawing.stored:
        if part.place not in PLACES:
            what = f"{quoted(part.place)} is not a place"
            faults.add("stored", what, f"write one of {', '.join(PLACES)}")
    if drawing.interest_cents and loan.terms.interest != FROM_RESERVE:
        faults.add("interest", "there is no interest reserve", "the owner pays it then")
    if (drawing.kind == RELEASE) != bool(drawing.released) and not drawing.is_last:
        faults.add("released", "a release names its lines, and a draw of work none")
    for line in drawing.released:
        if line not in kinds:
            faults.add("released", f"there is no line {quoted(line)}")
            continue
        before = history.lines.get(line)
        state = before.figures if before else None
        done = state.done_cents if state else 0
        if state is None or done < state.state.revised_cents:
            of = f" of {cents_money(state.state.revised_cents)}" if state else ""
            what = f"line {line} is not complete: {cents_money(done)}{of}"
            faults.add("released", what, "its retainage is released when it is")
