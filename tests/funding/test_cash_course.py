"""The course of the cash, worked by hand; the day it runs out; the balance; what helps."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.funding.cash_course import cash_course
from estimator.funding.cash_json import balance_fields, cash_fields
from estimator.funding.cash_plan import CashPlan, DrawnToDate, PendingDraw, PlannedCost, PlannedLine
from estimator.funding.cash_sentences import (
    half_commitment_sentence,
    left_out_sentences,
    peak_sentence,
    runs_out_sentence,
)
from estimator.funding.cash_ways import cash_ways
from estimator.funding.draws import PRO_RATA, EquityTerms
from estimator.funding.loan_balance import OpenCosts, loan_balance
from estimator.funding.loan_interest import BalanceChange, RateStep
from estimator.funding.loan_terms import LoanTerms

CLOSED = date(2026, 4, 1)
JUNE = date(2026, 6, 1)
TERMS = LoanTerms(
    "Bank", 100_000_00, 10_000_00, CLOSED, date(2027, 4, 1),
    (RateStep(CLOSED, Decimal("0.09")),), inspection_cents=100_00, origination_cents=500_00,
)  # fmt: skip
# $1,000 a day for 61 days on a line of $60,000 that counts its cost.
PLAN = CashPlan(
    CLOSED, TERMS, EquityTerms(TERMS.equity_cents, TERMS.commitment_cents),
    (PlannedLine("1", "work", "cost", 60_000_00), PlannedLine("", "work", "cost", 0)),
    (PlannedCost("20.010", "1", 61_000_00, date(2026, 4, 2), JUNE),),
)  # fmt: skip


def test_the_owner_has_paid_what_no_loan_and_nobody_else_paid_with_fees_and_interest():
    """$3,000.00 is paid; of $2,000.00 lent, $150.00 went for fees and interest; $400.00 came in."""
    plan = replace(
        PLAN, lines=(replace(PLAN.lines[0], paid_cents=3_000_00),),
        funded=(BalanceChange(CLOSED, 2_000_00),), fees_cents=100_00, interest_cents=50_00,
        received_cents=400_00,
    )  # fmt: skip
    assert plan.owner_cents == 750_00


def on(course, month, day):
    return next(one for one in course.days if one.day == date(2026, month, day))


def test_a_draw_is_paid_ten_days_after_its_month_less_retainage_the_equity_first():
    """April: 29,000 less 10 % is 26,100; equity 10,000, loan 16,100; fees 500 + 100."""
    course = cash_course(PLAN)
    assert (on(course, 5, 9).balance_cents, on(course, 5, 10).balance_cents) == (0, 16_100_00)
    assert on(course, 5, 10).fees_cents == 600_00
    assert on(course, 5, 10).equity_cents == 10_000_00
    assert on(course, 6, 10).balance_cents == 44_000_00
    assert on(course, 7, 10).balance_cents == 50_000_00


def test_interest_is_posted_each_first_of_the_month_by_the_days_that_money_was_out():
    """22 days on 16,100; then 9 on 16,100 and 21 on 44,000; then 9 on 44,000 and 22 on 50,000."""
    course = cash_course(PLAN)
    posted = [on(course, month, 1).interest_cents for month in (6, 7, 8)]
    assert posted == [88_55, 88_55 + 267_23, 88_55 + 267_23 + 374_00]
    assert course.days[-1].day == date(2026, 8, 1)


def test_at_the_end_the_owner_has_paid_equity_interest_fees_and_what_no_line_has_room_for():
    course = cash_course(PLAN)
    assert course.days[-1].owner_cents == 10_000_00 + 729_78 + 800_00 + 1_000_00
    assert course.days[-1].beyond_cents == 1_000_00


def test_the_day_the_cash_runs_out_is_the_first_on_which_the_equity_is_passed():
    """Eleven days at $1,000 from April 2 on are $11,000 on April 12."""
    course = cash_course(PLAN)
    assert runs_out_sentence(course) == (
        "The cash runs out on 2026-04-12: the owner has paid $11,000.00 by then, $1,000.00 more "
        "than the equity of $10,000.00. Largest causes: $11,000.00 paid and in no draw yet."
    )
    assert on(course, 4, 11).owner_cents == 10_000_00


def test_own_cash_up_to_the_peak_keeps_it_from_running_out_and_one_cent_less_does_not():
    """On June 1: 61,000 + 600 + 88.55 less the 16,100 of the first draw."""
    peak = 45_588_55
    course = cash_course(replace(PLAN, own_cash_cents=peak - 10_000_00))
    assert (course.peak.day, course.peak.owner_cents) == (JUNE, peak)
    assert runs_out_sentence(course) == (
        "The cash does not run out from 2026-04-01 to 2026-08-01: the owner has paid most on "
        "2026-06-01, $45,588.55, and that is no more than the equity of $10,000.00 and own cash of "
        "$35,588.55."
    )
    less = cash_course(replace(PLAN, own_cash_cents=peak - 10_000_01))
    assert less.runs_out.day == JUNE
    assert peak_sentence(less).endswith("of which $35,588.55 is beyond the equity.")


def test_what_brings_the_peak_down_is_compared_in_dollars():
    """June 9: 39,000 + 600 + 88.55 - 16,100; or May 24: 53,000 + 700 + 3.90 - 16,100."""
    ways = [(one.peak_cents, one.saved_cents) for one in cash_ways(cash_course(PLAN))]
    assert ways == [(23_588_55, 22_000_00), (37_603_90, 7_984_65)]


def test_a_phase_that_has_not_begun_may_come_later():
    later = PlannedCost("30.010", "1", 30_000_00, date(2026, 5, 20), date(2026, 5, 29))
    first = replace(PLAN.costs[0], cents=31_000_00, finish=date(2026, 5, 2))
    ways = cash_ways(cash_course(replace(PLAN, costs=(first, later))))
    best = next(one for one in ways if one.words.startswith("Do phase"))
    assert best.words == "Do phase 30 30 days later"
    assert best.saved_cents > 0
    moved = replace(PLAN, costs=(first, later)).phase_later("30", 30).costs
    assert [(one.start, one.finish) for one in moved] == [
        (date(2026, 4, 2), date(2026, 5, 2)), (date(2026, 6, 19), date(2026, 6, 28)),
    ]  # fmt: skip


def test_a_line_on_which_nothing_is_spent_changes_no_day():
    idle = PlannedLine("2", "work", "cost", 5_000_00)
    assert cash_course(replace(PLAN, lines=(*PLAN.lines, idle))).days == cash_course(PLAN).days


def test_a_draw_on_its_way_is_paid_on_its_day_and_its_receipts_are_requested_once():
    pending = PendingDraw(DrawnToDate(20_000_00, 2_000_00), date(2026, 4, 8))
    line = replace(PLAN.lines[0], incurred_cents=20_000_00, paid_cents=20_000_00)
    course = cash_course(
        replace(PLAN, lines=(line, PLAN.lines[1]), costs=(), pending=pending, draws=1)
    )
    assert on(course, 4, 7).owner_cents == 20_000_00
    assert on(course, 4, 8).owner_cents == 20_000_00 + 600_00 - 8_000_00
    assert course.days[-1].requested == DrawnToDate(20_000_00, 0)


def test_the_reserve_bears_interest_until_it_is_used_up():
    """88.55 of June and 11.45 of July's 267.23 come from a reserve of $100.00."""
    course = cash_course(replace(PLAN, reserve_cents=100_00))
    assert (on(course, 6, 1).added_cents, on(course, 7, 1).added_cents) == (88_55, 100_00)
    assert on(course, 7, 1).causes["interest paid"] == on(course, 7, 1).interest_cents - 100_00


