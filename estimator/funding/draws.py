"""Lines of a draw, and its totals: what is done, stored and held back, and what is requested."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.errors import Faults, FundingFaulty, fault, quoted
from estimator.funding.retainage import RetainageTerms, retainage_held
from estimator.money import apportion, cents_money, whole_half_up

COST, PERCENT, LESSER = "cost", "percent", "lesser"
BASES = (COST, PERCENT, LESSER)
EQUITY_FIRST, PRO_RATA = "equity first", "pro rata"


@dataclass(frozen=True)
class LineState:
    """What is known of a line on the day of a draw.

    Parameters
    ----------
    line, name : str
        As the lender has it.
    scheduled_cents, change_cents : int
        [0.01 $] Scheduled value as frozen with the loan, and what approved changes added.
    incurred_cents : int
        [0.01 $] Cost of the work to date, without what is stored.
    percent : Decimal
        [%] Done, as measured: by us, or by the lender's inspector.
    stored_cents : int
        [0.01 $] Material that is stored now and not yet built in.
    done_before_cents, stored_before_cents, retainage_before_cents : int
        [0.01 $] Work granted in earlier draws, stored material that the last one had, and what was
        held back then, to date.
    """

    line: str
    name: str
    scheduled_cents: int
    change_cents: int
    incurred_cents: int
    percent: Decimal
    stored_cents: int = 0
    done_before_cents: int = 0
    stored_before_cents: int = 0
    retainage_before_cents: int = 0

    @property
    def revised_cents(self) -> int:
        """Scheduled value with changes [0.01 $]."""
        return self.scheduled_cents + self.change_cents


@dataclass(frozen=True)
class DrawLine:
    """A line of a draw request.

    Parameters
    ----------
    state : LineState
        What it rests on.
    done_cents : int
        [0.01 $] Work done to date, as the basis has it.
    stored_cents : int
        [0.01 $] Stored now, as far as the scheduled value has room for it.
    retainage_cents : int
        [0.01 $] Held back, to date.
    """

    state: LineState
    done_cents: int
    stored_cents: int
    retainage_cents: int

    @property
    def done_this_period_cents(self) -> int:
        """Work since the draw before; negative where a draw before is corrected [0.01 $]."""
        return self.done_cents - self.state.done_before_cents

    @property
    def done_and_stored_cents(self) -> int:
        """Work and stored material to date [0.01 $]."""
        return self.done_cents + self.stored_cents

    @property
    def billed_cents(self) -> int:
        """Work and stored material since the draw before: receipts stand behind it [0.01 $]."""
        before = self.state.done_before_cents + self.state.stored_before_cents
        return self.done_and_stored_cents - before

    @property
    def retainage_this_period_cents(self) -> int:
        """Held back since the draw before; negative where it is released [0.01 $]."""
        return self.retainage_cents - self.state.retainage_before_cents

    @property
    def earned_cents(self) -> int:
        """Done and stored less what is held back [0.01 $]."""
        return self.done_and_stored_cents - self.retainage_cents

    @property
    def balance_to_finish_cents(self) -> int:
        """Revised scheduled value less what was earned: with retainage [0.01 $]."""
        return self.state.revised_cents - self.earned_cents

    @property
    def over_billed_cents(self) -> int:
        """By how much earlier draws are over the revised value: to be recovered [0.01 $]."""
        return max(self.state.done_before_cents - self.state.revised_cents, 0)


def draw_line(
    state: LineState, retainage: RetainageTerms, basis: str = LESSER, *, is_last: bool = False
) -> DrawLine:
    """Return a line of a draw.

    Parameters
    ----------
    state : LineState
        What is known of it.
    retainage : RetainageTerms
        Of the loan.
    basis : str
        `cost`: what was incurred; `percent`: scheduled value x percent; `lesser` of the two.
    is_last : bool
        True in the last draw: nothing is held back.

    Raises
    ------
    FundingFaulty
        If the basis is unknown, or a figure is below zero or a percent above 100.

    Notes
    -----
    Work and stored material together never pass the revised scheduled value of the day; a change
    that takes the value below what was drawn makes the line negative this period.

    Examples
    --------
    >>> state = LineState("3", "Foundations", 30_000_000, 0, 6_200_000, Decimal(25), 2_300_000)
    >>> line = draw_line(state, RetainageTerms())
    >>> line.done_cents, line.retainage_cents, line.earned_cents
    (6200000, 850000, 7650000)
    """
    _check_state(state, basis)
    most = max(state.revised_cents, 0)
    measured = whole_half_up(Fraction(state.revised_cents) * Fraction(state.percent) / 100)
    by_basis = {
        COST: state.incurred_cents,
        PERCENT: measured,
        LESSER: min(state.incurred_cents, measured),
    }
    done = max(min(by_basis[basis], most), 0)
    stored = min(state.stored_cents, most - done)
    held = 0 if is_last else retainage_held(retainage, state.revised_cents, done, stored)
    return DrawLine(state, done, stored, held)


def _check_state(state: LineState, basis: str) -> None:
    faults, where = Faults(), f"line {quoted(state.line)}"
    if basis not in BASES:
        faults.add("basis", f"is {quoted(basis)}", f"one of {', '.join(BASES)}")
    if not 0 <= state.percent <= 100:
        faults.add(where, f"is {state.percent} % done", "0 to 100")
    if state.stored_cents < 0:
        faults.add(where, "has stored material below zero", "write what is stored now")
    faults.raise_if_any(FundingFaulty)


@dataclass(frozen=True)
class DrawTotals:
    """What a draw asks for, in all.

    Parameters
    ----------
    earned_cents, retainage_cents : int
        [0.01 $] Of all lines, to date: done and stored less what is held back; what is held back.
    funded_before_cents : int
        [0.01 $] Paid out on all earlier draws, equity and loan.
    granted_before_cents : int
        [0.01 $] Granted on all earlier draws, net of retainage.
    equity_cents, loan_cents : int
        [0.01 $] Whose money the request is; they add up to it.
    equity_before_cents, equity_required_cents : int
        [0.01 $] Equity that was paid in before, and all that the owner has to pay in.
    """

    earned_cents: int
    retainage_cents: int
    funded_before_cents: int
    granted_before_cents: int
    equity_cents: int
    loan_cents: int
    equity_before_cents: int = 0
    equity_required_cents: int = 0

    @property
    def requested_cents(self) -> int:
        """What is requested: earned to date less what was funded [0.01 $]."""
        return self.earned_cents - self.funded_before_cents

    @property
    def short_funded_cents(self) -> int:
        """What was granted before and not funded: part of the request [0.01 $]."""
        return self.granted_before_cents - self.funded_before_cents

    @property
    def loan_before_cents(self) -> int:
        """The lender's part of what was funded before [0.01 $]."""
        return self.funded_before_cents - self.equity_before_cents


