"""What the books give the tax-credit file: what counts, what does not, what one must ask about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from estimator.errors import FundingFaulty, fault
from estimator.funding.credit_dangers import what_endangers
from estimator.funding.credit_entries import CreditEntry, answered_costs
from estimator.funding.tax_credit import (
    MONTHS,
    Credit,
    Expenditure,
    Recapture,
    StatedBasis,
    Window,
    recapture,
    rehabilitation_credit,
    substantial_windows,
)
from estimator.tracking.books import Books
from estimator.tracking.budget import Budget
from estimator.tracking.credit_papers import ANSWERS, YES
from estimator.tracking.ledger_lines import lines_of
from estimator.tracking.ledger_sums import sums_of
from estimator.tracking.payroll_week import Worked


@dataclass(frozen=True)
class BuildingFacts:
    """What the owner and their adviser say of the building.

    Parameters
    ----------
    basis_cents : int
        [0.01 $] Adjusted basis before the work, without the land.
    placed_in_service : date
        The test is taken over the windows that end in its year, and the credit begins with it.
    months : int
        24, or 60 where the work was planned in phases before it began.
    is_cash_basis : bool
        True where a cost counts when it is paid, not when it is incurred.
    stated : tuple of StatedBasis
        What the basis was stated as on later days.
    """

    basis_cents: int
    placed_in_service: date
    months: int = MONTHS
    is_cash_basis: bool = False
    stated: tuple[StatedBasis, ...] = ()


def building_facts(
    known: Books,
    basis_cents: int | None,
    placed_in_service: date,
    months: int = MONTHS,
    *,
    is_cash_basis: bool = False,
) -> BuildingFacts:
    """Return what is said of the building, with the basis as the books have it.

    Parameters
    ----------
    known : Books
        As known on a day; each row of a basis holds from its day on, the first also before it.
    basis_cents : int or None
        [0.01 $] In the place of what the books state; None for that.
    placed_in_service : date
        First day in service.
    months : int
        24 or 60.
    is_cash_basis : bool
        True where a cost counts when it is paid.

    Raises
    ------
    FundingFaulty
        If no basis is stated anywhere.
    """
    if basis_cents is not None:
        return BuildingFacts(basis_cents, placed_in_service, months, is_cash_basis)
    rows = {one.happened: one for one in known.bases}
    steps = tuple(StatedBasis(day, rows[day].cents) for day in sorted(rows))
    if not steps:
        remedy = "state it, or post it with 'groundsill log basis'"
        raise fault(FundingFaulty, "of the building is not stated", remedy, "basis")
    return BuildingFacts(steps[0].cents, placed_in_service, months, is_cash_basis, steps[1:])


@dataclass(frozen=True)
class CreditFile:
    """The figures of the credit, as far as the books have them.

    Parameters
    ----------
    facts : BuildingFacts
        What they rest on.
    entries : tuple of CreditEntry
        Every cost, with its answer, the reason and the papers behind it.
    cents_by_answer : mapping of str to int
        [0.01 $] What normally counts (`yes`), does not (`no`), or is for a tax adviser to say
        (`ask`), all of it up to the end of that year.
    cents_by_code : mapping of str to int
        [0.01 $] What counts, by cost code.
    later_cents : int
        [0.01 $] What would count and came after that year: not in this credit.
    unpaid : Worked
        The owner's own hours and their value: never in any other figure.
    windows : tuple of Window
        The substantial-rehabilitation test over every window that ends in that year.
    credit : Credit
        Of what counts, if the test is passed and the work is certified.
    recapture : tuple of Recapture
        What of it is taken back if the building is given up early.
    dangers : tuple of str
        What would endanger it, in sentences.
    """

    facts: BuildingFacts
    entries: tuple[CreditEntry, ...]
    cents_by_answer: Mapping[str, int]
    cents_by_code: Mapping[str, int]
    later_cents: int
    unpaid: Worked
    windows: tuple[Window, ...]
    credit: Credit
    recapture: tuple[Recapture, ...]
    dangers: tuple[str, ...]

    @property
    def best_window(self) -> Window:
        """The window that passes by most, or misses by least."""
        return max(self.windows, key=lambda one: one.over_cents)


def credit_file(known: Books, budget: Budget, facts: BuildingFacts) -> CreditFile:
    """Return what the books give the tax-credit file.

    Parameters
    ----------
    known : Books
        As known on a day: see `Books.known`.
    budget : mapping of str to BudgetCode
        Whose codes say whether they normally count.
    facts : BuildingFacts
        What the owner and their adviser say of the building.

    Raises
    ------
    FundingFaulty
        As `substantial_windows` does.

    Notes
    -----
    The owner's own labor is in no cost, so it never counts. Only what is answered `yes` counts: the
    credit of what is asked about is not in it. What counts before, within and after a window that
    passes is in the credit, up to the end of that tax year, taken as the calendar year.

    References
    ----------
    26 U.S.C. 47(c)(1)(B); 26 CFR 1.48-12(c)(6) (from memory) for what came before and after.
    """
    year = facts.placed_in_service.year
    every = answered_costs(known, budget, is_cash_basis=facts.is_cash_basis)
    entries = [one for one in every if one.day.year <= year]
    counting = [one for one in entries if one.answer == YES]
    windows = substantial_windows(
        [Expenditure(one.day, one.cents) for one in counting],
        facts.basis_cents,
        date(year, 1, 1),
        date(year, 12, 31),
        facts.months,
        facts.stated,
    )
    qualified = max(_sum(counting), 0)
    credit = rehabilitation_credit(qualified, facts.placed_in_service)
    best = max(windows, key=lambda one: one.over_cents)
    by_answer = {of: _sum([one for one in entries if one.answer == of]) for of in ANSWERS}
    by_code = dict.fromkeys((one.code for one in counting), 0)
    for one in counting:
        by_code[one.code] += one.cents
    return CreditFile(
        facts=facts,
        entries=every,
        cents_by_answer=MappingProxyType(by_answer),
        cents_by_code=MappingProxyType(by_code),
        later_cents=_sum([one for one in every if one.answer == YES]) - _sum(counting),
        unpaid=sums_of(lines_of(known.hours)).unpaid(),
        windows=windows,
        credit=credit,
        recapture=recapture(credit.credit_cents, facts.placed_in_service),
        dangers=what_endangers(entries, known.approvals, best, year),
    )


def _sum(entries: Sequence[CreditEntry]) -> int:
    return sum(one.cents for one in entries)
