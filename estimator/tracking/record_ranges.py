"""The ranges that a thin record is drawn toward: of the scope, and of the sources of the tables."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.assemblies.assembly import AssemblyInput
from estimator.assemblies.source_ranges import stated_range
from estimator.assemblies.tables import Tables
from estimator.scope.scope import Item, Scope
from estimator.scope.stated_ranges import Spread
from estimator.tracking.job_record import PACE, Ranges
from estimator.tracking.job_use import CONSUMABLE, LIFE, WASTE
from estimator.tracking.learned_inputs import pace_input
from estimator.tracking.learned_use import input_now, input_of_use
from estimator.tracking.rest_lines import ranges_stated


def learned_ranges(scope: Scope, tables: Tables) -> Ranges:
    """Return the range of each pace, waste and life.

    Parameters
    ----------
    scope, tables : Scope, Tables
        Of the accepted estimate.

    Notes
    -----
    A pace has the range that its scope states; else, as a waste and a life have, the range in the
    source of its input (`common practice, no source: 30 to 80`), where the input lies in that. The
    figure of the estimate is in proportion to the input: a blade of 30 to 80 ft, where the
    estimate has 45, lasts 0.667 to 1.778 times what the estimate has; of hours the factors are
    turned over.
    """
    spreads = ranges_stated(scope).spreads
    ranges = {}
    for item in scope.items:
        for what, unit in _bought(item, tables):
            own = input_of_use(what, unit, item.method.assembly, tables)
            factors = None if own is None else _factors(own, item)
            if factors is not None:
                ranges[what, item.code, unit] = factors
        low, high = _pace(item, spreads[item.code])
        if low > 0:
            ranges[PACE, item.code, f"hr/{item.method.assembly.unit.name}"] = (1 / high, 1 / low)
    return ranges


def _pace(item: Item, spread: Spread) -> tuple[float, float]:
    """Return low and high of the pace as factors; zeros where neither scope nor table states it."""
    if spread.pace is not None:
        return spread.pace.low, spread.pace.high
    own = pace_input(item)
    return (own is not None and _factors(own, item)) or (0.0, 0.0)


def _bought(item: Item, tables: Tables) -> Iterator[tuple[str, str]]:
    """Yield waste or life, and its unit, of each thing that an item buys."""
    assembly = item.method.assembly
    for line in assembly.lines:
        bought_by = tables.rates.unit_of(line.resource).name
        if tables.rates.kind_of(line.resource) == CONSUMABLE:
            yield LIFE, f"{assembly.unit.name}/{bought_by}"
        else:
            yield WASTE, f"{bought_by}/{bought_by}"


def _factors(own: AssemblyInput, item: Item) -> tuple[float, float] | None:
    """Return low and high of an input over what it is now; None where it is not between them."""
    ends, now = stated_range(own.source), input_now(own, item) / float(own.unit.factor)
    if ends is None or not 0 < float(ends[0]) <= now <= float(ends[1]):
        return None
    return float(ends[0]) / now, float(ends[1]) / now
