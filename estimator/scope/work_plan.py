"""What a phase or an item waits for, what it runs beside, and how long it takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.ranges.distributions import Distribution


@dataclass(frozen=True)
class Wait:
    """A time between two pieces of work: curing, drying, a notice.

    Parameters
    ----------
    days : float
        [day] How long.
    by_calendar : bool
        Whether nights, Sundays and holidays count, as concrete cures; else working days.
    """

    days: float
    by_calendar: bool = True


NO_WAIT = Wait(0.0)


@dataclass(frozen=True)
class Waiting:
    """One thing that is waited for.

    Parameters
    ----------
    code : str
        Of the phase or the item.
    from_start : bool
        Whether its start counts; else its finish.
    wait : Wait
        How long after.
    """

    code: str
    from_start: bool
    wait: Wait


@dataclass(frozen=True)
class WorkPlan:
    """When a phase or an item may be done.

    Parameters
    ----------
    after : tuple of str or None
        Codes of what must be finished; empty for nothing, None for what stands before it, unless it
        starts with something or runs along.
    days : Distribution or None
        [working day] None for the days of the work, one item of a phase after the other.
    waits : tuple of Wait
        One for all that is waited for, or one for each: those of `after`, then `starts_with`.
    starts_with : tuple of str
        Codes of what must have begun.
    along : tuple of str
        Codes of what it runs beside: from the first start of these to their last finish.
    """

    after: tuple[str, ...] | None = None
    days: Distribution | None = None
    waits: tuple[Wait, ...] = ()
    starts_with: tuple[str, ...] = ()
    along: tuple[str, ...] = ()

    @property
    def has_order(self) -> bool:
        """Whether it says what it waits for or runs beside."""
        return self.after is not None or bool(self.waits or self.starts_with or self.along)

    def waits_for(self, before: tuple[str, ...] = ()) -> Iterator[Waiting]:
        """Yield what is waited for, where `before` stands before it in the scope."""
        if self.along:
            return
        usual = () if self.starts_with else before
        after = usual if self.after is None else self.after
        codes = [(code, False) for code in after] + [(code, True) for code in self.starts_with]
        for number, (code, from_start) in enumerate(codes):
            wait = self.waits[number if len(self.waits) > 1 else 0] if self.waits else NO_WAIT
            yield Waiting(code, from_start, wait)


NO_PLAN = WorkPlan()
