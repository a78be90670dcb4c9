import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import RangeFaulty
from estimator.ranges.distributions import Fixed, Pert, Triangular, Uniform
from estimator.ranges.events import Event
from estimator.ranges.latin_hypercube import LINES, line_generator, strata

values = st.floats(-1e6, 1e6)
shares = st.floats(0.0, 1.0)


@st.composite
def distributions(draw):
    low, likely, high = sorted(draw(st.tuples(values, values, values)))
    kinds = [Triangular(low, likely, high), Pert(low, likely, high), Uniform(low, high), Fixed(low)]
    return draw(st.sampled_from(kinds))


@given(distributions(), st.lists(shares, min_size=1, max_size=20))
def test_quantiles_rise_and_stay_within_low_and_high(distribution, u):
    hair = 1e-9 * max(1.0, abs(distribution.low), abs(distribution.high))
    found = distribution.quantile(sorted(u))
    assert (np.diff(found) >= -hair).all()
    assert found.min() >= distribution.low - hair
    assert found.max() <= distribution.high + hair


@given(distributions(), shares)
def test_one_probability_gives_the_same_as_in_an_array(distribution, u):
    assert float(distribution.quantile(u)) == distribution.quantile([0.5, u])[1]


@given(distributions(), st.integers(1, 300))
def test_a_rising_sample_is_the_quantiles_of_the_strata_to_the_bit(distribution, iterations):
    sample, points = line_generator(1906, LINES, 3), line_generator(1906, LINES, 3)
    expected = distribution.quantile(strata(points, iterations))
    assert distribution.rising_sample(sample, iterations).tolist() == expected.tolist()
    assert sample.random() == points.random()


@given(distributions(), st.floats(1e-3, 1e3))
def test_scaled_values_scale_mean_and_variance(distribution, factor):
    scaled = distribution.scaled(factor)
    size = max(1.0, abs(distribution.low), abs(distribution.high))
    assert scaled.mean == pytest.approx(distribution.mean * factor, abs=1e-9 * factor * size)
    expected = distribution.variance * factor**2
    assert scaled.variance == pytest.approx(expected, rel=1e-6, abs=1e-9 * (factor * size) ** 2)


@given(distributions())
def test_mean_and_variance_are_those_of_the_quantiles(distribution):
    middle = (np.arange(20_000) + 0.5) / 20_000
    found = distribution.quantile(middle)
    width = max(distribution.high - distribution.low, 1e-3)
    assert found.mean() == pytest.approx(distribution.mean, abs=1e-4 * width)
    assert found.var() == pytest.approx(distribution.variance, abs=1e-4 * width**2)


@pytest.mark.parametrize("kind", [Triangular, Pert])
def test_a_range_of_no_width_is_certain(kind):
    certain = kind(5.0, 5.0, 5.0)
    assert (certain.mean, certain.variance) == (5.0, 0.0)
    assert certain.quantile([0.0, 0.3, 1.0]).tolist() == [5.0, 5.0, 5.0]


@pytest.mark.parametrize("kind", [Triangular, Pert])
@pytest.mark.parametrize("likely", [10.0, 20.0])
def test_the_likely_value_may_be_an_end(kind, likely):
    assert kind(10.0, likely, 20.0).quantile([0.0, 1.0]).tolist() == [10.0, 20.0]


def test_exact_numbers_are_taken_too():
    assert Triangular(Decimal("0.9"), 1, Decimal("1.25")) == Triangular(0.9, 1.0, 1.25)


def test_a_rate_becomes_a_factor_by_scaling():
    assert Triangular(36, 40, 50).scaled(1 / 40) == Triangular(0.9, 1.0, 1.25)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Triangular(5, 4, 3), "low: 5 is above the high of 3; write low, likely and high"),
        (lambda: Triangular(1, 6, 5), "likely: 6 is above the high of 5"),
        (lambda: Pert(1, 0, 5), "likely: 0 is below the low of 1"),
        (lambda: Uniform(2, 1), "low: 2 is above the high of 1"),
        (lambda: Triangular(math.nan, 1, 2), "low: 'nan' is not a finite number; write it as 12.5"),
        (lambda: Uniform(1, math.inf), "high: 'inf' is not a finite number"),
        (lambda: Fixed(10**400), "is not a finite number"),
        (lambda: Fixed("12"), "value: '12' is not a plain number"),
        (lambda: Fixed(True), "value: 'True' is not a plain number"),
        (lambda: Uniform(1, 2).scaled(0.0), "0.0 is not above zero"),
        (lambda: Uniform(1, 2).quantile(1.5), "a probability is not between 0 and 1"),
        (lambda: Uniform(1, 2).quantile([0.5, math.nan]), "a probability is not between 0 and 1"),
    ],
)
def test_ranges_that_cannot_be_are_refused(make, said):
    with pytest.raises(RangeFaulty) as caught:
        make()
    assert said in str(caught.value)


def test_all_that_is_wrong_with_a_range_is_reported_at_once():
    with pytest.raises(RangeFaulty) as caught:
        Triangular("a", math.inf, None)
    assert [one.where for one in caught.value.faults] == ["low", "likely", "high"]


def test_an_event_costs_nothing_where_it_does_not_happen():
    event = Event("old cistern", 0.25, Uniform(100.0, 300.0))
    assert event.quantile([0.0, 0.74, 0.75, 0.875, 1.0]).tolist() == [0, 0, 100, 200, 300]


def test_an_event_that_saves_money_lies_at_the_other_end():
    event = Event("old bricks under the floor", 0.25, Uniform(-300.0, -100.0))
    assert event.quantile([0.0, 0.125, 0.25, 0.26, 1.0]).tolist() == [-300, -200, -100, 0, 0]


@given(st.floats(0.0, 1.0), st.floats(0.0, 100.0), st.floats(0.1, 100.0))
def test_mean_and_variance_of_an_event_are_those_of_its_quantiles(probability, low, width):
    event = Event("surprise", probability, Uniform(low, low + width))
    found = event.quantile((np.arange(40_000) + 0.5) / 40_000)
    size = low + width
    assert found.mean() == pytest.approx(event.mean, abs=1e-4 * size)
    assert found.var() == pytest.approx(event.variance, abs=2e-4 * size**2)


@pytest.mark.parametrize("probability", [0.0, 1.0])
def test_an_event_may_be_impossible_or_certain(probability):
    event = Event("rain", probability, Fixed(10.0))
    assert event.quantile([0.0, 0.5, 1.0]).tolist() == [10.0 * probability] * 3


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (
            lambda: Event("cistern", 1.5, Fixed(5)),
            "event 'cistern': a probability of 1.5 is not between 0 and 1; write one chance in "
            "four as 0.25",
        ),
        (lambda: Event("cistern", -0.1, Fixed(5)), "a probability of -0.1"),
        (lambda: Event("cistern", math.nan, Fixed(5)), "'nan' is not a finite number"),
        (
            lambda: Event("cistern", 0.5, None),
            "event 'cistern': has no cost; say what it costs if it happens",
        ),
        (lambda: Event("cistern", 0.5, Fixed(0)), "has no cost"),
        (lambda: Event("cistern", 0.5, Uniform(-1, 1)), "may be a cost or a saving"),
    ],
)
def test_events_that_cannot_be_are_refused(make, said):
    with pytest.raises(RangeFaulty) as caught:
        make()
    assert said in str(caught.value)


def test_all_that_is_wrong_with_an_event_is_reported_at_once():
    with pytest.raises(RangeFaulty) as caught:
        Event("cistern", 25, None)
    assert len(caught.value.faults) == 2
