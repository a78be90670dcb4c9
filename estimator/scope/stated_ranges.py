"""What a scope states of how sure it is: ranges, events, what moves together."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from estimator.ranges.correlation import DEFAULT_CORRELATION, ByGroups
from estimator.ranges.distributions import Distribution
from estimator.ranges.events import Event
from estimator.ranges.item_correlation import ByItems


@dataclass(frozen=True)
class Spread:
    """By what factors quantity and pace of an item may come out; None where nothing is stated.

    Parameters
    ----------
    quantity : Distribution or None
        Factor on the quantity; 1 is as measured.
    pace : Distribution or None
        Factor on the production rate; 1 is as planned.
    """

    quantity: Distribution | None = None
    pace: Distribution | None = None

    def within(self, usual: Spread) -> Spread:
        """Return this, with the usual spread where nothing is stated."""
        return Spread(self.quantity or usual.quantity, self.pace or usual.pace)


NOTHING_STATED = Spread()


@dataclass(frozen=True)
class JobRiskStated:
    """What a scope states for the whole job.

    Parameters
    ----------
    usual : Spread
        Of every item that states none of its own.
    correlation : ByGroups or ByItems
        How lines move together.
    events : tuple of Event
        What may turn up.
    start : date or None
        The first day of work; None for the pricing date.
    known : float or None
        Share of the job that is known, for the class of the estimate; None to count it.
    """

    usual: Spread = NOTHING_STATED
    correlation: ByGroups | ByItems = field(default=DEFAULT_CORRELATION)
    events: tuple[Event, ...] = ()
    start: date | None = None
    known: float | None = None
