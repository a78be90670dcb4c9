"""What the books give the tax-credit file."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import FundingFaulty, LedgerFaulty
from estimator.funding.credit_from_books import BuildingFacts, building_facts, credit_file
from estimator.funding.credit_json import credit_fields
from estimator.funding.tax_credit import StatedBasis
from estimator.tracking.books import Books
from estimator.tracking.budget import BudgetCode
from estimator.tracking.credit_papers import (
    Approval,
    BasisRow,
    CreditAnswer,
    check_approval,
    check_credit_answer,
)
from estimator.tracking.payroll_week import HoursRow
from tests.tracking.rows import MONDAY, at, cost, payment

BUDGET = {
    code: BudgetCode(code, code, "20", Decimal(1), "ton", {}, credit=credit)
    for code, credit in (("20.010", "yes"), ("20.020", "no"), ("20.030", "ask"))
}
OCTOBER = date(2026, 10, 1)
LABOR = cost(1, ("20.010", "labor", 2_000_000, 0))


def of(*costs, basis=1_000_000, cash=False, stated=(), **rows):
    books = Books(costs=list(costs), **rows)
    return credit_file(books, BUDGET, BuildingFacts(basis, OCTOBER, 24, cash, stated))


def answered(row, of, answer, code=""):
    return CreditAnswer(row, MONDAY, at(MONDAY), of, answer, "paving outside", "adviser", code)


def approval(row, paper, state, day=MONDAY, **more):
    return Approval(row, day, at(day), paper, state, **more)


def test_only_codes_that_count_are_in_the_credit():
    """$20,000.00 count: 20 % are $4,000.00; what is asked about is shown apart."""
    spent = cost(
        1, ("20.010", "labor", 2_000_000, 0), ("20.020", "fee", 500, 0), ("20.030", "fee", 700, 0)
    )
    shown = of(spent)
    assert dict(shown.cents_by_answer) == {"yes": 2_000_000, "no": 500, "ask": 700}
    assert shown.credit.credit_cents == 400_000
    assert dict(shown.cents_by_code) == {"20.010": 2_000_000}


def test_a_reversal_takes_its_cost_out_of_the_credit():
    back = cost(2, ("20.010", "labor", -2_000_000, 0), reverses=1)
    assert of(LABOR, back).credit.credit_cents == 0


def test_a_code_that_the_budget_does_not_have_is_asked_about():
    shown = of(cost(1, ("99.010", "labor", 5, 0)))
    assert shown.cents_by_answer["ask"] == 5
    assert shown.entries[0].reason == "the budget has no code 99.010"


def test_the_best_window_is_the_one_that_passes_by_most():
    shown = of(cost(1, ("20.010", "labor", 2_000_000, 0), happened=date(2026, 5, 4)))
    assert shown.best_window.over_cents == 1_000_000
    assert shown.best_window.end == date(2026, 5, 31)
    assert [one.passes for one in shown.windows] == [False] * 4 + [True] * 8


def test_an_answer_of_its_own_goes_before_that_of_its_code_and_its_reversal_follows():
    """Row 1 is paving by its adviser; the split of row 3 on the code that asks first counts."""
    mixed = cost(3, ("20.010", "labor", 300, 0), ("20.030", "fee", 700, 0))
    back = cost(4, ("20.010", "labor", -2_000_000, 0), reverses=1)
    answers = [answered(5, 1, "yes"), answered(6, 1, "no"), answered(7, 3, "yes", "20.030")]
    shown = of(LABOR, mixed, credit_answers=answers)
    assert dict(shown.cents_by_answer) == {"yes": 1_000, "no": 2_000_000, "ask": 0}
    assert shown.entries[0].reason == "paving outside (adviser, row 6)"
    assert of(LABOR, back, credit_answers=answers).cents_by_answer["no"] == 0


def test_by_cash_a_cost_counts_on_the_days_on_which_it_is_paid():
    """Of $200.00 on two codes, $100.01 are paid in May, the rest in June; a third is open."""
    spent = cost(1, ("20.010", "labor", 10_000, 0), ("20.020", "fee", 10_000, 0))
    paid = [payment(3, 1, 10_001), payment(4, 1, 9_999, date(2026, 6, 1))]
    shown = of(spent, cost(2, ("20.010", "labor", 5, 0)), cash=True, payments=paid)
    assert [(one.day, one.cents) for one in shown.entries if one.code == "20.010"] == [
        (MONDAY, 5_001), (date(2026, 6, 1), 4_999),
    ]  # fmt: skip
    assert shown.cents_by_answer["yes"] == 10_000


def test_a_later_year_is_not_in_this_credit():
    shown = of(LABOR, cost(2, ("20.010", "labor", 7, 0), happened=date(2027, 1, 4)))
    assert (shown.later_cents, shown.credit.qualified_cents) == (7, 2_000_000)


def test_own_labor_is_in_no_figure_of_the_credit():
    own = HoursRow(
        9, MONDAY, at(MONDAY), "OW", "carpenter", "20.010", Decimal(8), Decimal(40), is_unpaid=True
    )
    shown, without = of(LABOR, hours=[own]), of(LABOR)
    assert shown.unpaid.cents == 32_000
    assert (shown.entries, shown.windows) == (without.entries, without.windows)
    assert shown.credit == without.credit


def test_the_basis_stated_last_before_a_window_begins_is_its_basis():
    """$10,000.00 before the work; $9,000.00 on July 1, 2024; $5,000.00 were spent that August."""
    spent = cost(1, ("20.010", "labor", 500_000, 0), happened=date(2024, 8, 1))
    shown = of(spent, stated=(StatedBasis(date(2024, 7, 1), 900_000),))
    by_start = {one.start: one.basis_cents for one in shown.windows}
    assert by_start[date(2024, 6, 1)] == 1_000_000
    assert by_start[date(2024, 7, 1)] == 900_000
    assert by_start[date(2024, 9, 1)] == 1_400_000


def test_the_books_state_the_basis_unless_another_is_given():
    rows = [BasisRow(1, MONDAY, at(MONDAY), 7), BasisRow(2, OCTOBER, at(OCTOBER), 9)]
    facts = building_facts(Books(bases=rows), None, OCTOBER)
    assert (facts.basis_cents, facts.stated) == (7, (StatedBasis(OCTOBER, 9),))
    assert building_facts(Books(bases=rows), 3, OCTOBER) == BuildingFacts(3, OCTOBER)
    with pytest.raises(FundingFaulty, match="basis: of the building is not stated"):
        building_facts(Books(), None, OCTOBER)


def test_papers_stand_behind_each_cost_and_what_is_missing_endangers_the_credit():
    papers = [
        approval(5, "part 1", "approved"),
        approval(6, "part 2", "submitted"),
        approval(7, "part 2", "approved with conditions", date(2026, 6, 1), note="keep the doors"),
        approval(8, "amendment", "denied", name="2 of the SHPO"),
        approval(9, "photographs before", "on file", codes=("20",)),
    ]
    shown = of(LABOR, approvals=papers)
    assert shown.entries[0].missing == ()
    assert shown.entries[0].is_before_approval
    assert shown.dangers == (
        "The best window (2024-06-01 to 2026-05-31) passes the test by $10,000.00: it fails if "
        "$10,000.00 or more of what it counts is refused.",
        "$20,000.00 of what counts was incurred before part 2 was approved for it: at the owner's "
        "risk.",
        "Part 3 of the application, for the finished work, is not approved.",
        "Part 2 was approved with conditions: keep the doors.",
        "Amendment 2 of the SHPO was denied on 2026-05-04.",
        "There are no photographs after the work on 20.010.",
    )
    assert of(LABOR).entries[0].missing == ("part 1", "part 2", "photographs before")


def test_what_the_sentence_says_of_the_test_holds_when_that_much_is_refused():
    """Refusing $9,999.99 of the $20,000.00 leaves the window passing; $10,000.00 fails it."""
    less = cost(2, ("20.010", "labor", -999_999, 0))
    assert of(LABOR, less).best_window.passes
    assert not of(LABOR, less, cost(3, ("20.010", "labor", -1, 0))).best_window.passes


def test_answers_and_papers_that_cannot_be_are_refused():
    with pytest.raises(LedgerFaulty, match="hours are never counted"):
        check_credit_answer(answered(5, 4, "no"), None, MONDAY)
    with pytest.raises(LedgerFaulty, match=r"row 1 has nothing on '20.020'; it has 20.010"):
        check_credit_answer(answered(5, 1, "no", "20.020"), LABOR, MONDAY)
    back = cost(2, ("20.010", "labor", -2_000_000, 0), reverses=1)
    with pytest.raises(LedgerFaulty, match="row 2 takes back row 1; answer for that row"):
        check_credit_answer(answered(5, 2, "no"), back, MONDAY)
    with pytest.raises(LedgerFaulty) as caught:
        check_approval(approval(5, "part 2", "on file", codes=("21",)), ["20"], MONDAY)
    assert len(caught.value.faults) == 2


def test_a_file_without_costs_is_whole():
    shown = credit_fields(of())
    assert (shown["credit"], shown["entries"]) == ("0.00", [])
    assert len(shown["windows"]) == 12


@given(st.lists(st.tuples(st.sampled_from([*BUDGET, "99.010"]), st.integers(0, 10**8))))
def test_every_dollar_of_the_books_has_one_answer(drawn):
    costs = [cost(i, (code, "labor", cents, 0)) for i, (code, cents) in enumerate(drawn, 1)]
    assert sum(of(*costs).cents_by_answer.values()) == sum(cents for _, cents in drawn)
