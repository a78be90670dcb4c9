"""What the books give the tax-credit file."""

from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from estimator.funding.credit_from_books import credit_file
from estimator.tracking.budget import BudgetCode
from tests.tracking.rows import cost

BUDGET = {
    code: BudgetCode(code, code, "20", Decimal(1), "ton", {}, credit=credit)
    for code, credit in (("20.010", "yes"), ("20.020", "no"), ("20.030", "ask"))
}
OCTOBER = date(2026, 10, 1)


def of(*costs, basis=1_000_000):
    return credit_file(costs, BUDGET, basis, OCTOBER)


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
    spent = cost(1, ("20.010", "labor", 2_000_000, 0))
    back = cost(2, ("20.010", "labor", -2_000_000, 0), reverses=1)
    assert of(spent, back).credit.credit_cents == 0


def test_a_code_that_the_budget_does_not_have_is_asked_about():
    assert of(cost(1, ("99.010", "labor", 5, 0))).cents_by_answer["ask"] == 5


def test_the_best_window_is_the_one_that_passes_by_most():
    shown = of(cost(1, ("20.010", "labor", 2_000_000, 0), happened=date(2026, 5, 4)))
    assert shown.best_window.over_cents == 1_000_000
    assert shown.best_window.end == date(2026, 5, 31)
    assert [one.passes for one in shown.windows] == [False] * 4 + [True] * 8


@given(st.lists(st.tuples(st.sampled_from([*BUDGET, "99.010"]), st.integers(0, 10**8))))
def test_every_dollar_of_the_books_has_one_answer(drawn):
    costs = [cost(i, (code, "labor", cents, 0)) for i, (code, cents) in enumerate(drawn, 1)]
    assert sum(of(*costs).cents_by_answer.values()) == sum(cents for _, cents in drawn)