@dataclass(frozen=True)
class EquityTerms:
    """The owner's part.

    Parameters
    ----------
    required_cents, commitment_cents : int
        [0.01 $] Equity required, and the loan.
    order : str
        `equity first`, or `pro rata`.
    """

    required_cents: int
    commitment_cents: int
    order: str = EQUITY_FIRST


def draw_totals(
    lines: Iterable[DrawLine],
    equity: EquityTerms,
    equity_paid_cents: int = 0,
    funded_before_cents: int = 0,
    granted_before_cents: int = 0,
) -> DrawTotals:
    """Return what a draw asks for, split between the owner's equity and the loan.

    Parameters
    ----------
    lines : iterable of DrawLine
        Of every line of the schedule.
    equity : EquityTerms
        Of the loan.
    equity_paid_cents : int
        [0.01 $] Equity that was paid in before.
    funded_before_cents, granted_before_cents : int
        [0.01 $] Of all earlier draws: paid out, and granted net of retainage.

    Raises
    ------
    FundingFaulty
        If the order is unknown, or the loan would be drawn beyond its commitment.

    Examples
    --------
    See `tests/published/test_funding.py`: two applications of a contract of $300,000.
    """
    listed = tuple(lines)
    earned = sum(one.earned_cents for one in listed)
    requested = earned - funded_before_cents
    owner = owner_part(requested, equity, equity_paid_cents)
    loan_before = funded_before_cents - equity_paid_cents
    if loan_before + requested - owner > equity.commitment_cents:
        over = loan_before + requested - owner - equity.commitment_cents
        what = f"the loan would be {cents_money(over)} over its commitment"
        raise fault(FundingFaulty, what, "pay that in as equity, or ask the lender for more")
    held = sum(one.retainage_cents for one in listed)
    return DrawTotals(
        earned, held, funded_before_cents, granted_before_cents, owner, requested - owner,
        equity_paid_cents, equity.required_cents,
    )  # fmt: skip


def owner_part(requested_cents: int, equity: EquityTerms, equity_paid_cents: int) -> int:
    """Return what of a request the owner's equity pays [0.01 $].

    Parameters
    ----------
    requested_cents : int
        [0.01 $] Requested.
    equity : EquityTerms
        Of the loan.
    equity_paid_cents : int
        [0.01 $] Equity that was paid in before.

    Raises
    ------
    FundingFaulty
        If the order is unknown.
    """
    left = max(equity.required_cents - equity_paid_cents, 0)
    if equity.order == EQUITY_FIRST:
        return max(min(requested_cents, left), 0)
    if equity.order == PRO_RATA:
        weights = [equity.required_cents, equity.commitment_cents]
        return min(apportion(requested_cents, weights)[0], left)
    raise fault(FundingFaulty, f"is {equity.order!r}", f"{EQUITY_FIRST!r} or {PRO_RATA!r}", "order")


def totals_disagree(lines: Sequence[DrawLine], requested_cents: int, funded_cents: int) -> str:
    """Return a sentence where a request is not the sum of its lines; else nothing.

    Parameters
    ----------
    lines : sequence of DrawLine
        As they are printed.
    requested_cents, funded_cents : int
        [0.01 $] As they are printed: requested, and funded before.
    """
    expected = sum(one.earned_cents for one in lines) - funded_cents
    if requested_cents == expected:
        return ""
    return (
        f"the lines come to {cents_money(expected)} and the request to "
        f"{cents_money(requested_cents)}: {cents_money(requested_cents - expected)} apart"
    )
