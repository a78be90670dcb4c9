"""What the books give the tax-credit file: what counts, what does not, what one must ask about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from estimator.funding.tax_credit import (
    MONTHS,
    Credit,
    Expenditure,
    Window,
    rehabilitation_credit,
    substantial_windows,
)
from estimator.tracking.budget import Budget
from estimator.tracking.ledger_rows import Cost

YES, NO, ASK_FIRST = "yes", "no", "ask"


@dataclass(frozen=True)
class CreditFile:
    """The figures of the credit, as far as the books have them.

    Parameters
    ----------
    cents_by_answer : mapping of str to int
        [0.01 $] Costs of codes that normally count (`yes`), do not (`no`), or are for a tax adviser
        to say (`ask`); codes that the budget does not have are asked about.
    cents_by_code : mapping of str to int
        [0.01 $] What counts, by cost code.
    windows : tuple of Window
        The substantial-rehabilitation test over every window that ends in the named year.
    credit : Credit
        Of what counts, if the test is passed and the work is certified.
    """

    cents_by_answer: Mapping[str, int]
    cents_by_code: Mapping[str, int]
    windows: tuple[Window, ...]
    credit: Credit

    @property
    def best_window(self) -> Window:
        """The window that passes by most, or misses by least."""
        return max(self.windows, key=lambda one: one.over_cents)


def credit_file(
    costs: Iterable[Cost],
    budget: Budget,
    basis_cents: int,
    placed_in_service: date,
    months: int = MONTHS,
) -> CreditFile:
    """Return what the books give the tax-credit file.

    Parameters
    ----------
    costs : iterable of Cost
        As known: see `as_known`. A reversal and a vendor's credit take off what they take back.
    budget : mapping of str to BudgetCode
        Whose codes say whether they normally count.
    basis_cents : int
        [0.01 $] Adjusted basis of the building before the work, without the land.
    placed_in_service : date
        The test is taken over the windows that end in its year.
    months : int
        24, or 60 where the work was planned in phases before it began.

    Raises
    ------
    FundingFaulty
        As `substantial_windows` does.

    Notes
    -----
    Costs count on the day they were incurred. The owner's own labor is in no cost, so it never
    counts. Only codes that say `yes` count: the credit of what is asked about is not in it.
    """
    answers: dict[str, int] = {YES: 0, NO: 0, ASK_FIRST: 0}
    by_code: dict[str, int] = {}
    spent: list[Expenditure] = []
    for cost in costs:
        for split in cost.splits:
            answer = budget[split.code].credit if split.code in budget else ASK_FIRST
            answers[answer] += split.cents
            if answer == YES:
                by_code[split.code] = by_code.get(split.code, 0) + split.cents
                spent.append(Expenditure(cost.happened, split.cents))
    year = placed_in_service.year
    windows = substantial_windows(spent, basis_cents, date(year, 1, 1), date(year, 12, 31), months)
    return CreditFile(
        MappingProxyType(answers),
        MappingProxyType(by_code),
        windows,
        rehabilitation_credit(max(answers[YES], 0), placed_in_service),
    )
