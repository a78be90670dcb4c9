"""The plan of the cash from books, forecast and draws."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.funding.cash_course import cash_course
from estimator.funding.cash_from_books import CashFacts, DrawsSoFar, cash_plans
from estimator.funding.cash_plan import DrawnToDate
from estimator.funding.draw_from_books import draw_from_books
from estimator.funding.draw_papers import Papers
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.funding.loan_balance import (
    SOURCE,
    USE,
    BalanceLine,
    LoanBalance,
    loan_balance,
    open_costs,
)
from estimator.funding.loan_interest import BalanceChange
from estimator.funding.loan_schedule import LoanLine, frozen_loan
from estimator.tracking.books import Books
from estimator.tracking.budget import BudgetCode
from estimator.tracking.dates_done import FinishDate
from estimator.tracking.forecast_ranges import ForecastRange
from estimator.tracking.job_outlook import Outlook
from estimator.tracking.planned_dates import PlannedDates
from tests.funding.made import (
    BUDGET,
    LATER,
    LINES,
    MONTH_END,
    NOW,
    TERMS,
    after,
    bill,
    draw,
    loan,
    measured,
    moment,
    paid,
)  # fmt: skip
from tests.tracking.rows import ticket

MAY = date(2026, 5, 1)
FACTS = CashFacts(days_to_pay=10, expected=(BalanceChange(date(2026, 6, 1), 500_00),))
BOOKS = Books(
    costs=[bill(1, "30.010", 4_000_00), bill(2, "20.010", 600_00),
           bill(3, "30.010", 50_00, date(2026, 3, 20))],
    payments=[paid(4, 1, 1_000_00), paid(5, 3, 50_00)],
    progress=[measured(6, "30.010", 25)],
    plans=[PlannedDates(7, MAY, moment(MAY), "40", date(2026, 5, 11), date(2026, 5, 30))],
)  # fmt: skip


def ahead(p50, p80, **done_by):
    cost = ForecastRange(1, 1, p50, p80, {}, 0.5, ())
    finishes = tuple(
        FinishDate(code, Decimal(1), None, None, day, None, None, "")
        for code, day in done_by.items()
    )
    return Outlook(cost, finishes, "", ())


def planned(books=BOOKS, draws=None, facts=FACTS, p50=45_000_00, p80=50_000_00, of=None):
    """The plans on May 1; stone is done on May 20 at its own pace."""
    so_far = draws or DrawsSoFar(DrawHistory())
    stone = ahead(p50, p80, **{"30.010": date(2026, 5, 20)})
    return cash_plans(of or loan(), BUDGET, books, so_far, stone, MAY, LATER, facts)


def test_what_is_to_come_is_p50_or_p80_less_what_is_incurred():
    at50, at80 = planned()
    assert (at50.to_come_cents, at80.to_come_cents) == (40_350_00, 45_350_00)
    assert at50.open_cents == 3_600_00
    assert at50.paid_cents == 1_050_00
    done, below = (planned(p50=p50)[0].to_come_cents for p50 in (4_650_00, 4_600_00))
    assert (done, below) == (0, 0)


def test_each_code_has_its_planned_days_or_those_of_its_pace_and_the_rest_runs_to_the_last():
    dates = {one.code: (one.start, one.finish) for one in planned()[0].costs if not one.is_incurred}
    assert dates["40.010"] == (date(2026, 5, 11), date(2026, 5, 30))
    assert dates["30.010"] == (date(2026, 5, 2), date(2026, 5, 20))
    assert dates["20.010"] == dates["overhead"] == (date(2026, 5, 2), date(2026, 5, 30))
    undated = [one.cents for one in planned()[0].costs
               if not one.is_incurred and one.code in ("20.010", "overhead")]  # fmt: skip
    assert planned()[0].undated_cents == sum(undated)


def test_what_was_incurred_before_costs_may_be_drawn_is_the_owners():
    lines = {one.line: one for one in planned()[0].lines}
    assert lines["2"].incurred_cents == 4_000_00
    assert (lines["2"].paid_cents, lines[""].paid_cents) == (1_050_00, 0)
    accrued = replace(BOOKS, tickets=[ticket(7, 275_00, date(2026, 4, 27), code="30.010")])
    assert {one.line: one for one in planned(accrued)[0].lines}["2"].incurred_cents == 4_275_00
    all_paid = replace(BOOKS, payments=[*BOOKS.payments, paid(8, 1, 3_000_00)])
    lines = {one.line: one for one in planned(all_paid)[0].lines}
    assert (lines["2"].paid_cents, lines[""].paid_cents) == (4_000_00, 50_00)


def test_what_is_open_is_paid_as_many_days_later_as_is_said():
    course = cash_course(planned()[0])
    opened = [one for one in course.days if one.paid_cents > 1_050_00]
    assert opened[0].day == date(2026, 5, 12)


def test_a_funded_draw_is_behind_the_plan_and_one_on_its_way_before_it():
    request = draw(BOOKS)
    history, funding = after(request)
    funding = replace(funding, day=MAY)
    plan = planned(draws=DrawsSoFar(history, (funding,)))[0]
    assert plan.drawn == DrawnToDate(4_000_00, 400_00)
    assert (plan.equity_cents, plan.loan_cents, plan.draws) == (3_600_00, 0, 1)
    pending = planned(draws=DrawsSoFar(DrawHistory(), (), request, MAY))[0].pending
    assert (pending.drawn, pending.funded_on) == (plan.drawn, date(2026, 5, 11))
    assert planned(draws=DrawsSoFar(DrawHistory(), (), request))[0].pending is None


def test_open_costs_are_told_apart_and_the_balance_has_each_once():
    """$3,000 of a bill that is paid in part, $600 of one that is not; the rest is accrued."""
    still_open = open_costs(BOOKS.known(MAY, LATER), 3_600_00)
    assert (still_open.accrued_cents, still_open.unpaid_cents) == (0, 600_00)
    assert still_open.part_paid_cents == 3_000_00
    balance = loan_balance(planned(), still_open, Decimal("0.05"))
    lines = {one.name: (one.p50_cents, one.p80_cents) for one in balance.lines}
    assert lines["Cost to complete"] == (40_350_00, 45_350_00)
    assert lines["Equity not paid in yet"] == (10_950_00, 10_950_00)
    assert lines["Contingency that must be left"] == (2_017_50, 2_267_50)
    assert lines["Receipts expected"] == (500_00, 500_00)


def test_money_that_just_suffices_is_in_balance_and_a_cent_less_is_not():
    have, need = BalanceLine(SOURCE, "Loan", 100, 100), BalanceLine(USE, "Cost", 100, 100)
    just = LoanBalance(MONTH_END, (have, need))
    assert just.sentence == "The loan is in balance: $0.00 over at P50, $0.00 over at P80."
    short = LoanBalance(MONTH_END, (have, replace(need, p80_cents=101)))
    assert short.sentence == (
        "The loan is out of balance at P80: $0.00 over at P50, $0.01 short at P80."
    )


@pytest.mark.parametrize("way", ["reserve", "paid"])
def test_interest_of_the_budget_is_no_cost_besides_what_the_loan_will_bear(way):
    """The same job with $900.00 of interest in its estimate, and at completion as much higher."""
    budget = BUDGET | {
        "50.010": BudgetCode("50.010", "Interest", "50", Decimal(150), "day", {"interest": 900_00})
    }
    lines = (*LINES, LoanLine("6", "Interest", "interest", codes=("50.010",)))
    terms = replace(TERMS, interest=way, equity_cents=12_900_00)
    of = frozen_loan(terms, lines, budget, NOW)
    ends = ahead(45_100_00, 45_100_00, **{"30.010": date(2026, 5, 20)})
    none_drawn = DrawsSoFar(DrawHistory())
    with_it = cash_plans(of, budget, BOOKS, none_drawn, ends, MAY, LATER, FACTS)
    without = planned(p50=44_200_00, p80=44_200_00, of=loan(equity_cents=12_900_00))
    assert [one.to_come_cents for one in with_it] == [39_550_00, 39_550_00]
    assert with_it[0].reserve_cents == (900_00 if way == "reserve" else 0)
    still_open = open_costs(BOOKS.known(MAY, LATER), 3_600_00)
    uses = [
        {one.name: one.p50_cents for one in loan_balance(plans, still_open).lines}
        for plans in (with_it, without)
    ]
    assert uses[0]["Cost to complete"] == uses[1]["Cost to complete"] == 39_550_00
    if way == "paid":
        assert uses[0] == uses[1]


def test_interest_that_the_reserve_bore_is_not_paid_by_the_owner_as_well():
    budget = BUDGET | {
        "50.010": BudgetCode("50.010", "Interest", "50", Decimal(150), "day", {"interest": 900_00})
    }
    lines = (*LINES, LoanLine("6", "Interest", "interest", codes=("50.010",)))
    terms = replace(TERMS, interest="reserve", equity_cents=12_900_00)
    of = frozen_loan(terms, lines, budget, NOW)
    books = replace(
        BOOKS,
        costs=[*BOOKS.costs, bill(8, "50.010", 80_00)],
        payments=[*BOOKS.payments, paid(9, 8, 80_00)],
    )
    request = draw_from_books(
        "Barn", of, budget, books, Drawing(1, 1, MONTH_END, interest_cents=60_00),
        DrawHistory(), Papers(), LATER,
    )  # fmt: skip
    assert [one.row for one in request.backup if one.line == "6"] == []
    history, funding = after(request)
    so_far = DrawsSoFar(history, (replace(funding, day=MAY),))
    ends = ahead(45_900_00, 50_900_00)
    plan = cash_plans(of, budget, books, so_far, ends, MAY, LATER, FACTS)[0]
    assert (plan.interest_cents, plan.reserve_cents) == (60_00, 840_00)
    assert plan.paid_cents == 1_050_00 + 20_00
