"""How sure an estimate is: its total, contingency, drivers, class and dates, from one seed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from estimator.errors import how_many
from estimator.money import dollars, exact_arithmetic, money_text
from estimator.pricing.estimate import Estimate
from estimator.pricing.rests_on import EXPIRED, QUOTES, ground_of, known_cents
from estimator.production.working_calendar import WorkingCalendar
from estimator.quantity.rounding import percent_text
from estimator.ranges.class_bands import (
    EstimateClass,
    beside_class,
    estimate_class,
    known_fraction,
)
from estimator.ranges.contingency_needed import Contingency, contingency, contingency_markups
from estimator.ranges.cost_drivers import Driver, drivers
from estimator.ranges.latin_hypercube import DEFAULT_ITERATIONS, DEFAULT_SEED
from estimator.ranges.phase_dates import SimulatedDates
from estimator.ranges.simulation import Progress, simulated_totals
from estimator.ranges.totals import SimulatedTotals, with_added
from estimator.rates.kinds import SALES_WORDS, SALVAGE
from estimator.scheduling.dated_estimate import DATED_EFFORT, dated_crew
from estimator.scheduling.job_dates import job_schedule
from estimator.studies.risk.along_costs import along_costs
from estimator.studies.risk.estimate_ranges import job_ranges
from estimator.studies.risk.job_dates_drawn import drawn_job

DEFAULT_CONFIDENCE = 0.8


@exact_arithmetic
@dataclass(frozen=True)
class JobRisk:
    """How sure an estimate is.

    Parameters
    ----------
    estimate : Estimate
        That the ranges belong to.
    confidence : float
        That the contingency is for.
    totals : SimulatedTotals
        Cash cost without contingency.
    needed : Contingency
        What the confidence needs.
    drivers : tuple of Driver
        The largest share of the variance first.
    dates : SimulatedDates
        Of the phases.
    calendar : WorkingCalendar
        Which days are worked.
    start : date
        The first day of work.
    known : float
        Share of the job that stands on a price of its own, 0 to 1.
    of_class : EstimateClass
        By how much of the cost is known.
    statements : tuple of str
        What was assumed, for the report.
    budget_cents : int or None [cent]
        A budget of one's own.
    """

    estimate: Estimate
    confidence: float
    totals: SimulatedTotals
    needed: Contingency
    drivers: tuple[Driver, ...]
    dates: SimulatedDates
    calendar: WorkingCalendar
    start: date
    known: float
    of_class: EstimateClass
    statements: tuple[str, ...]
    budget_cents: int | None = None

    @property
    def within_budget(self) -> float | None:
        """Chance of staying within the budget, 0 to 1; None where none is stated."""
        if self.budget_cents is None:
            return None
        return self.totals.probability_within(self.budget_cents)

    def finish(self, share: float) -> date:
        """Return the last day of work that suffices with a confidence."""
        return self.dates.percentile_date(share, self.calendar, self.start)


@exact_arithmetic
def job_risk(
    estimate: Estimate,
    confidence: float = DEFAULT_CONFIDENCE,
    seed: int = DEFAULT_SEED,
    iterations: int = DEFAULT_ITERATIONS,
    *,
    calendar: WorkingCalendar | None = None,
    progress: Progress | None = None,
    budget_cents: int | None = None,
) -> JobRisk:
    """Return how sure an estimate is.

    Parameters
    ----------
    estimate : Estimate
        Its scope states ranges, events and the order of phases; its rate tables, ranges of rates.
    confidence : float
        Above 0 and below 1.
    seed, iterations : int
        The same seed gives the same bytes.
    calendar : WorkingCalendar or None
        None for that of the scope, else weekdays without the federal holidays.
    progress : callable or None
        Called with the share that is done, up to 1.
    budget_cents : int or None [cent]
        A budget, for the chance of staying within it.

    Raises
    ------
    RangeFaulty
        If the confidence, the seed or the iterations are absurd.
    PhaseOrderFaulty
        If phases wait for each other.
    """
    working = calendar or estimate.scope.working_calendar
    risk = estimate.scope.risk
    start = estimate.scope.first_day or estimate.on
    job = job_ranges(estimate, seed, iterations)
    schedule = job_schedule(estimate, working, start, dated_crew(estimate.scope), DATED_EFFORT)
    drawn = drawn_job(estimate, schedule, seed, iterations, risk.correlation)
    lines = simulated_totals(job, progress=_part(progress, 0.0))
    totals = with_added(lines, list(along_costs(estimate, drawn.spans)))
    needed = contingency(totals, confidence)
    ranked = drivers(totals, progress=_part(progress, 0.5))
    known = (
        known_fraction(*known_cents(estimate.priced.lines, estimate.on))
        if risk.known is None
        else risk.known
    )
    return JobRisk(
        estimate=estimate,
        confidence=confidence,
        totals=totals,
        needed=needed,
        drivers=ranked,
        dates=drawn.dates,
        calendar=working,
        start=start,
        known=known,
        of_class=estimate_class(known),
        statements=_statements(estimate, totals, known, budget_cents),
        budget_cents=budget_cents,
    )


def _part(progress: Progress | None, from_share: float) -> Progress | None:
    """Return a callable that tells one half of the work as a half."""
    if progress is None:
        return None
    return lambda share: progress(from_share + share / 2.0)


def _certain_prices(estimate: Estimate) -> Iterator[str]:
    """Yield what is priced without a range though nobody is bound to it by a quote."""
    lines = estimate.priced.lines
    certain = expired = 0
    for place, cents in zip(lines.kind_of_line.tolist(), lines.cents.tolist(), strict=True):
        rate = lines.rates[place]
        ground = ground_of(rate, estimate.on)
        is_cost = rate.is_paid and rate.kind != SALVAGE
        if is_cost and rate.low is None and rate.high is None and ground != QUOTES:
            certain += cents
            expired += cents if ground == EXPIRED else 0
    if certain:
        of_expired = f", {money_text(dollars(expired))} of it by quotes that have expired"
        yield (
            f"{money_text(dollars(certain))} is priced without a range and not by a valid quote"
            f"{of_expired if expired else ''}: those prices count as certain, and the total looks "
            "surer than it is."
        )


def _left_out(estimate: Estimate, totals: SimulatedTotals, names: tuple[str, ...]) -> str:
    amount = sum(one.amount_cents for one in estimate.markups if one.markup.name in names)
    enough = totals.probability_within(totals.estimate_cents + amount)
    return (
        f"{' and '.join(names)} of {money_text(dollars(amount))} in the estimate is left out here, "
        f"because contingency is counted once; "
        f"the chance that it is enough is {percent_text(enough)}."
    )


def _statements(
    estimate: Estimate, totals: SimulatedTotals, known: float, budget_cents: int | None
) -> tuple[str, ...]:
    texts = list(totals.statements)
    if budget_cents is not None:
        chance = percent_text(totals.probability_within(budget_cents))
        texts.append(
            f"The chance of staying within a budget of {money_text(dollars(budget_cents))} is "
            f"{chance}."
        )
    left_out = contingency_markups(one.markup for one in estimate.markups)
    if left_out:
        texts.append(_left_out(estimate, totals, left_out))
    if estimate.salvage_sales:
        texts.append(
            f"{SALES_WORDS}: {money_text(estimate.salvage_sales)}; it is in no total here."
        )
    usual = estimate.scope.risk.usual
    for what, stated in (
        ("quantity", [i.spread.within(usual).quantity for i in estimate.scope.items]),
        ("pace", [i.spread.within(usual).pace for i in estimate.scope.items]),
    ):
        missing = sum(one is None for one in stated)
        if missing:
            texts.append(
                f"{missing} of {how_many(len(stated), 'item')} without a range for {what}: counted "
                "as certain there, so that the total looks surer than it is."
            )
    if along := [one.code for one in estimate.scope.items if one.lasts_along]:
        texts.append(f"Times of {', '.join(along)} are as long as the dates say.")
    if late := [one for one in estimate.scope.risk.events if one.takes_time]:
        names = "; ".join(f"{one.name} (phase {one.phase})" for one in late)
        texts.append(f"May hold up work, each with its chance: {names}. No likely date has it.")
    texts += _certain_prices(estimate)
    of_class = estimate_class(known)
    is_counted = estimate.scope.risk.known is None
    words = "of the cost rests on valid quotes" if is_counted else "is known, as the scope states"
    texts.append(
        f"{percent_text(known)} {words}: class {of_class.number}, {of_class.meaning}. "
        f"{beside_class(totals, of_class)}"
    )
    return tuple(texts)
