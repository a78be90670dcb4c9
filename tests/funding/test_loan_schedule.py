"""The schedule of a loan: to the cent of the budget, each code in one place, changes kept."""

from dataclasses import replace
from datetime import date

import pytest

from estimator.errors import FundingFaulty
from estimator.funding.loan_schedule import CodeShare, LoanLine, bearing, revised_cents
from estimator.tracking.budget import current_budget
from tests.funding.made import BUDGET, LATER, LINES, TERMS, change, loan


def test_the_schedule_is_the_budget_to_the_cent_and_a_named_code_goes_before_its_phase():
    lines = (*LINES[:3], LoanLine("4", "The rest", codes=("*",)))
    frozen = loan(lines=lines)
    assert [one.scheduled_cents for one in frozen.lines] == [
        10_000_00, 20_000_00, 15_000_00, 7_000_00,
    ]  # fmt: skip
    named = bearing((LoanLine("1", "Slab", codes=("40.010",)), LoanLine("2", "x", codes=("*",))),
                    BUDGET)  # fmt: skip
    assert list(named[0].shares) == ["40.010"]


def test_a_code_that_a_change_makes_falls_to_the_line_of_its_phase():
    more = change(1, date(2026, 5, 4), {"20.090": 700_00, "contingency": -700_00})
    budget = current_budget(BUDGET, [more], date(2026, 6, 1), LATER)
    assert revised_cents(loan(), budget)["1"] == 10_700_00
    outside = change(1, date(2026, 5, 4), {"77.010": 700_00})
    lines = (*LINES[:3], LoanLine("4", "Rest", codes=("overhead",)), LINES[4])
    budget = current_budget(BUDGET, [outside], date(2026, 6, 1), LATER)
    with pytest.raises(FundingFaulty, match=r"cost code 77.010: a change made it, and it falls to"):
        revised_cents(loan(lines=lines), budget)


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (LINES[:4], "cost code contingency: is on no line"),
        ((*LINES, LINES[0]), "cost code 20: is borne whole by a line, and by another too"),
        ((*LINES, LoanLine("6", "Roof", codes=("80",))), "there is no cost code or phase '80'"),
        ((*LINES, replace(LINES[0], codes=("20.010",))), "line '1': is listed twice"),
        ((*LINES, LoanLine("6", "x", "guess", codes=("80",))), "line '6': is of kind 'guess'"),
        ((*LINES, LoanLine("6", "x")), "line '6': has no cost codes, or too many"),
        ((*LINES, LoanLine("6", "x", codes=("8",), basis="y")), "line '6': has the basis 'y'"),
        ((*LINES, LoanLine("6", "x", codes=("8",), amount_cents=1)), "only an interest reserve"),
        (
            (*LINES, LoanLine("6", "x", "interest", shares=(CodeShare("40.010", 1),))),
            "line '6': bears shares of cost codes; interest bears its codes whole",
        ),
        (
            (*LINES, LoanLine("6", "Interest", "interest", amount_cents=1)),
            "interest: is paid, and a line reserves an amount; write reserve, or let its line bear",
        ),
    ],
)
def test_a_schedule_with_a_fault_is_refused_in_a_sentence(lines, sentence):
    if sentence.startswith("cost code contingency"):
        lines = (*LINES[:3], LoanLine("4", "Overhead", "soft", codes=("overhead",)))
    with pytest.raises(FundingFaulty) as refused:
        loan(lines=lines)
    assert sentence in str(refused.value)


def test_a_reserve_has_a_line_whose_value_is_that_of_its_cost_codes_or_stated():
    with pytest.raises(FundingFaulty, match="is from a reserve; add a line of kind interest"):
        loan(interest="reserve")
    lines = (*LINES[:2], replace(LINES[2], kind="interest"), *LINES[3:])
    assert loan(lines=lines, interest="reserve").lines[2].scheduled_cents == 15_000_00


def test_terms_and_lines_are_faulted_together_and_the_money_must_cover_the_schedule():
    with pytest.raises(FundingFaulty) as refused:
        loan(replace(TERMS, rates=()), (*LINES, LoanLine("6", "x")))
    assert len(refused.value.faults) == 2
    with pytest.raises(
        FundingFaulty, match=r"comes to \$52,000.00, which is \$0.01 more than loan"
    ):
        loan(commitment_cents=39_999_99)


def test_shares_of_a_code_are_split_by_the_largest_remainder():
    third = (CodeShare("overhead", 1),)
    lines = (*LINES[:3], LINES[4], *(LoanLine(name, name, "soft", shares=third) for name in "abc"))
    values = [one.scheduled_cents for one in loan(lines=lines).lines[4:]]
    assert values == [1_000_00, 1_000_00, 1_000_00]
