"""Prices moved to the middle of the phase that pays them, and what a line was before that."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimator.money import RATE_DECIMALS, exact_arithmetic, fixed_point, from_fixed_point
from estimator.pricing.cost_line import CostLine
from estimator.pricing.priced_lines import extended_cents
from estimator.pricing.quantity_steps import trimmed
from estimator.rates.adjustment.escalation import adjusted_rate
from estimator.rates.resources import ResourceRate

_MOVED = re.compile(
    r"(.*); \$([\d.,]+) (?:of|valid until) \S+ x (\d+\.\d{6}) (to the middle of phase .*)",
    re.ASCII,
)


@dataclass(frozen=True)
class PriceMove:
    """By what a price is multiplied to stand for the middle of a phase.

    Parameters
    ----------
    factor : Decimal
        With six decimals.
    phase : str
        Code of the phase that pays.
    middle : date
        The day in the middle of it.
    reason : str
        Index or yearly change, and its months.
    """

    factor: Decimal
    phase: str
    middle: date
    reason: str


def moved_rate(rate: ResourceRate, move: PriceMove) -> ResourceRate:
    """Return a rate as of the middle of a phase; its source says from what and by what.

    Parameters
    ----------
    rate : ResourceRate
        A quote counts as of its last day, any other price as of its date.
    move : PriceMove
        From that day on.
    """
    ends = (
        None if end is None else adjusted_rate(end, [move.factor]) for end in (rate.low, rate.high)
    )
    low, high = ends
    since = f"of {rate.set_on}" if rate.valid_until is None else f"valid until {rate.valid_until}"
    return replace(
        rate,
        rate=adjusted_rate(rate.rate, [move.factor]),
        low=low,
        high=high,
        set_on=move.middle,
        needed_on=move.middle,
        source=f"{rate.source}; ${trimmed(rate.rate, least=2)} {since} x {move.factor:f} to the "
        f"middle of phase {move.phase}, {move.middle} ({move.reason})",
    )


@dataclass(frozen=True)
class MovedLine:
    """What a moved line says of its move.

    Parameters
    ----------
    before : CostLine
        The line at the price before.
    factor : Decimal
        By which it is multiplied.
    words : str
        To which day, of which phase, by what.
    """

    before: CostLine
    factor: Decimal
    words: str

    @property
    def rate(self) -> Decimal:
        """The price after the move [$/unit]."""
        return adjusted_rate(from_fixed_point(self.before.rate, RATE_DECIMALS), [self.factor])

    @property
    def step(self) -> str:
        """The move in words, with its numbers."""
        before = trimmed(from_fixed_point(self.before.rate, RATE_DECIMALS), least=2)
        return f"moved {self.words}: ${before} x {self.factor:f} = ${trimmed(self.rate, least=2)}"

    def leads_to(self, line: CostLine) -> bool:
        """Whether the price before, times the factor, is that of a line, to the cent."""
        is_rate = fixed_point(self.rate, RATE_DECIMALS) == line.rate
        return is_rate and extended_cents([line]) == [line.cents]


@exact_arithmetic
def moved_line(line: CostLine) -> MovedLine | None:
    """Return a line before its price was moved; None if it was not."""
    match = _MOVED.fullmatch(line.source)
    if match is None:
        return None
    price = Decimal(match[2].replace(",", ""))
    before = line._replace(source=match[1], rate=fixed_point(price, RATE_DECIMALS))
    cents = extended_cents([before])[0]
    return MovedLine(before._replace(cents=cents), Decimal(match[3]), match[4])