def test_a_loan_that_is_used_up_leaves_the_rest_to_the_owner_and_it_is_said():
    equity = replace(PLAN.equity, commitment_cents=20_000_00)
    course = cash_course(replace(PLAN, equity=equity))
    assert course.days[-1].balance_cents == 20_000_00
    assert course.days[-1].short_cents == 30_000_00
    assert "$30,000.00 that was requested is not funded at the end." in left_out_sentences(course)


def test_the_last_draw_that_the_terms_allow_is_kept_for_the_end():
    course = cash_course(replace(PLAN, terms=replace(TERMS, most_draws=2)))
    days = [one for one in course.days if one.balance_cents == 50_000_00]
    assert days[0].day == date(2026, 7, 10)
    assert on(course, 6, 30).balance_cents == 16_100_00


def test_by_the_lesser_of_cost_and_percent_an_overrun_is_drawn_late():
    """Of 61,000 forecast on 60,000, 29,000 of cost are 60,000 x 29 / 61 in place: $28,524.59."""
    line = replace(PLAN.lines[0], basis="lesser")
    course = cash_course(replace(PLAN, lines=(line, PLAN.lines[1])))
    assert on(course, 4, 30).requested.done_cents == 28_524_59


def test_retainage_stops_where_the_terms_say_so():
    stops = replace(TERMS.retainage, effect="stop")
    course = cash_course(replace(PLAN, terms=replace(TERMS, retainage=stops)))
    assert on(course, 5, 31).requested.retainage_cents == 3_000_00
    whole = replace(TERMS, retainage=replace(stops, of_whole=True))
    assert on(cash_course(replace(PLAN, terms=whole)), 5, 31).requested.retainage_cents == 3_000_00


