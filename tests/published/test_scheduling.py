"""The shortest order with few crews, against the project scheduling library PSPLIB."""

import os

import pytest

from estimator.scheduling.scarce_crews import shortest_order
from tests.published.psplib import INSTANCES, check_order, of_instance
from tests.published.source import published

QUICK = 12
FULL = bool(os.environ.get("GROUNDSILL_FULL_FIGURES"))
TRIED = INSTANCES if FULL else INSTANCES[:QUICK]


@published(
    source="R. Kolisch and A. Sprecher, PSPLIB, European Journal of Operational Research 96 (1996)",
    section="set J30, single mode",
    status="seen",
    note="all 57 with GROUNDSILL_FULL_FIGURES=1, the first twelve otherwise",
)
@pytest.mark.parametrize("instance", TRIED, ids=lambda one: one["name"])
def test_an_instance_of_the_library_ends_at_its_published_optimum(instance):
    activities, there = of_instance(instance)
    order = shortest_order(activities, there, effort=120.0)
    assert (order.finish, order.is_shortest) == (instance["optimal_makespan"], True)
    check_order(activities, there, order)
