"""Scopes that share items: what both have is priced once, and each comes to what it does alone."""

from dataclasses import replace

import pytest

from estimator.errors import ScopeFaulty
from estimator.pricing.engine import PricedGroups
from estimator.pricing.estimate import estimate_by_the_day
from tests.factories import SPRING, item, made_tables, scope_of

FILL = {"length": "60 ft", "width": "24 ft", "depth": "8 ft"}


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("tables"))


@pytest.fixture
def whole(tables):
    fill, cut = item("010", "stone-fill", **FILL), item("020", "floor-cut", length="480 ft")
    return scope_of(tables, {"20": [fill], "30": [cut], "40": [fill]})


def test_an_item_that_moved_up_is_not_priced_again_and_comes_to_the_same(tables, whole):
    """Without its first phase the scope has its floor cut in another place, and one fill of two."""
    part = replace(whole, phases=whole.phases[1:])
    alone = estimate_by_the_day(part, tables, SPRING)
    groups = PricedGroups()
    estimate_by_the_day(whole, tables, SPRING, groups)
    before = list(groups)
    shared = estimate_by_the_day(part, tables, SPRING, groups)
    assert shared.cost_lines == alone.cost_lines
    assert [one.item for one in shared.cost_lines[:1]] == ["30.020"]
    assert [[one.code for one in groups[key].items] for key in groups if key not in before] == [
        ["40.010"]
    ]


def test_of_a_scope_that_cannot_be_priced_nothing_is_taken_over(tables):
    cut = item("010", "floor-cut", length="480 ft")
    nothing = item("010", "stone-fill", **FILL | {"depth": "0 in"})
    groups, faulty = PricedGroups(), scope_of(tables, {"20": [cut], "30": [nothing]})
    with pytest.raises(ScopeFaulty):
        estimate_by_the_day(faulty, tables, SPRING, groups)
    assert groups == {}
