"""The package of a draw: what goes to the lender on paper and in a workbook, whoever prints it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from estimator.funding.draw_checks import notes_on
from estimator.funding.draw_from_books import equity_terms
from estimator.funding.draw_requests import (
    RELEASE,
    CodeProgress,
    DrawRequest,
    RequestLine,
    WaiverItem,
)
from estimator.funding.draws import DrawLine
from estimator.funding.loan_balance import LoanBalance
from estimator.money import fixed_point_text, whole_half_up

OPEN = "open"
DIGEST_SHOWN = 12
LENDERS_FORM = (
    "The lender's own form governs. This package gives the figures to fill it in with; where the "
    "form words a line differently, the form's words hold."
)
BALANCE_NOTE = (
    "What there is to pay with against what is still to be paid, at the P50 and the P80 of the "
    "cost at completion, from the books of the draw's last day. It is worked out when this is "
    "printed and is not part of what was submitted; downloads from the service leave it out."
)
NOT_BEGUN = "Cost codes with nothing in place are left out."
_INVENTED = "(invented"


@dataclass(frozen=True)
class CoverFigure:
    """A figure of the cover sheet.

    Parameters
    ----------
    label : str
        What it is.
    cents : int
        [0.01 $]
    is_result : bool
        True where the figures above lead to it.
    """

    label: str
    cents: int
    is_result: bool = False


@dataclass(frozen=True)
class DrawPackage:
    """A draw with what is said of it, ready to print.

    Parameters
    ----------
    request : DrawRequest
        As it was granted; as it was submitted where that is not decided; else as it stands.
    state : str
        `open`, `submitted`, `granted`, `returned` or `funded`.
    digest : str
        Of what was submitted; empty while the draw is open.
    steps : tuple of str
        What came of it, in words.
    balance : LoanBalance or None
        Of the loan, from the books of the draw's last day; None where it is not for the reader.
    """

    request: DrawRequest
    state: str = OPEN
    digest: str = ""
    steps: tuple[str, ...] = ()
    balance: LoanBalance | None = None

    @property
    def name(self) -> str:
        """Of the file, without its ending: `draw-02`."""
        return f"draw-{self.request.number:02}"

    @property
    def title(self) -> str:
        """Of the cover: number, version and kind."""
        request = self.request
        version = f", version {request.issue}" if request.issue > 1 else ""
        kinds = [", release of retainage"] if request.kind == RELEASE else []
        kinds += [", the last"] if request.is_last else []
        return f"Draw {request.number}{version}{''.join(kinds)}"

    @property
    def standing(self) -> str:
        """State and digest, as the foot of each page has them."""
        digest = f"digest {self.digest[:DIGEST_SHOWN]}" if self.digest else "not submitted"
        return f"Draw {self.request.number}, {self.state}, {digest}"

    @property
    def mark(self) -> str:
        """What must not be overlooked: that all of it is invented; else nothing."""
        names = (self.request.project, self.request.terms.lender)
        return "INVENTED SAMPLE" if any(_INVENTED in one for one in names) else ""

    @property
    def notes(self) -> tuple[str, ...]:
        """What the lender will ask about."""
        return notes_on(self.request)


def cover_figures(request: DrawRequest) -> tuple[CoverFigure, ...]:
    """Return the figures of the cover sheet: from the scheduled value to what is requested.

    Parameters
    ----------
    request : DrawRequest
        As it is shown.
    """
    totals, of = request.totals, request.sum_cents
    return (
        CoverFigure("Scheduled value, as frozen with the loan", of("scheduled_cents")),
        CoverFigure("Approved changes since", of("change_cents")),
        CoverFigure("Value today", of("revised_cents"), is_result=True),
        CoverFigure("Work done to date", of("done_cents")),
        CoverFigure("Stored now", of("stored_cents")),
        CoverFigure("Done and stored to date", of("done_and_stored_cents"), is_result=True),
        CoverFigure("Less retainage held", -totals.retainage_cents),
        CoverFigure("Done and stored, less retainage", totals.earned_cents, is_result=True),
        CoverFigure("Less funded on earlier draws", -totals.funded_before_cents),
        CoverFigure("Requested", totals.requested_cents, is_result=True),
    )


def split_figures(request: DrawRequest) -> tuple[CoverFigure, ...]:
    """Return whose money the request is, and what is left of the loan and of the equity.

    Parameters
    ----------
    request : DrawRequest
        As it is shown.
    """
    totals = request.totals
    terms = equity_terms(request.terms, [one.figures for one in request.lines])
    loan_left = terms.commitment_cents - totals.loan_before_cents - totals.loan_cents
    equity_left = terms.required_cents - totals.equity_before_cents - totals.equity_cents
    return (
        CoverFigure("The loan", terms.commitment_cents),
        CoverFigure("Less drawn before, with fees withheld", -totals.loan_before_cents),
        CoverFigure("Less this draw, from the loan", -totals.loan_cents),
        CoverFigure("Left to draw", loan_left, is_result=True),
        CoverFigure("The owner's equity", terms.required_cents),
        CoverFigure("Less paid in before", -totals.equity_before_cents),
        CoverFigure("Less this draw, from the equity", -totals.equity_cents),
        CoverFigure("Left to pay in", equity_left, is_result=True),
    )


def rows_text(rows: tuple[int, ...]) -> str:
    """Return numbers of entries, those that follow each other together.

    Parameters
    ----------
    rows : tuple of int
        In any order.

    Examples
    --------
    >>> rows_text((4, 9, 5, 6, 12, 13))
    '4-6, 9, 12, 13'
    """
    runs: list[list[int]] = []
    for row in sorted(rows):
        if runs and row == runs[-1][-1] + 1:
            runs[-1].append(row)
        else:
            runs.append([row])
    return ", ".join(
        f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )


def proof_text(proof: tuple[str, ...], shown: int = 4) -> str:
    """Return payments in words; of many, the first few and how many more there are.

    Parameters
    ----------
    proof : tuple of str
        As they stand in the backup.
    shown : int
        How many are named.

    Examples
    --------
    >>> proof_text(("check 1", "check 2", "check 3"), 2)
    'check 1; check 2; and 1 more: see the backup'
    """
    more = len(proof) - shown
    words = "; ".join(proof[:shown])
    return f"{words}; and {more} more: see the backup" if more > 0 else words


def share_text(line: DrawLine) -> str:
    """Return which part of its value a line has done and stored [%], to one decimal.

    Parameters
    ----------
    line : DrawLine
        Of a draw; one without a value has a dash.
    """
    value = line.state.revised_cents
    if value <= 0:
        return "-"
    tenths = whole_half_up(Fraction(1000 * line.done_and_stored_cents, value))
    return fixed_point_text(tenths, 1)


def waiver_kind(waiver: WaiverItem) -> str:
    """Return `conditional progress`, `unconditional final`, and so on.

    Parameters
    ----------
    waiver : WaiverItem
        That is due.
    """
    condition = "conditional" if waiver.is_conditional else "unconditional"
    return f"{condition} {'final' if waiver.is_final else 'progress'}"


def claimed_codes(line: RequestLine) -> tuple[CodeProgress, ...]:
    """Return the cost codes of a line of which something is in place, by us or the inspector.

    Parameters
    ----------
    line : RequestLine
        Of a draw.
    """
    return tuple(one for one in line.codes if one.quantity or one.inspector_percent)
