"""Stages with a pile between them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ProductionFaulty
from estimator.production.stockpile import Stage, StagedWork

WHEELED_IN = StagedWork(273.0, (Stage("trucks", 66.0), Stage("skid steer", 15.6)))


@st.composite
def works(draw):
    rates = draw(st.lists(st.floats(0.5, 100.0), min_size=1, max_size=5))
    stocks = [0.0, *(draw(st.sampled_from([0.0, 3.0, 40.0])) for _ in rates[1:])]
    stages = (Stage(f"stage {n}", *pair) for n, pair in enumerate(zip(rates, stocks, strict=True)))
    return StagedWork(draw(st.floats(200.0, 5000.0)), tuple(stages))


def test_the_slower_stage_rules():
    assert WHEELED_IN.hours == pytest.approx(17.5)
    assert WHEELED_IN.bottleneck == "skid steer"
    swapped = StagedWork(273.0, (Stage("trucks", 15.6), Stage("skid steer", 66.0)))
    assert (swapped.hours, swapped.bottleneck) == (pytest.approx(17.5), "trucks")


def test_the_pile_grows_until_the_last_truck_has_come():
    # the last ton comes after 273/66 = 4.136 hr, when 64.5 tons are placed
    assert WHEELED_IN.largest_pile("skid steer") == pytest.approx(208.47, abs=0.01)
    assert WHEELED_IN.pile("skid steer", 2.0) == pytest.approx(100.8)
    assert WHEELED_IN.pile("skid steer", 17.5) == pytest.approx(0.0, abs=1e-9)


def test_a_start_stock_lets_a_fast_crew_work_ahead_of_slow_trucks():
    work = StagedWork(280.0, (Stage("trucks", 20.0), Stage("crew", 30.0, stock=40.0)))
    assert work.hours_at_own_pace("crew") == pytest.approx(4.0)  # 40 tons at 10 tons an hour
    assert work.passed_on("crew", 4.0) == pytest.approx(120.0)
    assert work.passed_on("crew", 5.0) == pytest.approx(140.0)
    assert work.hours == pytest.approx(12.0)  # 240 tons still to come at 20 an hour
    assert work.bottleneck == "trucks"


def test_a_stock_of_everything_leaves_the_placing_alone():
    work = StagedWork(100.0, (Stage("trucks", 1.0), Stage("crew", 25.0, stock=100.0)))
    assert (work.hours, work.bottleneck) == (pytest.approx(4.0), "crew")


def test_three_stages_wait_for_the_slowest_of_all():
    work = StagedWork(120.0, (Stage("a", 30.0), Stage("b", 10.0), Stage("c", 20.0, stock=20.0)))
    assert (work.hours, work.bottleneck) == (pytest.approx(10.0), "b")


@given(works(), st.floats(0.0, 2.0))
def test_what_was_brought_is_placed_or_lies_in_a_pile(work, part):
    hours = part * work.hours
    names = [stage.name for stage in work.stages]
    brought = work.passed_on(names[0], hours) + sum(stage.stock for stage in work.stages)
    piles = sum(work.pile(name, hours) for name in names)
    assert brought == pytest.approx(work.passed_on(names[-1], hours) + piles)


@given(works())
def test_all_is_placed_at_the_end_and_not_before(work):
    last = work.stages[-1].name
    assert work.passed_on(last, work.hours) == pytest.approx(work.quantity)
    assert work.passed_on(last, 0.99 * work.hours) < work.quantity


@given(works(), st.floats(0.0, 1.0))
def test_no_pile_is_ever_larger_than_the_largest(work, part):
    for stage in work.stages:
        largest = work.largest_pile(stage.name)
        assert work.pile(stage.name, part * work.hours) <= largest + 1e-6


@given(works())
def test_until_its_own_pace_ends_a_stage_loses_nothing(work):
    for stage in work.stages:
        hours = work.hours_at_own_pace(stage.name)
        expected = stage.rate_per_hr * hours
        assert work.passed_on(stage.name, hours) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("stages", "told"),
    [
        ((), "stages: are missing: nothing limits the work"),
        ((Stage("a", 1.0, 5.0),), "has a stock although it brings the material from outside"),
        ((Stage("a", 1.0), Stage("a", 2.0)), "stage 'a': is listed twice"),
        ((Stage("a", 1.0), Stage("b", 2.0, 101.0)), "stocks: are more than the quantity"),
        (tuple(Stage(str(n), 1.0) for n in range(21)), "stages: are more than 20"),
    ],
)
def test_stages_that_cannot_be_are_refused(stages, told):
    with pytest.raises(ProductionFaulty, match=told):
        StagedWork(100.0, stages)


def test_bad_numbers_and_names_are_refused():
    with pytest.raises(ProductionFaulty, match="stage 'a', rate_per_hr: is zero"):
        Stage("a", 0.0)
    with pytest.raises(ProductionFaulty, match="stage 'a', stock: is negative"):
        Stage("a", 1.0, -1.0)
    with pytest.raises(ProductionFaulty, match="quantity: is not a finite number"):
        StagedWork(float("nan"), (Stage("a", 1.0),))
    with pytest.raises(ProductionFaulty, match="no stage 'truck'; did you mean 'trucks'"):
        WHEELED_IN.pile("truck", 1.0)
    with pytest.raises(ProductionFaulty, match="hours: is negative"):
        WHEELED_IN.passed_on("trucks", -1.0)
