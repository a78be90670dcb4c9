"""The terms of a loan as data: what holds where practice differs, checked for contradictions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.errors import Faults, FundingFaulty
from estimator.funding.day_counts import ACTUAL_360, DAY_COUNTS
from estimator.funding.draws import BASES, EQUITY_FIRST, LESSER, PRO_RATA
from estimator.funding.loan_interest import RateStep
from estimator.funding.retainage import STOP, RetainageTerms

OWNER, LENDER = "owner", "lender"
PAID, FROM_RESERVE = "paid", "reserve"
WITHHELD = "withheld"
NO_WAIVERS, CONDITIONAL, BOTH = "none", "conditional", "both"
TO_OWNER, TO_VENDOR, JOINTLY = "owner", "vendor", "jointly"
CHANGES = (OWNER, LENDER)
INTEREST_WAYS = (PAID, FROM_RESERVE)
FEE_WAYS = (WITHHELD, PAID)
WAIVER_POLICIES = (NO_WAIVERS, CONDITIONAL, BOTH)
VENDOR_WAYS = (TO_OWNER, TO_VENDOR, JOINTLY)
EQUITY_ORDERS = (EQUITY_FIRST, PRO_RATA)
FREE, IN_PROPORTION = "free", "in proportion"
CONTINGENCY_USES = (FREE, IN_PROPORTION)
TEN_PERCENT = RetainageTerms()
TITLE, PHOTOGRAPHS = "title date-down", "photographs"


@dataclass(frozen=True)
class EvidenceRule:
    """A paper that the lender wants to see.

    Parameters
    ----------
    kind : str
        What it is: `insurance`, `permit`, `title date-down`.
    each_draw : bool
        True where each draw needs one of its own; False where one holds until it expires.
    """

    kind: str
    each_draw: bool = False


EVIDENCE = (
    EvidenceRule("insurance"),
    EvidenceRule("permit"),
    EvidenceRule(TITLE, each_draw=True),
    EvidenceRule(PHOTOGRAPHS, each_draw=True),
)


@dataclass(frozen=True)
class LoanTerms:
    """The terms of a construction loan.

    Parameters
    ----------
    lender : str
        Who lends.
    commitment_cents, equity_cents : int
        [0.01 $] The loan, and what the owner pays in.
    closed, ends : date
        The first day of the loan, and the last on which it is drawn.
    rates : tuple of RateStep
        The first from the closing on, or earlier.
    costs_from : date or None
        First day on which a cost was incurred that may be drawn; None for the closing.
    equity_order : str
        `equity first`, or `pro rata`.
    changes : str
        Who bears approved changes beyond the contingency: `owner` or `lender`.
    basis : str
        What a line counts as done: `cost`, `percent`, or the `lesser`.
    retainage : RetainageTerms
        Of lines of work; nothing is held back of soft costs, contingency and interest.
    stored_on_site, stored_off_site, deposits : bool
        Whether material that is not yet built in is drawn, there or elsewhere, and what was paid
        on what is not yet delivered.
    day_count : str
        How days become parts of a year.
    interest : str
        `paid` by the owner each month, or added to the loan from a `reserve`.
    origination_cents, inspection_cents : int
        [0.01 $] Fees: once, and at each draw.
    fees : str
        `withheld` from what the lender pays out, or `paid` by the owner.
    smallest_cents, most_draws : int
        [0.01 $] Smallest draw; zero for none. How many there may be; zero for no limit.
    days_to_funding : int
        [day] From submission to funding.
    waivers : str
        `none`; `conditional`, one with each draw; `both`, and the unconditional one with the next.
    no_waiver_from : tuple of str
        Payees that give none, such as a permit office.
    vendors : str
        Who is paid what the owner has not paid yet: the `owner`, the `vendor`, both `jointly`.
    evidence : tuple of EvidenceRule
        Papers that the lender wants to see.
    contingency_fraction : Decimal
        [part of the cost to complete] Contingency that must be left for the loan to be in balance.
    contingency_use : str
        `free`; `in proportion`: no larger part of it is used than of the work is done.
    transfer_fraction : Decimal
        [part of its scheduled value] Up to which transfers may lower a line without the lender.
    approved_rows : tuple of int
        Rows of the books whose changes the lender approved beyond these two limits.
    preset : str
        Public program whose rules the terms start from; empty for none.
    """

    lender: str
    commitment_cents: int
    equity_cents: int
    closed: date
    ends: date
    rates: tuple[RateStep, ...]
    costs_from: date | None = None
    equity_order: str = EQUITY_FIRST
    changes: str = OWNER
    basis: str = LESSER
    retainage: RetainageTerms = TEN_PERCENT
    stored_on_site: bool = True
    stored_off_site: bool = False
    deposits: bool = False
    day_count: str = ACTUAL_360
    interest: str = PAID
    origination_cents: int = 0
    inspection_cents: int = 0
    fees: str = WITHHELD
    smallest_cents: int = 0
    most_draws: int = 0
    days_to_funding: int = 10
    waivers: str = BOTH
    no_waiver_from: tuple[str, ...] = ()
    vendors: str = TO_OWNER
    evidence: tuple[EvidenceRule, ...] = EVIDENCE
    contingency_fraction: Decimal = Decimal(0)
    contingency_use: str = FREE
    transfer_fraction: Decimal = Decimal(1)
    approved_rows: tuple[int, ...] = ()
    preset: str = ""

    @property
    def drawable_from(self) -> date:
        """First day on which a cost was incurred that may be drawn."""
        return self.costs_from or self.closed

    def notes_of_early_cost(self, happened: date) -> list[str]:
        """Return what to note of a cost that came about before the loan.

        Parameters
        ----------
        happened : date
            The day of the cost.
        """
        drawn = f"costs may be drawn from {self.drawable_from} on"
        if happened < self.closed:
            return [f"{happened} is before the loan closes on {self.closed}; {drawn}"]
        return [f"{happened} is early: {drawn}"] if happened < self.drawable_from else []


def check_terms(terms: LoanTerms) -> None:
    """Refuse terms that contradict each other.

    Parameters
    ----------
    terms : LoanTerms
        As they were written.

    Raises
    ------
    FundingFaulty
        With every contradiction.
    """
    faults = Faults()
    for where, what, remedy in (*_unknown(terms), *_dates(terms), *_rates(terms), *_sums(terms)):
        faults.add(where, what, remedy)
    faults.raise_if_any(FundingFaulty)


Wrong = tuple[str, str, str]


def _unknown(terms: LoanTerms) -> Iterator[Wrong]:
    choices = {
        "equity_order": EQUITY_ORDERS, "changes": CHANGES, "basis": BASES,
        "day_count": tuple(DAY_COUNTS), "interest": INTEREST_WAYS, "fees": FEE_WAYS,
        "waivers": WAIVER_POLICIES, "vendors": VENDOR_WAYS, "contingency_use": CONTINGENCY_USES,
    }  # fmt: skip
    for name, words in choices.items():
        if getattr(terms, name) not in words:
            yield name, f"is {getattr(terms, name)!r}", f"one of {', '.join(words)}"


def _dates(terms: LoanTerms) -> Iterator[Wrong]:
    if terms.ends <= terms.closed:
        yield "ends", f"{terms.ends} is not after the closing on {terms.closed}", ""
    if terms.drawable_from > terms.ends:
        yield "costs_from", f"{terms.drawable_from} is after the end of the loan, {terms.ends}", ""


def _rates(terms: LoanTerms) -> Iterator[Wrong]:
    days = [step.since for step in terms.rates]
    if not days:
        yield "rates", "there is none", "give the first from the closing on"
    elif min(days) > terms.closed:
        what = f"there is none from {terms.closed} to {min(days)}"
        yield "rates", what, "the first holds from the closing on"
    if len(set(days)) < len(days):
        yield "rates", "two hold from the same day", "give each its own"
    for step in terms.rates:
        if not 0 <= step.rate_fraction <= 1:
            yield (
                "rates",
                f"{exact_percent(step.rate_fraction)} a year is not an interest rate",
                "0 to 100, such as 8.75",
            )


def _sums(terms: LoanTerms) -> Iterator[Wrong]:
    retainage = terms.retainage
    for name in ("contingency_fraction", "transfer_fraction"):
        if not 0 <= getattr(terms, name) <= 1:
            part = exact_percent(getattr(terms, name))
            yield name.replace("fraction", "percent"), f"is {part}", "0 to 100"
    if terms.commitment_cents <= 0:
        yield "commitment", "is not above zero", ""
    if terms.smallest_cents > terms.commitment_cents + terms.equity_cents:
        yield "smallest_draw", "is more than loan and equity together", ""
    if terms.equity_order == PRO_RATA and not terms.equity_cents:
        yield "equity_order", "is pro rata, and there is no equity", "state the equity"
    if terms.no_waiver_from and terms.waivers == NO_WAIVERS:
        yield "no_waiver_from", "names payees, and no waivers are requested", "leave one out"
    if retainage.effect == STOP and retainage.reduced_fraction:
        yield "retainage", "stops, and yet holds a reduced part", "leave reduced_percent out"
    elif retainage.effect and retainage.reduced_fraction >= retainage.work_fraction:
        yield "retainage", "is not less after its reduction", "lower reduced_percent"


def exact_percent(fraction: Decimal) -> str:
    """Return a fraction as a printed percent: `8.75 %`."""
    return f"{(fraction * 100).normalize():f} %"
