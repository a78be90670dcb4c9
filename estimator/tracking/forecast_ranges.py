"""How sure the forecast is: P50 and P80 of the cost at completion, by what is left.

What is incurred, and what is ordered at its price, counts as certain. What is left besides is drawn
like the estimate's own lines: by the spread of the job's own weeks where there are enough of them,
else by the ranges that the scope and the tables state.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from estimator.money import cents_money
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.quantity.rounding import percent_text
from estimator.ranges.events import Event
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.latin_hypercube import DEFAULT_ITERATIONS, DEFAULT_SEED
from estimator.ranges.simulation import simulated_totals
from estimator.ranges.totals import SimulatedTotals
from estimator.tracking.books_by_day import DailyBooks
from estimator.tracking.budget import CONTINGENCY
from estimator.tracking.job_track import Track
from estimator.tracking.rest_lines import (
    LEAST_WEEKS,
    NO_RANGE,
    ORDERED,
    OWN_WEEKS,
    STATED,
    RestLines,
    StatedRanges,
)


@dataclass(frozen=True)
class ForecastRange:
    """What the job may come to.

    Parameters
    ----------
    seed, iterations : int
        Of the simulation: the same give the same figures.
    p50_cents, p80_cents : int
        [0.01 $] Cost at completion that is not passed with a chance of 50 % and 80 %.
    by_phase : mapping of str to (int, int)
        [0.01 $] The same of each phase by itself; markups under an empty code. They do not add up.
    within_budget : float
        [fraction] Chance that the budget, with its contingency, is enough.
    statements : tuple of str
        What the figures rest on.
    """

    seed: int
    iterations: int
    p50_cents: int
    p80_cents: int
    by_phase: Mapping[str, tuple[int, int]]
    within_budget: float
    statements: tuple[str, ...]


def forecast_range(
    books: DailyBooks,
    report: Track,
    estimate: PrintedEstimate,
    stated: StatedRanges,
    seed: int = DEFAULT_SEED,
    iterations: int = DEFAULT_ITERATIONS,
) -> ForecastRange:
    """Return what the job may come to, from where it stands.

    Parameters
    ----------
    books : DailyBooks
        See `daily_books`, of the day of the report.
    report : Track
        What they say: see `track`.
    estimate : PrintedEstimate
        The accepted one; its rates have the ranges of the tables.
    stated : StatedRanges
        What its scope states: see `ranges_stated`.
    seed, iterations : int
        As of `JobRanges`.

    Raises
    ------
    RangeFaulty
        If seed or iterations are absurd.

    Notes
    -----
    Own weeks, x placed for y dollars, of n = 5 or more: R = sum y / sum x, and of the model in
    which a week's variance grows with what it places, s^2 = sum (y - R x)^2 / x / (n - 1). What is
    left, X, costs R X with a relative variance of s^2 (1 / X + 1 / sum x) / R^2, drawn as a
    triangle whose P80 is that of Student's t with n - 1 degrees of freedom. Where that would reach
    below nothing, or weeks are fewer, they say too little (a bill a month, say): then labor varies
    with the item's stated pace, and every kind with the low and high of its rates. The range of a
    quantity holds for the whole: what is in place is certain, so the rest varies the more the less
    is left. A quantity that was measured again, a percent and a markup count as certain. The
    contingency is left out, and so are the events of phases that have begun: the books do not say
    which of them have come.

    References
    ----------
    R. M. Royall, "On finite population sampling theory under certain linear regression models",
    Biometrika 57 (1970) (from memory): the variance of a predicted total.
    """
    rests = RestLines(books, report, estimate, stated)
    lines, begun = rests.lines(), rests.begun()
    events = tuple(one for one in stated.events if one.phase not in begun)
    job = JobRanges(lines, events, stated.correlation, seed, iterations)
    totals = simulated_totals(job)
    p50, p80 = (totals.phase_percentile_cents(share) for share in (0.5, 0.8))
    budget = report.status.whole().budget_cents
    within = totals.probability_within(budget)
    statements = (
        *_rest_on(report, rests.basis, totals),
        _enough(report, budget, within),
        *_about_events(stated.events, events),
    )
    return ForecastRange(
        seed, iterations, totals.percentile_cents(0.5), totals.percentile_cents(0.8),
        {phase: (p50[phase], p80[phase]) for phase in p50}, within, statements,
    )  # fmt: skip


def _rest_on(
    report: Track, basis: Mapping[str, int], totals: SimulatedTotals
) -> tuple[str, ...]:  # fmt: skip
    """Return what the figures rest on, dollar for dollar of the forecast."""
    incurred = report.status.whole().spent.incurred_cents
    parts = (
        (basis[OWN_WEEKS], f"is ranged by the job's own weeks ({LEAST_WEEKS} or more)"),
        (basis[STATED], "is ranged by what the scope and the tables state"),
        (basis[NO_RANGE], "has no range and counts as certain"),
    )
    rest = ", ".join(f"{cents_money(cents)} {words}" for cents, words in parts if cents)
    certain = f"{cents_money(incurred)} incurred is certain"
    if basis[ORDERED]:
        ordered = cents_money(basis[ORDERED])
        certain = f"{cents_money(incurred)} incurred and {ordered} on order are certain"
    return (
        f"{certain}; of what is left, {rest}." if rest else f"{certain}; nothing else is left.",
        totals.job.correlation.statement,
        f"{totals.iterations:,} iterations in Latin hypercubes, seed {totals.job.seed}.",
    )


def _enough(report: Track, budget_cents: int, within: float) -> str:
    undrawn = next(
        (one.budget_cents for one in report.status.codes if one.code == CONTINGENCY), 0
    )  # fmt: skip
    enough = f"is enough is {percent_text(within)}."
    if not undrawn:
        return f"The chance that the budget of {cents_money(budget_cents)} {enough}"
    forecast = sum(report.forecast_cents(one) for one in report.status.codes)
    return (
        f"Neither figure has the contingency of {cents_money(undrawn)} that is not drawn; the "
        f"forecast without it is {cents_money(forecast - undrawn)}. The chance that the budget of "
        f"{cents_money(budget_cents)}, with it, {enough}"
    )


def _about_events(stated: Sequence[Event], counted: Sequence[Event]) -> Iterator[str]:
    """Yield which events count; of phases that have begun nobody knows what has come."""
    if counted:
        names = "; ".join(one.name for one in counted)
        yield f"Counted with its chance, in phases that have not begun: {names}."
    if others := [one.name for one in stated if one not in counted]:
        yield f"Left out, as its phase has begun: {'; '.join(others)}."
