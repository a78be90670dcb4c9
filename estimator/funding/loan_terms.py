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

    @property
    def drawable_from(self) -> date:
        """First day on which a cost was incurred that may be drawn."""
        return self.costs_from or self.closed


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


Said = tuple[str, str, str]


def _unknown(terms: LoanTerms) -> Iterator[Said]:
    choices = {
        "equity_order": EQUITY_ORDERS, "changes": CHANGES, "basis": BASES,
        "day_count": tuple(DAY_COUNTS), "interest": INTEREST_WAYS, "fees": FEE_WAYS,
        "waivers": WAIVER_POLICIES, "vendors": VENDOR_WAYS,
    }  # fmt: skip
    for name, words in choices.items():
        if getattr(terms, name) not in words:
            yield name, f"is {getattr(terms, name)!r}", f"one of {', '.join(words)}"


def _dates(terms: LoanTerms) -> Iterator[Said]:
    if terms.ends <= terms.closed:
        yield "ends", f"{terms.ends} is not after the closing on {terms.closed}", ""
    if terms.drawable_from > terms.ends:
        yield "costs_from", f"{terms.drawable_from} is after the end of the loan, {terms.ends}", ""


def _rates(terms: LoanTerms) -> Iterator[Said]:
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
                f"{_percent(step.rate_fraction)} a year is no rate",
                "0 to 100, such as 8.75",
            )


def _sums(terms: LoanTerms) -> Iterator[Said]:
    retainage = terms.retainage
    if terms.commitment_cents <= 0:
        yield "commitment", "is not above zero", ""
    if terms.smallest_cents > terms.commitment_cents + terms.equity_cents:
        yield "smallest_draw", "is more than loan and equity together", ""
    if terms.equity_order == PRO_RATA and not terms.equity_cents:
        yield "equity_order", "is pro rata, and there is no equity", "state the equity"
    if terms.no_waiver_from and terms.waivers == NO_WAIVERS:
        yield "no_waiver_from", "names payees, and no waivers are asked for", "leave one out"
    if retainage.effect == STOP and retainage.reduced_fraction:
        yield "retainage", "stops, and yet holds a reduced part", "leave reduced_percent out"
    elif retainage.effect and retainage.reduced_fraction >= retainage.work_fraction:
        yield "retainage", "is not less after its reduction", "lower reduced_percent"


@dataclass(frozen=True)
class Rule:
    """A rule of the loan as the sheet prints it.

    Parameters
    ----------
    name, words : str
        What it is about, and what holds.
    is_default : bool
        True where the terms left it out, or say what holds without them.
    """

    name: str
    words: str
    is_default: bool


def rules_of(terms: LoanTerms) -> tuple[Rule, ...]:
    """Return the rules of a loan in words, each with whether it is the default.

    Parameters
    ----------
    terms : LoanTerms
        Of the loan.
    """
    usual = LoanTerms(
        terms.lender, terms.commitment_cents, terms.equity_cents, terms.closed, terms.ends, ()
    )
    words, defaults = dict(_words(terms)), dict(_words(usual))
    return tuple(Rule(name, said, said == defaults.get(name)) for name, said in words.items())


def _words(terms: LoanTerms) -> Iterator[tuple[str, str]]:
    yield "equity", f"{terms.equity_order}; changes beyond the contingency: the {terms.changes}"
    yield "costs", f"incurred from {terms.drawable_from} on"
    yield "basis of a line", terms.basis
    yield "retainage", _retainage_words(terms.retainage)
    yield "stored material", _stored_words(terms)
    yield "interest", f"{terms.day_count}; {terms.interest}"
    yield "fees", terms.fees
    yield (
        "vendors not paid yet",
        f"the lender pays the {terms.vendors}".replace("the jointly", "both jointly"),
    )
    yield "waivers", terms.waivers
    yield "funding", f"{terms.days_to_funding} days after submission"


def _stored_words(terms: LoanTerms) -> str:
    named = {
        "on site": terms.stored_on_site,
        "off site": terms.stored_off_site,
        "deposits": terms.deposits,
    }
    return ", ".join(f"{name}: {'yes' if drawn else 'no'}" for name, drawn in named.items())


def _retainage_words(terms: RetainageTerms) -> str:
    held = f"{_percent(terms.work_fraction)} of work, {_percent(terms.stored_fraction)} of stored"
    if not terms.effect:
        return held
    compared = "more than" if terms.is_strict else "at least"
    counted = "work and stored" if terms.counts_stored else "work"
    of = "the whole" if terms.of_whole else "the line"
    after = f" at {_percent(terms.reduced_fraction)}" if terms.effect != STOP else ""
    reached = f"{compared} {_percent(terms.reached_fraction)} of {of} ({counted})"
    return f"{held}; {terms.effect}{after} from {reached}"


def _percent(fraction: Decimal) -> str:
    return f"{(fraction * 100).normalize():f} %"
