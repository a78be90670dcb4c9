from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.assemblies.markups import Markup
from estimator.errors import RangeFaulty
from estimator.ranges.contingency_needed import contingency, contingency_markups
from estimator.ranges.distributions import Fixed, Triangular, Uniform
from estimator.ranges.events import Event
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange, LineRange
from estimator.ranges.simulation import simulated_totals
from estimator.rates.rows import Origin
from tests.ranges.jobs import alike, job

TOTALS = simulated_totals(job())


@given(st.floats(0.001, 0.999))
def test_the_allocation_adds_up_to_the_cent(confidence):
    needed = contingency(TOTALS, confidence)
    assert sum(needed.by_phase.values()) == needed.amount_cents
    assert needed.amount_cents == TOTALS.percentile_cents(confidence) - 1_970_000
    assert len({part >= 0 for part in needed.by_phase.values() if part}) <= 1


@settings(max_examples=10)
@given(st.integers(1, 40), st.integers(0, 1_000), st.sampled_from([0.1, 0.5, 0.8, 0.95]))
def test_the_allocation_adds_up_for_jobs_of_any_size(count, seed, confidence):
    needed = contingency(simulated_totals(alike(count, 200, seed)), confidence)
    assert sum(needed.by_phase.values()) == needed.amount_cents


def test_estimate_and_contingency_suffice_with_the_confidence():
    needed = contingency(TOTALS, 0.8)
    budget = needed.estimate_cents + needed.amount_cents
    assert 0.8 <= TOTALS.probability_within(budget) < 0.801


def test_phases_alone_would_need_more_than_together():
    needed = contingency(TOTALS, 0.8)
    assert sum(needed.alone_by_phase.values()) > needed.amount_cents
    assert "not everything goes wrong at once" in needed.statement
    assert needed.statement.startswith("To be 80 % sure, add $")


def test_an_estimate_that_suffices_needs_no_contingency_and_says_what_could_be_spared():
    lines = (CostRange("stone", Triangular(5e5, 9e5, 9e5), phase="20"), LineRange("x", 0))
    needed = contingency(simulated_totals(JobRanges(lines)), 0.5)
    assert needed.amount_cents < 0
    assert needed.by_phase == {"20": needed.amount_cents, "": 0}
    assert needed.statement.startswith("The estimate is enough for more than 50 %: no contingency")
    assert needed.statement.endswith("could be spared.")


def test_a_certain_job_needs_none():
    needed = contingency(simulated_totals(JobRanges((LineRange("x", 500, phase="1"),))), 0.9)
    assert (needed.amount_cents, needed.by_phase) == (0, {"1": 0})
    assert needed.statement == "The estimate is enough for 90 %: no contingency is needed."


def test_a_phase_that_is_certain_gets_nothing():
    lines = (
        CostRange("stone", Uniform(1e5, 3e5), phase="20"),
        CostRange("roof", Fixed(5e6), phase="30"),
    )
    needed = contingency(simulated_totals(JobRanges(lines)), 0.8)
    assert needed.by_phase["30"] == 0
    assert needed.by_phase["20"] == needed.amount_cents > 0


def test_a_job_of_one_phase_is_not_compared_with_its_phases():
    needed = contingency(simulated_totals(JobRanges((CostRange("x", Uniform(1e5, 3e5)),))), 0.8)
    assert needed.amount_cents == sum(needed.alone_by_phase.values()) > 0
    assert "not everything goes wrong at once" not in needed.statement


def test_phases_that_together_need_more_than_alone_are_not_said_to_need_less():
    events = tuple(Event(f"surprise {n}", 0.1, Fixed(1e6), phase=str(n)) for n in range(10))
    assert "separately" not in contingency(simulated_totals(JobRanges((), events)), 0.8).statement


def test_only_phases_that_alone_need_more_share_what_is_added():
    lines = (
        CostRange("old wall", Triangular(9e5, 9e5, 20e5), phase="20"),
        CostRange("roof", Triangular(5e5, 9e5, 9e5), phase="30"),
    )
    needed = contingency(simulated_totals(JobRanges(lines)), 0.7)
    assert needed.amount_cents > 0 > needed.alone_by_phase["30"]
    assert needed.by_phase == {"20": needed.amount_cents, "30": 0}


def test_what_could_be_spared_is_shared_by_what_each_phase_alone_could_spare():
    lines = (
        CostRange("old wall", Triangular(1e5, 9e5, 9e5), phase="20"),
        CostRange("roof", Uniform(8e5, 8.2e5), phase="30"),
        CostRange("windows", Triangular(8e5, 9e5, 9e5), phase="40"),
    )
    needed = contingency(simulated_totals(JobRanges(lines)), 0.5)
    wall, windows = -needed.alone_by_phase["20"], -needed.alone_by_phase["40"]
    assert needed.alone_by_phase["30"] == pytest.approx(0, abs=60)
    assert needed.amount_cents < 0
    share = needed.by_phase["20"] / needed.amount_cents
    assert share == pytest.approx(wall / (wall + windows), abs=0.001)
    assert wall / windows == pytest.approx(8.0, rel=0.01)  # eight times as far below the estimate


def test_phases_that_alone_need_none_share_by_their_spread():
    # Each of ten phases has an event of one in ten: alone, P80 needs nothing; together it does.
    events = tuple(Event(f"surprise {n}", 0.1, Fixed(1e6), phase=str(n)) for n in range(10))
    needed = contingency(simulated_totals(JobRanges((), events)), 0.8)
    assert set(needed.alone_by_phase.values()) == {0}
    assert needed.amount_cents == 2_000_000
    assert set(needed.by_phase.values()) == {200_000}


@pytest.mark.parametrize("confidence", [0.0, 1.0, -0.1, 1.5, 80, float("nan"), "0.8", True, None])
def test_a_confidence_that_is_none_is_refused(confidence):
    with pytest.raises(RangeFaulty, match=r"confidence: .* is not above 0 and below 1; write 0.8"):
        contingency(TOTALS, confidence)


def markup(code, name, percent="12"):
    origin = Origin("made", "markups.csv", 2)
    return Markup(code, name, 1, Decimal(percent), None, ("all",), "invented", origin)


def test_contingency_is_never_added_on_top_of_another():
    markups = [markup("contingency", "Contingency"), markup("site-overhead", "Site overhead")]
    already = contingency_markups(markups)
    assert already == ("Contingency",)
    with pytest.raises(RangeFaulty) as caught:
        contingency(TOTALS, 0.8, already=already)
    assert str(caught.value) == (
        "contingency: the estimate already carries 'Contingency'; contingency is added once: "
        "price without that markup, or leave the ranges out"
    )


def test_a_contingency_is_known_by_its_name_too():
    assert contingency_markups([markup("c10", "Design contingency")]) == ("Design contingency",)
