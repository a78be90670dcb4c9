"""The contingency that a chosen confidence needs, once, and its allocation to phases.

Contingency stands in for what the estimate cannot know. A percentage does the same by habit; both
together count it twice, and are refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from estimator.assemblies.markups import Markup
from estimator.errors import RangeFaulty, fault, quoted
from estimator.money import apportion, dollars, money_text
from estimator.quantity.rounding import percent_text
from estimator.ranges.totals import SimulatedTotals, check_share

_WORD = "contingency"


@dataclass(frozen=True)
class Contingency:
    """What is added to an estimate so that it suffices with a chosen confidence.

    Parameters
    ----------
    confidence : float
        Above 0 and below 1.
    estimate_cents, percentile_cents : int [cent]
        Without contingency; and the total that suffices with that confidence.
    by_phase : mapping of str to int [cent]
        What each phase gets of the contingency; adds up to it.
    alone_by_phase : mapping of str to int [cent]
        What each phase would need if it had to be as sure by itself; adds up to another sum.
    """

    confidence: float
    estimate_cents: int
    percentile_cents: int
    by_phase: Mapping[str, int]
    alone_by_phase: Mapping[str, int]

    @property
    def amount_cents(self) -> int:
        """The contingency: percentile less estimate; zero or negative if the estimate suffices."""
        return self.percentile_cents - self.estimate_cents

    @property
    def statement(self) -> str:
        """What it means, for the report."""
        amount, sure = self.amount_cents, f"{self.confidence * 100:g} %"
        shown = money_text(dollars(abs(amount)))
        if amount > 0:
            text = f"To be {sure} sure, add {shown} to the estimate"
            if self.estimate_cents > 0:
                text += f", {percent_text(amount / self.estimate_cents, 1)} of it"
            alone = sum(self.alone_by_phase.values())
            if len(self.alone_by_phase) > 1 and alone > amount:
                text += (
                    f". Set separately for each phase, it would take "
                    f"{money_text(dollars(alone))}: not everything goes wrong at once"
                )
            return text + "."
        if amount == 0:
            return f"The estimate is enough for {sure}: no contingency is needed."
        return (
            f"The estimate is enough for more than {sure}: no contingency is needed, and {shown} "
            "could be spared."
        )


def contingency(
    totals: SimulatedTotals, confidence: float, *, already: Sequence[str] = ()
) -> Contingency:
    """Return the contingency that a confidence needs, and what each phase gets of it.

    Parameters
    ----------
    totals : SimulatedTotals
        Of an estimate without any contingency.
    confidence : float
        Above 0 and below 1, such as 0.8.
    already : sequence of str
        Names of contingencies that the estimate carries as a markup, from `contingency_markups`.

    Raises
    ------
    RangeFaulty
        If the confidence is not above 0 and below 1, or the estimate carries a contingency.

    Notes
    -----
    Amount = percentile - estimate. Phases share it in proportion to what each would need by itself
    for the same confidence (nothing where it would need none), by largest remainder, so that the
    parts add up to the cent. Where no phase by itself needs any, they share it by spread.

    Examples
    --------
    >>> from estimator.ranges.distributions import Triangular
    >>> from estimator.ranges.job_ranges import JobRanges
    >>> from estimator.ranges.line_ranges import CostRange
    >>> from estimator.ranges.simulation import simulated_totals
    >>> lines = [CostRange("stone", Triangular(8e5, 9e5, 14e5), phase="20"),
    ...          CostRange("roof", Triangular(2e6, 2e6, 2e6), phase="30")]
    >>> needed = contingency(simulated_totals(JobRanges(lines)), 0.8)
    >>> needed.by_phase == {"20": needed.amount_cents, "30": 0}
    True
    """
    check_share(confidence)
    if already:
        raise fault(
            RangeFaulty,
            f"the estimate already carries {', '.join(quoted(name) for name in already)}",
            "contingency is added once: price without that markup, or leave the ranges out",
            "contingency",
        )
    percentile_cents = totals.percentile_cents(confidence)
    of_phases = totals.phase_percentile_cents(confidence)
    alone = {
        name: of_phases[name] - estimate
        for name, estimate in zip(totals.phases, totals.phase_estimates, strict=True)
    }
    amount = percentile_cents - totals.estimate_cents
    parts = apportion(amount, _weights(amount, alone, totals)) if amount else [0] * len(alone)
    by_phase = dict(zip(totals.phases, parts, strict=True))
    return Contingency(confidence, totals.estimate_cents, percentile_cents, by_phase, alone)


def contingency_markups(markups: Iterable[Markup]) -> tuple[str, ...]:
    """Return the names of markups that are a contingency by their code or name."""
    return tuple(
        markup.name for markup in markups if _WORD in f"{markup.code} {markup.name}".lower()
    )


def _weights(amount: int, alone: Mapping[str, int], totals: SimulatedTotals) -> list[int]:
    """Return what phases share an amount by: their own need of the same sign, else their spread."""
    own = [max(0, need if amount > 0 else -need) for need in alone.values()]
    if any(own):
        return own
    return [int(np.ceil(width)) for width in totals.phase_totals.std(axis=1)]
