"""Order rounding: what has to be bought to have what is needed, never rounded down.

Whole truckloads, half yards of concrete, whole blades: the order is raised to the next multiple
where the buying happens, for one item or for all items of a phase together. All quantities here
are whole numbers of the last decimal that their unit prints with.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.assemblies.needs import LineNeed
from estimator.cents import apportion_by_group
from estimator.quantity.rounding import Values, scaled_half_up, up_to_multiple, whole_above

Scaled = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Order:
    """What is needed and bought of one resource for n items.

    Parameters
    ----------
    net : int64 array, shape (n,)
        The need without waste.
    waste : int64 array, shape (n,)
        What is added for waste.
    ordered : int64 array, shape (n,)
        What is paid for; `ordered - net - waste` is left over.
    multiple : int64 array, shape (n,)
        The order multiple; 1 where any quantity can be bought.
    """

    net: Scaled
    waste: Scaled
    ordered: Scaled
    multiple: Scaled


def order_of(need: LineNeed, decimals: int) -> Order:
    """Return the order for each item by itself; what a phase orders together is not yet raised.

    Notes
    -----
    The need with waste is rounded once, half-up; the printed waste is its difference from the
    printed net need, so that the three printed figures add up. A need of nothing orders nothing,
    whatever the minimum charge. What prints whole and is bought in multiples, or with a minimum,
    is counted up: 0.26 of a post is one. Of who is hired by the hour, minimum and multiple are
    taken for each one and each day.
    """
    net = _printed_need(need.need, need, decimals)
    total = _printed_need(need.with_waste, need, decimals)
    ordered = total
    multiple = np.ones_like(total)
    if need.minimum is not None:
        ordered = np.maximum(ordered, scaled_half_up(need.minimum, decimals))
    if need.multiple is not None:
        multiple = np.maximum(scaled_half_up(need.multiple, decimals), 1)
        if need.line.ordered_per == "item":
            ordered = up_to_multiple(ordered, multiple)
    if need.call_out is not None:
        least = np.zeros(len(total)) if need.minimum is None else need.minimum
        paid = need.call_out.paid(need.with_waste, least, multiple / 10.0**decimals)
        ordered = np.maximum(scaled_half_up(paid, decimals), total)
    ordered = np.where(total > 0, ordered, 0)
    return Order(net, total - net, ordered, multiple)


def _printed_need(values: Values, need: LineNeed, decimals: int) -> Scaled:
    """Return a need in its last printed decimal: half-up, but pieces to be bought up."""
    has_least = need.multiple is not None or need.minimum is not None
    if decimals == 0 and has_least:
        return whole_above(values).astype(np.int64)
    return scaled_half_up(values, decimals)


def ordered_together(group: Scaled, needed: Scaled, multiple: Scaled) -> Scaled:
    """Return the orders of items that buy together: raised once, the excess shared out.

    Parameters
    ----------
    group : int64 array, shape (n,)
        Which items buy together, 0 to m - 1.
    needed : int64 array, shape (n,)
        Their needs with waste.
    multiple : int64 array, shape (n,)
        The order multiple, the same within a group.

    Returns
    -------
    int64 array, shape (n,)
        Orders that add up, within each group, to a whole multiple. What is left over is shared in
        proportion to need by largest remainder, ties by line order.

    Examples
    --------
    >>> ordered_together(np.array([0, 0]), np.array([130, 40]), np.array([100, 100]))
    array([153,  47])
    """
    groups = int(group.max()) + 1
    total = np.bincount(group, needed, groups).astype(np.int64)
    multiple_of_group = np.ones(groups, dtype=np.int64)
    multiple_of_group[group] = multiple
    left_over = up_to_multiple(total, multiple_of_group) - total
    return needed + apportion_by_group(group, left_over, needed)
