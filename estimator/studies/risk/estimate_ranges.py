"""From an estimate to the ranges of its job, line by line with markups.

The cash cost without any contingency is what is simulated: what is paid, with all other markups.
Markups follow the lines they are taken on; whole loads are not raised again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from estimator.assemblies.assembly import CREW_HOURS, Assembly, AssemblyLine
from estimator.assemblies.markups import Markup, MarkupAmount, markup_amounts
from estimator.pricing.estimate import Estimate
from estimator.ranges.contingency_needed import contingency_markups
from estimator.ranges.distributions import Distribution, Triangular
from estimator.ranges.item_correlation import ByItems
from estimator.ranges.item_range import ItemRange
from estimator.ranges.job_ranges import JobRanges, Line
from estimator.ranges.latin_hypercube import DEFAULT_ITERATIONS, DEFAULT_SEED
from estimator.ranges.line_ranges import CERTAIN, LineRange
from estimator.rates.rate_range import range_of
from estimator.rates.resources import ResourceRate
from estimator.scope.scope import Item
from estimator.scope.stated_ranges import Spread

CREW, BY_HOURS = "crew", "by the hour"
MARKUP_KIND = "markup"


def job_ranges(
    estimate: Estimate, seed: int = DEFAULT_SEED, iterations: int = DEFAULT_ITERATIONS
) -> JobRanges:
    """Return the ranges of an estimate's job, with the events that its scope states.

    Parameters
    ----------
    estimate : Estimate
        With the ranges its scope states.
    seed, iterations : int
        As of `JobRanges`.

    Raises
    ------
    RangeFaulty
        If there is nothing to simulate, or seed or iterations are absurd.
    TablesFaulty
        If a rate lies outside of its own range.

    Notes
    -----
    A rate varies between the low and high of its row. The crew of an item is one line, with hired
    trucks and whatever else its formula takes by the hours of the crew: they are there for the same
    hours, and their rates vary together. Where an item's quantity has a
    range, all its lines stand on one drawn quantity; the item then moves with others as its
    largest kind does. So does an item that a matrix names.
    """
    risk = estimate.scope.risk
    lines = (*_lines(estimate), *_fixed_markups(estimate))
    return JobRanges(lines, risk.events, risk.correlation, seed, iterations)


def markups_without_contingency(estimate: Estimate) -> tuple[MarkupAmount, ...]:
    """Return what the markups of an estimate come to if none is a contingency."""
    return markup_amounts(estimate.priced.lines.paid_by_kind, _without_contingency(estimate))


def _without_contingency(estimate: Estimate) -> list[Markup]:
    markups = [one.markup for one in estimate.markups]
    left_out = set(contingency_markups(markups))
    return [one for one in markups if one.name not in left_out]


def _fixed_markups(estimate: Estimate) -> Iterator[LineRange]:
    for one in markups_without_contingency(estimate):
        if one.markup.percent is None and one.amount_cents:
            yield LineRange(one.markup.name, one.amount_cents, kind=MARKUP_KIND)


def _shares_of_markups(estimate: Estimate) -> dict[str, float]:
    """Return what a dollar of each kind bears of percentage markups."""
    percentages = [one for one in _without_contingency(estimate) if one.percent is not None]
    trial_cents = 10**8
    return {
        kind: sum(one.amount_cents for one in markup_amounts({kind: trial_cents}, percentages))
        / trial_cents
        for kind in estimate.priced.lines.paid_by_kind
    }


def cents_with_markups(estimate: Estimate) -> list[int]:
    """Return the cents of each line of an estimate with its share of percentage markups.

    Each share is rounded; what is then missing to the printed markups, some cents, goes to the
    largest line.
    """
    lines, shares = estimate.priced.lines, _shares_of_markups(estimate)
    share_of_rate = np.array([shares[r.kind] if r.is_paid else 0.0 for r in lines.rates])
    paid = np.array([rate.is_paid for rate in lines.rates])[lines.kind_of_line]
    cents = np.where(paid, lines.cents, 0)
    with_share = cents + np.rint(cents * share_of_rate[lines.kind_of_line]).astype(np.int64)
    whole = int(cents.sum()) + sum(
        one.amount_cents
        for one in markups_without_contingency(estimate)
        if one.markup.percent is not None
    )
    if with_share.size:
        with_share[np.argmax(with_share)] += whole - int(with_share.sum())
    return [int(one) for one in with_share]


def _lines(estimate: Estimate) -> Iterator[Line]:
    lines = estimate.priced.lines
    cents = cents_with_markups(estimate)
    by_item: dict[int, list[int]] = {}
    for place, item in enumerate(lines.item.tolist()):
        if lines.rates[lines.kind_of_line[place]].is_paid:
            by_item.setdefault(item, []).append(place)
    phase_of = [phase.code for phase in estimate.scope.phases for _ in phase.items]
    usual, correlation = estimate.scope.risk.usual, estimate.scope.risk.correlation
    named = correlation.items if isinstance(correlation, ByItems) else ()
    for number, places in by_item.items():
        item = estimate.scope.items[number]
        spread, phase = spread_of(item, usual), phase_of[number]
        parts = list(_parts(estimate, item, places, cents, spread.pace or CERTAIN))
        if spread.quantity is None and item.code not in named:
            yield from (replace(part, phase=phase, item=item.code) for part in parts)
        elif parts:
            name, quantity = f"{item.code} {item.name}", spread.quantity or CERTAIN
            largest = max(parts, key=lambda part: abs(part.estimate_cents))
            yield ItemRange(name, quantity, tuple(parts), largest.kind, phase, item.code)


def spread_of(item: Item, usual: Spread) -> Spread:
    """Return by what factors an item may come out; the dates say it of what runs along others.

    Parameters
    ----------
    item : Item
        Its own spread goes before the usual one.
    usual : Spread
        Of the job.
    """
    spread = item.spread.within(usual)
    if item.lasts_along and not item.until:
        return Spread(item.spread.quantity, spread.pace)
    return spread


def _parts(
    estimate: Estimate, item: Item, places: Sequence[int], cents: Sequence[int], pace: Distribution
) -> Iterator[LineRange]:
    """Return the lines of an item; its crew, and all that works by its hours, as one."""
    lines = estimate.priced.lines
    crew = [n for n in places if _goes_by_hours(*lines.assembly_lines[lines.kind_of_line[n]])]
    if crew:
        whole = sum(cents[n] for n in crew)
        rates = {n: lines.rates[lines.kind_of_line[n]] for n in crew}
        is_paid = any(lines.assembly_lines[lines.kind_of_line[n]][1].is_crew for n in crew)
        name = f"{item.code} {CREW if is_paid else BY_HOURS}"
        rate = _crew_rate(rates, cents, whole)
        yield LineRange(name, whole, rate=rate, production=pace, kind="labor")
    for n in places:
        rate = lines.rates[lines.kind_of_line[n]]
        if n not in crew:
            yield LineRange(
                f"{item.code} {rate.name}", cents[n], rate=_rate_factor(rate), kind=rate.kind
            )


def _goes_by_hours(assembly: Assembly, line: AssemblyLine) -> bool:
    """Whether a line grows with the hours of the crew: its members, hired trucks, fuel."""
    if line.is_crew or line.hired is not None:
        return True
    by_hours = {CREW_HOURS}
    for name, formula in assembly.steps:
        if by_hours & set(formula.names):
            by_hours.add(name)
    return bool(by_hours & set(line.formula.names))


def _rate_factor(rate: ResourceRate) -> Distribution:
    """Return the range of a rate as a factor on it."""
    rate_range = range_of(rate)
    if rate_range.likely == 0 or rate_range.low == rate_range.high:
        return CERTAIN
    low, high = (
        float(rate_range.low / rate_range.likely),
        float(rate_range.high / rate_range.likely),
    )
    return Triangular(low, 1.0, high)


def _crew_rate(rates: Mapping[int, ResourceRate], cents: Sequence[int], whole: int) -> Distribution:
    """Return the range of a crew's rate: that of its members, by their share of the cost."""
    if whole <= 0:
        return CERTAIN
    factors = [(cents[n] / whole, _rate_factor(rate)) for n, rate in rates.items()]
    low = sum(share * factor.low for share, factor in factors)
    high = sum(share * factor.high for share, factor in factors)
    return Triangular(low, 1.0, high) if low < high else CERTAIN
