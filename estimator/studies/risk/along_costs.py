"""What stands along other work costs more where that lasts longer: a toilet, a fence, a trailer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from estimator.pricing.estimate import Estimate, estimate_by_the_day
from estimator.ranges.totals import AddedCost
from estimator.scheduling.dated_times import with_times
from estimator.scope.input_value import InputValue
from estimator.scope.scope import Item
from estimator.studies.risk.estimate_ranges import cents_with_markups

TIME_KIND = "time"


def along_costs(
    estimate: Estimate, spans: Mapping[str, npt.NDArray[np.int64]]
) -> Iterator[AddedCost]:
    """Yield for each item along other work what its time costs beyond the estimate, or less.

    Parameters
    ----------
    estimate : Estimate
        Its times along other work last as its dates say.
    spans : mapping of str to int64 array, shape (iterations,) [day]
        By cost code, how long that work lasts in each iteration: see `drawn_job`.

    Notes
    -----
    A day more costs the difference between the item at twice its days and at its days, markups
    included, over its days: what does not grow with time, such as a delivery, stays as it is. The
    estimate has the likely days already, so they count once.
    """
    if not spans:
        return
    once, twice = (_by_item(estimate, times) for times in (1, 2))
    phase_of = {item.code: phase.code for phase in estimate.scope.phases for item in phase.items}
    for item in estimate.scope.items:
        if item.code in spans:
            days = _days(item)
            per_day = (twice.get(item.code, 0) - once.get(item.code, 0)) / days
            cents = np.rint(per_day * (spans[item.code] - days)).astype(np.int64)
            name = f"{item.code} {item.name}, time along"
            if per_day:
                yield AddedCost(name, TIME_KIND, phase_of[item.code], cents)


def _by_item(estimate: Estimate, times: int) -> Mapping[str, int]:
    """Return what each item costs with its times along other work so many times as long [cent]."""
    scope = with_times(
        estimate.scope,
        lambda item: InputValue(Fraction(times * _days(item)), "", is_along=True, until=item.until),
    )
    priced = estimate_by_the_day(scope, estimate.tables, estimate.on)
    sums: dict[str, int] = {}
    both = zip(priced.priced.lines.item.tolist(), cents_with_markups(priced), strict=True)
    for place, cents in both:
        code = scope.items[place].code
        sums[code] = sums.get(code, 0) + cents
    return sums


def _days(item: Item) -> int:
    """Return how long a time along other work is in the estimate [day]."""
    return int(next(one.value for one in item.inputs.values() if one.is_along))
