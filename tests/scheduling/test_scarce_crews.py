"""The shortest order with few crews: never later with more, and honest where it is not proven."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.errors import PhaseOrderFaulty
from estimator.scheduling.activities import Activity, Link
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.longest_path import critical_path
from estimator.scheduling.scarce_crews import shortest_order, solution_of
from tests.published.psplib import INSTANCES, check_order, of_instance
from tests.scheduling.test_longest_path import networks
from tests.scope.methods.choices import sample


@settings(max_examples=15)
@given(networks(most=7), st.lists(st.integers(1, 2), min_size=7, max_size=7))
def test_more_crew_is_never_later_and_enough_crew_is_the_longest_path(activities, needs):
    working = [
        Activity(one.code, one.name, one.length, one.links, {"crew": n})
        for one, n in zip(activities, needs, strict=False)
    ]
    ends = [shortest_order(working, {"crew": there}).finish for there in (2, 3, 20)]
    assert ends == sorted(ends, reverse=True)
    assert ends[-1] == critical_path(activities).finish


def test_the_same_work_gives_the_same_order():
    activities, there = of_instance(INSTANCES[0])
    order = shortest_order(activities, there)
    assert shortest_order(activities, there) == order  # remembered
    solution_of.cache_clear()
    assert shortest_order(activities, there) == order  # looked for once more


def test_a_job_is_dated_with_and_without_its_alternates_by_as_few_searches_as_it_has_orders():
    scope, tables = sample()
    solution_of.cache_clear()
    price(scope, tables, scope.on)
    searches = solution_of.cache_info()
    assert (searches.hits, searches.misses) == (2, 4)  # 2 each, of the job as stated twice


def test_work_that_needs_more_than_there_is_is_refused_with_the_remedy():
    pour = Activity("40.060", "Slab", 2, needs={"laborer": 4})
    with pytest.raises(
        PhaseOrderFaulty, match="needs 4 of 'laborer', and the job has 3; hire more"
    ):
        shortest_order([pour], {"laborer": 3})


def test_a_job_too_large_for_the_effort_says_how_far_off_it_may_be():
    hard = next(one for one in INSTANCES if one["name"] == "j301_1")
    activities, there = of_instance(hard)
    many = [
        Activity(f"{copy}.{one.code}", one.name, one.length,
                 tuple(Link(f"{copy}.{k.after}") for k in one.links), one.needs)
        for copy in range(6)
        for one in activities
    ]  # fmt: skip
    order = shortest_order(many, there, effort=0.2)
    assert order.at_least <= order.finish
    assert order.gap == pytest.approx((order.finish - order.at_least) / order.finish)
    assert not order.is_shortest
    check_order(many, there, order)


def test_no_work_is_no_order():
    assert shortest_order([], {"crew": 1}).finish == 0


def test_a_crew_is_at_work_at_least_as_long_as_its_hours_over_its_number():
    """Seven pieces of work of two of three hands, four hours each: 56 hours, 18.67 for three."""
    walls = [Activity(f"{place}", "wall", 400, needs={"mason": 2}) for place in range(7)]
    order = shortest_order(walls, {"mason": 3}, effort=0.0)
    assert order.at_least >= 1867
