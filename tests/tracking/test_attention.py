"""What needs attention: sentences that hold when worked out again."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from estimator.tracking.attention import attention_list, overruns
from estimator.tracking.code_rests import forecast_of
from estimator.tracking.forecast import Observed, what_is_left
from estimator.tracking.progress import in_place
from estimator.tracking.spent import Spent
from estimator.tracking.status import job_status
from tests.tracking.rows import LATER, NOW, progress
from tests.tracking.test_status import BUDGET, FILL, code, status


def ends(job, rests):
    return {one.code: forecast_of(one, rests) for one in job.codes}


def rest_of(cents):
    window = Observed(Decimal(112), {"material": cents})
    return {"20.010": what_is_left(400, 112, window, Observed(Decimal(400), FILL.cents_by_kind))}


def test_a_code_that_heads_over_its_budget_says_by_how_much_and_at_which_unit_costs():
    """112 ton took $4,681.60, $41.80 a ton against $36.50: 400 ton end at $16,720, $2,120 over."""
    spent = {("20.010", "material"): Spent(468_160)}
    job = status([progress(1, "20.010", "112")], spent)
    told = overruns(job, ends(job, rest_of(468_160)))
    assert [(one.cents, one.sentence) for one in told] == [
        (
            212_000,
            "20.010 Stone fill: 112 tons in place at $41.80 against $36.50; at this rate it ends "
            "$2,120.00 over its budget",
        )
    ]


def test_a_code_that_is_done_over_its_budget_says_so():
    spent = {("20.010", "material"): Spent(1_500_000)}
    job = status([progress(1, "20.010", "400")], spent)
    window = Observed(Decimal(400), {"material": 1_500_000})
    told = overruns(job, ends(job, {"20.010": what_is_left(400, 400, window, window)}))
    assert told[0].sentence == "20.010 Stone fill: done, $400.00 over its budget"


def test_a_code_over_its_budget_before_it_is_done_says_by_how_much_now_and_at_the_end():
    """$15,000.00 for 300 of 400 tons: $400.00 over now, $20,000.00 at the end."""
    spent = {("20.010", "material"): Spent(1_500_000)}
    job = status([progress(1, "20.010", "300")], spent)
    window = Observed(Decimal(300), {"material": 1_500_000})
    told = overruns(job, ends(job, {"20.010": what_is_left(400, 300, window, window)}))
    assert told[0].sentence == (
        "20.010 Stone fill: $400.00 over its budget already; at this rate it ends $5,400.00 over "
        "its budget"
    )


def test_a_cost_without_a_budget_asks_for_a_change():
    job = status(spent={("20.077", "haul"): Spent(5_000)})
    told = overruns(job, ends(job, {}))
    assert told[0].sentence == "20.077 20.077: $50.00 incurred without a budget; approve a change"


@given(st.integers(1, 400), st.integers(1, 3_000_000))
def test_every_overrun_holds_when_it_is_worked_out_again(done, incurred):
    spent = {("20.010", "material"): Spent(incurred)}
    stands = in_place([progress(1, "20.010", str(done))], LATER, NOW)
    job = job_status(BUDGET, BUDGET, spent, {}, stands, LATER)
    window = Observed(Decimal(done), {"material": incurred})
    rest = what_is_left(400, done, window, Observed(Decimal(400), FILL.cents_by_kind))
    told = overruns(job, ends(job, {"20.010": rest}))
    end = forecast_of(code(job, "20.010"), {"20.010": rest})
    assert bool(told) is (end > FILL.cents)
    assert all(f"{one.cents / 100:,.2f} over" in one.sentence for one in told)
    assert all(one.cents == end - FILL.cents for one in told)


def test_the_worst_comes_first_and_what_has_no_sum_last():
    spent = {("20.010", "material"): Spent(1_500_000), ("20.077", "haul"): Spent(5_000)}
    job = status([progress(1, "20.010", "400")], spent)
    window = Observed(Decimal(400), {"material": 1_500_000})
    rests = {"20.010": what_is_left(400, 400, window, window)}
    listed = attention_list(overruns(job, ends(job, rests)), [("40.010", "a hold is open")])
    assert [one.code for one in listed] == ["20.010", "20.077", "40.010"]
