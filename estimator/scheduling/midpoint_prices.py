"""Prices moved from their day to the middle of the phase that pays them, where a scope says so."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from estimator.errors import RateMissing
from estimator.money import dollars, exact_arithmetic, money_text
from estimator.pricing.estimate import Estimate
from estimator.pricing.moved_rates import PriceMove, moved_rate
from estimator.pricing.priced_lines import PricedLines, with_rates
from estimator.quantity.rounding import percent_text
from estimator.quantity.units import unit
from estimator.rates.adjustment.adjusted_rates import Adjustment, time_step
from estimator.rates.adjustment.escalation import midpoint, months_between
from estimator.rates.kinds import SALVAGE
from estimator.rates.public.public_indexes import public_indexes
from estimator.rates.resources import ResourceRate
from estimator.scheduling.job_dates import JobSchedule
from estimator.scope.escalation import Escalation
from estimator.scope.stated_price import ALLOWANCE, LUMP_SUM


@exact_arithmetic
def lines_at_midpoints(
    estimate: Estimate, schedule: JobSchedule, escalation: Escalation
) -> PricedLines:
    """Return the lines of an estimate, each price moved to the middle of its phase.

    Parameters
    ----------
    estimate : Estimate
        At the prices of its day.
    schedule : JobSchedule
        Of it.
    escalation : Escalation
        The yearly change, and whether public indexes go before it.

    Notes
    -----
    A price moves from its own date, a quote from its last day: until then it holds. Nothing moves
    backward. Rates per dollar, lump sums, allowances, sales and what is not paid stay.
    """
    lines = estimate.priced.lines
    middles = {one.code: midpoint(one.start, one.finish) for one in schedule.phases}
    phases = [phase.code for phase in estimate.scope.phases for _ in phase.items]
    moved: dict[tuple[int, str], ResourceRate | None] = {}
    rates: dict[int, ResourceRate] = {}
    for position, (place, kind) in enumerate(
        zip(lines.item.tolist(), lines.kind_of_line.tolist(), strict=True)
    ):
        key = kind, phases[place]
        if key not in moved:
            rate = lines.rates[kind]
            moved[key] = _moved(rate, phases[place], middles[phases[place]], escalation)
        rate_after = moved[key]
        if rate_after is not None:
            rates[position] = rate_after
    return with_rates(lines, rates)


def move_notes(before: Estimate, after: PricedLines, escalation: Escalation) -> Iterator[str]:
    """Yield what moving the prices adds, and which quotes run out before they are needed.

    Parameters
    ----------
    before : Estimate
        At the prices of its day.
    after : PricedLines
        Its lines, moved.
    escalation : Escalation
        By what they were.
    """
    is_paid = [rate.is_paid for rate in after.rates]
    paid = [is_paid[kind] for kind in after.kind_of_line.tolist()]
    cents = int((after.cents - before.priced.lines.cents)[paid].sum())
    indexes = "public indexes, else by " if escalation.by_index else ""
    yield (
        f"prices are moved to the middle of their phase by {indexes}"
        f"{percent_text(float(escalation.yearly))} a year: {money_text(dollars(cents))} more "
        "direct cost"
    )
    late = {
        f"{one.name}, until {one.valid_until}"
        for one in after.rates
        if one.needed_on is not None and one.valid_until is not None
    }
    if late:
        yield (
            "these quotes run out before the middle of their phase, and are moved from their last "
            f"day: {'; '.join(sorted(late))}"
        )


def _moved(
    rate: ResourceRate, phase: str, middle: date, escalation: Escalation
) -> ResourceRate | None:
    since = rate.valid_until or rate.set_on
    if not _moves(rate) or months_between(since, middle) <= 0:
        return None
    factor, reason = _step(rate, since, middle, escalation)
    return moved_rate(rate, PriceMove(factor, phase, middle, reason))


def _moves(rate: ResourceRate) -> bool:
    is_sum = rate.form in (LUMP_SUM, ALLOWANCE) or rate.unit.dimension == unit("$").dimension
    return rate.is_paid and rate.kind != SALVAGE and not is_sum and rate.rate > 0


def _step(
    rate: ResourceRate, since: date, middle: date, escalation: Escalation
) -> tuple[Decimal, str]:
    """Return the factor from one day to another and its reason; no figure, no index."""
    indexes = public_indexes() if escalation.by_index else {}
    for known in (indexes, {}):
        adjustment = Adjustment(middle, known, escalation.yearly)
        try:
            step = time_step(rate, since, adjustment)
        except RateMissing:
            continue
        assert step is not None
        return step.factor, step.reason
    raise AssertionError
