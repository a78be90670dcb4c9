"""Where a varied value changes the work of some methods only: said, not hidden in their costs."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from estimator.quantity.units import counted
from estimator.studies.comparison.comparison import SAME_WORK, Comparison
from estimator.studies.comparison.method_prices import AS_WRITTEN, method_prices
from estimator.studies.comparison.prepared_method import PreparedMethod
from estimator.studies.comparison.sentences import value_text
from estimator.studies.comparison.varied import Sort, Varied


def work_apart(comparison: Comparison, varied: Varied, low: float, high: float) -> Iterator[str]:
    """Yield at which end of a range methods no longer do the same work, by what each stands for.

    Parameters
    ----------
    comparison : Comparison
        The methods, which do the same work with everything as it is written.
    varied : Varied
        An input; nothing else changes how much work there is.
    low, high : float
        The range, in its unit.

    Notes
    -----
    A method is named if its work changes by more than the others', beyond what methods may differ
    by as they are written.
    """
    if varied.sort is not Sort.INPUT:
        return
    name = comparison.item.assembly.unit.name
    for end in (low, high):
        ratios = [
            _changed(one, varied, end) if place in varied.methods else 1.0
            for place, one in enumerate(comparison.prepared)
        ]
        if max(ratios) > min(ratios) * (1.0 + SAME_WORK):
            most, least = int(np.argmax(ratios)), int(np.argmin(ratios))
            does = " and ".join(
                f"{comparison.prepared[place].method.name} does the work of "
                f"{counted(f'{float(comparison.quantity) * ratios[place]:,.2f}', name)}"
                for place in (most, least)
            )
            yield (
                f"where {varied.subject} is {value_text(varied, end)}, {does}: compare their costs "
                "only if that is the same place filled or the same job done"
            )


def _changed(one: PreparedMethod, varied: Varied, value: float) -> float:
    """Return the work that a method does with another value over that as it is written."""
    changed = method_prices(one, varied.changes(np.asarray([value])))
    return float(changed.quantity[0] / method_prices(one, AS_WRITTEN).quantity[0])