def test_the_interest_of_the_forecast_stands_beside_that_of_the_rule():
    """Half of $100,000 at 9 % for 12 months: $4,500.00."""
    said = half_commitment_sentence(cash_course(PLAN))
    assert "comes to $729.78 up to 2026-08-01" in said
    assert "half of the commitment for 12 months at the first rate, assumes $4,500.00" in said


@st.composite
def plans(draw):
    """Plans of two lines, some costs, and terms that differ."""
    money = st.integers(0, 50_000_00)
    basis = st.sampled_from(["cost", "lesser", "percent"])
    lines = [
        PlannedLine(name, kind, draw(basis), draw(money), incurred, draw(st.integers(0, incurred)))
        for name, kind in (("1", "work"), ("2", "soft"))
        for incurred in (draw(money),)
    ]
    costs = []
    for number in range(draw(st.integers(0, 3))):
        start = CLOSED + timedelta(draw(st.integers(1, 60)))
        finish = start + timedelta(draw(st.integers(0, 40)))
        line, late = draw(st.sampled_from(["1", "2", ""])), draw(st.sampled_from([0, 30]))
        costs.append(PlannedCost(f"20.{number}", line, draw(money), start, finish, late))
    terms = replace(TERMS, days_to_funding=draw(st.integers(0, 40)), fees=draw(
        st.sampled_from(["withheld", "paid"])), most_draws=draw(st.integers(0, 3)))  # fmt: skip
    equity = EquityTerms(
        draw(money), 1 + draw(money), draw(st.sampled_from([PRO_RATA, "equity first"]))
    )
    return CashPlan(
        CLOSED, terms, equity, (*lines, PlannedLine("", "work", "cost", 0)), tuple(costs),
        received_cents=draw(money), reserve_cents=draw(st.integers(0, 100_00)),
        expected=(BalanceChange(date(2026, 5, 5), draw(money)),),
        own_cash_cents=draw(money),
    )  # fmt: skip


@settings(max_examples=20)
@given(plans())
def test_each_day_adds_up_and_the_loan_is_never_passed(plan):
    course = cash_course(plan)
    for one in course.days:
        assert sum(one.causes.values()) == one.owner_cents
        assert one.balance_cents <= plan.equity.commitment_cents
        assert one.equity_cents <= plan.equity.required_cents
    paid = sum(one.cents for one in plan.costs) + plan.paid_cents
    assert course.days[-1].paid_cents == paid
    has = plan.equity.required_cents + plan.own_cash_cents
    passed = [one for one in course.days if one.owner_cents > has]
    assert course.runs_out == (passed[0] if passed else None)
    assert ("does not run out" in runs_out_sentence(course)) == (not passed)
    assert cash_fields(course, ())["through"] == course.days[-1].day.isoformat()


