"""Orders: never rounded down, and the printed figures add up."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.assemblies.assembly import AssemblyLine
from estimator.assemblies.needs import LineNeed
from estimator.assemblies.ordering import order_of, ordered_together
from estimator.errors import AmountTooLarge
from estimator.quantity.formulas import read_formula
from estimator.rates.rows import Origin


def line(ordered_per="item"):
    nothing = read_formula("0")
    return AssemblyLine("r", nothing, None, None, None, ordered_per, False, Origin("t", "f", 2))


def need(net, waste=0.0, multiple=None, minimum=None, ordered_per="item"):
    nets = np.array(net, dtype=float)

    def column(value):
        return None if value is None else np.full(nets.shape, float(value))

    return LineNeed(line(ordered_per), nets, nets * (1 + waste), column(multiple), column(minimum))


@pytest.mark.parametrize(
    ("needed", "net", "waste", "ordered"),
    [
        (need([23.456]), 2346, 0, 2346),
        (need([23.456], waste=0.05), 2346, 117, 2463),
        (need([23.456], waste=0.05, multiple=0.5), 2346, 117, 2500),
        (need([24.5], multiple=0.5), 2450, 0, 2450),
        (need([24.51], multiple=0.5), 2451, 0, 2500),
        (need([24.504], multiple=0.5), 2450, 0, 2450),
        (need([0.2], multiple=1), 20, 0, 100),
        (need([8.4 / 2.8], multiple=1), 300, 0, 300),
        (need([0.2], minimum=4), 20, 0, 400),
        (need([5.0], minimum=4), 500, 0, 500),
        (need([0.2], minimum=4.2, multiple=0.5), 20, 0, 450),
        (need([0.0], minimum=4), 0, 0, 0),
        (need([0.004], minimum=4, multiple=1), 0, 0, 0),
        (need([10.0], multiple=1, ordered_per="phase"), 1000, 0, 1000),
        (need([10.2], multiple=1, ordered_per="phase"), 1020, 0, 1020),
    ],
)
def test_an_order_is_need_and_waste_raised_to_what_can_be_bought(needed, net, waste, ordered):
    order = order_of(needed, 2)
    assert [order.net.tolist(), order.waste.tolist(), order.ordered.tolist()] == [
        [net], [waste], [ordered],
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("needed", "net", "waste", "ordered"),
    [
        (need([0.26], multiple=1), 1, 0, 1),
        (need([10.3], waste=0.1, multiple=1), 11, 1, 12),
        (need([10.3], multiple=10), 11, 0, 20),
        (need([8.4 / 2.8], multiple=1), 3, 0, 3),
        (need([0.26], minimum=2), 1, 0, 2),
        (need([0.26], multiple=1, ordered_per="phase"), 1, 0, 1),
        (need([0.0], multiple=1), 0, 0, 0),
        (need([10.3]), 10, 0, 10),
    ],
)
def test_pieces_that_are_bought_whole_are_counted_up(needed, net, waste, ordered):
    """10.3 posts and a tenth for waste are 11.33: eleven are needed, twelve are bought."""
    order = order_of(needed, 0)
    assert [order.net.tolist(), order.waste.tolist(), order.ordered.tolist()] == [
        [net], [waste], [ordered],
    ]  # fmt: skip


@given(
    st.lists(st.decimals(0, 5000, places=4), min_size=1, max_size=8),
    st.sampled_from(["0", "0.05", "0.125", "0.3333"]),
    st.sampled_from([None, "0.5", "1", "12.5"]),
    st.sampled_from([None, "4", "0.25"]),
)
def test_net_waste_and_left_over_add_up_to_the_order(nets, waste, multiple, minimum):
    order = order_of(need([float(n) for n in nets], float(Decimal(waste)), multiple, minimum), 2)
    left_over = order.ordered - order.net - order.waste
    assert (left_over >= 0).all()
    assert (order.ordered % order.multiple == 0).all()
    if minimum is not None:
        assert ((order.ordered == 0) | (order.ordered >= round(100 * float(minimum)))).all()


@pytest.mark.parametrize(
    ("needs", "multiple", "orders"),
    [
        ([130, 40], 100, [153, 47]),
        ([30, 30, 30], 100, [34, 33, 33]),
        ([83, 108], 100, [87, 113]),
        ([100, 100], 100, [100, 100]),
        ([100], 100, [100]),
        ([1], 1200, [1200]),
        ([0, 50], 100, [0, 100]),
        ([0, 0], 100, [0, 0]),
        ([10, 20, 30], 1, [10, 20, 30]),
    ],
)
def test_what_a_phase_buys_together_is_raised_once_and_shared_by_need(needs, multiple, orders):
    together = ordered_together(
        np.zeros(len(needs), dtype=np.int64), np.array(needs), np.full(len(needs), multiple)
    )
    assert together.tolist() == orders


@given(st.data())
def test_orders_of_each_phase_add_up_to_a_whole_multiple(data):
    groups = data.draw(st.lists(st.integers(0, 3), min_size=1, max_size=20))
    needs = [data.draw(st.integers(0, 10**6)) for _ in groups]
    sizes = [data.draw(st.integers(1, 2500)) for _ in range(4)]
    multiples = np.array([sizes[group] for group in groups])
    orders = ordered_together(np.array(groups), np.array(needs), multiples)
    assert (orders >= needs).all()
    for group in set(groups):
        here = np.array(groups) == group
        total = sum(n for n, g in zip(needs, groups, strict=True) if g == group)
        assert int(orders[here].sum()) == -(-total // sizes[group]) * sizes[group]


def test_an_order_that_cannot_be_shared_exactly_is_refused():
    with pytest.raises(AmountTooLarge):
        ordered_together(np.array([0]), np.array([2**35]), np.array([2**40]))
