"""What needs attention: sentences that hold when worked out again."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.attention import attention_list, overruns, rents_running_on
from estimator.tracking.code_rests import forecast_of
from estimator.tracking.forecast import Observed, what_is_left
from estimator.tracking.machines_on_rent import OnRent
from estimator.tracking.progress import in_place
from estimator.tracking.rest_at_budget import back_at_budget
from estimator.tracking.spent import Spent
from estimator.tracking.status import job_status
from tests.tracking.rows import LATER, MONDAY, NOW, at, progress
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


def test_a_code_that_has_just_spent_its_budget_is_not_over_it_already():
    """$14,600.00 for 300 of 400 tons is the whole budget; 400 tons end at $19,466.67."""
    job = status([progress(1, "20.010", "300")], {("20.010", "material"): Spent(1_460_000)})
    window = Observed(Decimal(300), {"material": 1_460_000})
    told = overruns(job, ends(job, {"20.010": what_is_left(400, 300, window, window)}))
    assert told[0].sentence == (
        "20.010 Stone fill: 300 tons in place at $48.67 against $36.50; at this rate it ends "
        "$4,866.67 over its budget"
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


KINDS = {"material": 1_100_000, "labor": 360_000}


@given(st.integers(1, 399), st.integers(1, 2_000_000), st.integers(1, 900_000))
def test_what_a_kind_saves_back_at_its_budget_holds_when_it_is_worked_out_again(
    done, material, labor
):
    """The kind that runs highest, forecast at its budgeted cost per ton in place of its own."""
    spent = {"material": material, "labor": labor}
    stands = in_place([progress(1, "20.010", str(done))], LATER, NOW)
    budget = {"20.010": replace(FILL, cents_by_kind=KINDS)}
    by_place = {("20.010", kind): Spent(cents) for kind, cents in spent.items()}
    job = job_status(budget, budget, by_place, {}, stands, LATER)
    rest = what_is_left(400, done, Observed(Decimal(done), spent), Observed(Decimal(400), KINDS))
    planned = {kind: Fraction(cents * (400 - done), 400) for kind, cents in KINDS.items()}
    saved = {
        kind: rest.cents_by_kind[kind] - int(own + Fraction(1, 2)) for kind, own in planned.items()
    }
    most = max(saved.values())
    said = back_at_budget(code(job, "20.010"), budget["20.010"], rest)
    if most <= 0:
        assert said == ""
    else:
        (worst, *_) = [kind for kind, own in saved.items() if own == most]
        begins = f"{worst} at its budgeted cost per ton from here on saves ${most / 100:,.2f}: look"
        assert said.startswith(begins)


def test_an_overrun_says_what_could_be_saved_and_where_to_look():
    job = status([progress(1, "20.010", "112")], {("20.010", "material"): Spent(468_160)})
    rests = rest_of(468_160)
    advice = {"20.010": back_at_budget(code(job, "20.010"), FILL, rests["20.010"])}
    (told,) = overruns(job, ends(job, rests), advice)
    # 288 tons at $41.80 are $12,038.40; the budget has $11,000.00 of material for 400 tons
    assert told.sentence.endswith(
        "ends $2,120.00 over its budget; material at its budgeted cost per ton from here on saves "
        "$4,118.40: look at waste, and other prices"
    )


def test_a_machine_still_on_rent_when_its_work_is_in_place_says_what_no_forecast_has():
    """Three days of the lift are $885.00, ten to the last planned day $1,040.00 + 3 x $295.00."""
    rates = RentalRates(day=Decimal(295), week=Decimal(1040))
    lift = OnRent(2, MONDAY, at(MONDAY), "lift", "Yard", "20.010", rates)
    whole, wednesday = [progress(1, "20.010", "400")], date(2026, 5, 6)
    (said,) = rents_running_on(status(whole, as_of=wednesday), [lift], wednesday)
    assert (said.cents, said.sentence) == (
        104_000,
        "20.010 Stone fill: all in place, but the lift of Yard is still on rent; no forecast of "
        "the code counts that rent from here on: $1,040.00 before tax if it stays through "
        "2026-05-13, the last planned day",
    )
    (late,) = rents_running_on(status(whole), [lift], LATER)
    assert (late.cents, late.sentence[-38:]) == (0, "the code counts that rent from here on")
    called_off = replace(lift, called_off=wednesday)
    assert rents_running_on(status(whole), [called_off], LATER) == []
    part = [progress(1, "20.010", "399")]
    assert rents_running_on(status(part), [lift], LATER) == []
    ordered = job_status(
        BUDGET, BUDGET, {}, {("20.010", "equipment"): 100}, in_place(whole, LATER, NOW), LATER
    )
    assert rents_running_on(ordered, [lift], LATER) == []