@settings(max_examples=15)
@given(plans(), st.sampled_from([Decimal(0), Decimal("0.05")]))
def test_sources_less_uses_is_all_money_in_less_all_money_out(plan, contingency):
    """Who paid what so far moves lines of the balance, never its sum."""
    dearer = replace(plan, costs=tuple(replace(one, cents=2 * one.cents) for one in plan.costs))
    balance = loan_balance((plan, dearer), OpenCosts(0, 0, 0), contingency)
    for one, surplus in zip((plan, dearer), balance.surplus_cents, strict=True):
        last = cash_course(one).days[-1]
        comes = plan.equity.commitment_cents + plan.equity.required_cents + last.received_cents
        left = int((one.to_come_cents * contingency).to_integral_value("ROUND_HALF_UP"))
        assert surplus == comes - last.paid_cents - last.interest_cents - last.fees_cents - left


def test_the_balance_says_whether_and_by_how_much():
    """100,000 and 10,000 against 61,000, 729.78 of interest and 800 of fees."""
    dear = replace(PLAN, costs=(replace(PLAN.costs[0], cents=161_000_00),))
    balance = loan_balance((PLAN, dear), OpenCosts(0, 0, 0), Decimal(0))
    assert balance.surplus_cents[0] == 47_470_22
    assert balance.sentence.startswith("The loan is out of balance at P80: $47,470.22 over at P50")
    assert balance_fields(balance)["surplus"]["P50"] == "47470.22"
    both = loan_balance((dear, dear), OpenCosts(0, 0, 0), Decimal(0))
    assert both.sentence.startswith("The loan is out of balance: ")


@pytest.mark.parametrize("fees", ["withheld", "paid"])
def test_fees_are_a_deduction_or_a_use_but_never_both(fees):
    plan = replace(PLAN, terms=replace(TERMS, fees=fees))
    lines = {
        one.name: one.p50_cents
        for one in loan_balance((plan, plan), OpenCosts(0, 0, 0), Decimal(0)).lines
    }
    withheld, paid = lines["less fees to be withheld"], lines["Fees to be paid"]
    assert (withheld, paid) == ((-800_00, 0) if fees == "withheld" else (0, 800_00))


def test_work_under_way_rises_from_what_is_in_place_as_its_cost_rises_to_its_forecast():
    """12,000 of 60,000 are in place; 29 of 50 days bring 48,000 x 29 / 50 = 27,840 more."""
    line = PlannedLine("1", "work", "percent", 60_000_00, 10_000_00, 0, 12_000_00)
    cost = PlannedCost("20.010", "1", 50_000_00, date(2026, 4, 2), date(2026, 5, 21))
    course = cash_course(replace(PLAN, lines=(line,), costs=(cost,)))
    assert on(course, 4, 30).requested.done_cents == 39_840_00
    by_cost = cash_course(replace(PLAN, lines=(replace(line, basis="cost"),), costs=(cost,)))
    assert on(by_cost, 4, 30).requested.done_cents == 39_000_00


def test_months_are_listed_by_their_last_days_from_the_day_of_the_plan_on():
    """Two days of April at $1,000, then May; the first month counts from the day of the plan."""
    plan = replace(
        PLAN, as_of=date(2026, 4, 28), lines=(replace(PLAN.lines[0], paid_cents=3_000_00),),
        costs=(PlannedCost("20.010", "1", 40_000_00, date(2026, 4, 29), date(2026, 6, 7)),),
    )  # fmt: skip
    months = cash_fields(cash_course(plan), ())["months"]
    assert [(one["end"], one["paid"]) for one in months[:3]] == [
        ("2026-04-30", "2000.00"),
        ("2026-05-31", "31000.00"),
        ("2026-06-30", "7000.00"),
    ]
    last = [one.day for one in cash_course(plan).month_ends][-2:]
    assert last == [date(2026, 7, 31), date(2026, 8, 1)]  # the day of the last interest
    eve = cash_course(replace(plan, as_of=date(2026, 4, 29)))
    assert [one.day for one in eve.month_ends][:2] == [date(2026, 4, 30), date(2026, 5, 31)]


def test_what_is_funded_and_within_its_line_leaves_only_what_is_never_known():
    line = replace(PLAN.lines[0], value_cents=61_000_00)
    (said,) = left_out_sentences(cash_course(replace(PLAN, lines=(line, PLAN.lines[1]))))
    assert said.startswith("No stored material is assumed")
