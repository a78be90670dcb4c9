"""Runs of neighboring values at which the same methods are cheapest."""

import numpy as np

from estimator.studies.comparison.runs import Run, Runs


def ends(*first):
    """Return the runs of a method of these costs beside one that costs 100 everywhere."""
    cents = np.array([first, [100] * len(first)], dtype=np.int64)
    return [tuple(run) for run in Runs(cents).readable]


def test_a_run_ends_where_another_method_becomes_cheapest_and_a_tie_is_a_run_of_its_own():
    assert ends(90, 90, 100, 110) == [(0, 2), (2, 3), (3, 4)]


def test_four_runs_in_which_an_answer_comes_back_are_reported_one_by_one():
    assert ends(90, 110, 90, 110) == [(0, 1), (1, 2), (2, 3), (3, 4)]


def test_of_five_those_least_far_apart_are_made_one():
    """The third to the fifth differ by a cent, the first two by ten: four are left."""
    assert ends(90, 110, 99, 101, 99) == [(0, 1), (1, 2), (2, 4), (4, 5)]


def test_five_runs_of_five_answers_are_never_joined():
    costs = np.array([[abs(9 * (place - value)) for value in range(5)] for place in range(5)])
    assert len(Runs(costs.astype(np.int64)).readable) == 5


def test_how_far_apart_the_methods_of_a_run_are_is_the_most_at_any_of_its_values():
    runs = Runs(np.array([[90, 100, 130], [100, 100, 100], [500, 500, 500]], dtype=np.int64))
    assert runs.methods(Run(0, 3)) == (0, 1)
    assert runs.apart_cents(Run(0, 3)) == 30
    assert runs.apart_cents(Run(0, 1)) == 0
