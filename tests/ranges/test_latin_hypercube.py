import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.random import SFC64, Generator, SeedSequence

from estimator.errors import RangeFaulty
from estimator.ranges.latin_hypercube import (
    DURATIONS,
    LINES,
    check_run,
    factor_generator,
    line_generator,
    normal_scores,
    strata,
)

seeds = st.integers(0, 2**63 - 1)


@given(seeds, st.integers(0, 100_000), st.integers(1, 3_000))
def test_every_stratum_is_hit_once(seed, line, iterations):
    points = strata(line_generator(seed, LINES, line), iterations)
    places = np.minimum(np.floor(points * iterations * (1 + 1e-15)), iterations - 1)
    assert np.abs(places - np.arange(iterations)).max() <= 1  # a point may round up to its end
    assert (np.diff(points) >= 0).all()
    assert points[0] >= 0.0
    assert points[-1] <= 1.0


def test_a_line_draws_the_same_whatever_was_drawn_before():
    line_generator(5, LINES, 3).random(100)
    first = line_generator(5, LINES, 4).random(3).tolist()
    assert line_generator(5, LINES, 4).random(3).tolist() == first


def test_no_two_lines_streams_or_seeds_draw_the_same():
    drawn = {
        line_generator(seed, stream, line).random()
        for seed in (0, 1, 2**32, 2**62)
        for stream in (LINES, DURATIONS)
        for line in range(50)
    }
    assert len(drawn) == 400


@pytest.mark.parametrize("seed", [0, 1906, 2**32 - 1, 2**32, 2**63 - 1, np.int8(5)])
@pytest.mark.parametrize("line", [0, 7, 2**32 - 1])
def test_the_generator_of_a_line_is_what_numpy_spawns_for_it(seed, line):
    spawned = Generator(SFC64(SeedSequence(seed, spawn_key=(DURATIONS, line))))
    assert line_generator(seed, DURATIONS, line).random() == spawned.random()


def test_a_factor_goes_by_its_name():
    one, same, other = (factor_generator(5, name).random() for name in ("labor", "labor", "haul"))
    assert one == same != other


@pytest.mark.parametrize("iterations", [100, 101])
def test_normal_scores_are_balanced(iterations):
    scores = normal_scores(line_generator(5, LINES, 0), iterations)
    assert scores.sum() == pytest.approx(0.0, abs=1e-9)
    assert scores.std() == pytest.approx(1.0, abs=0.02)
    assert not (np.diff(scores) > 0).all()


@pytest.mark.parametrize(
    ("seed", "iterations", "said"),
    [
        (-1, 1_000, "seed: is not a whole number from 0 on"),
        (2**63, 1_000, "seed: is not a whole number"),
        (1.5, 1_000, "seed: is not a whole number"),
        (True, 1_000, "seed: is not a whole number"),
        (1, 99, "iterations: 99 are too few or too many; take 100 to 1,000,000"),
        (1, 1_000_001, "iterations: 1,000,001 are too few or too many"),
        (1, "many", "iterations: are not a whole number; take 10,000"),
    ],
)
def test_a_run_that_cannot_be_is_refused(seed, iterations, said):
    with pytest.raises(RangeFaulty) as caught:
        check_run(seed, iterations)
    assert said in str(caught.value)
