"""Opening and pricing a scope file on the day that the command names, the scope's own or today."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from estimator import opening

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.scope.other_times import OtherTimes


def open_scope(
    path: Path, rates: Path | None, on: datetime | None, times: OtherTimes | None = None
) -> opening.OpenedScope:
    """Return a scope with its tables and the pricing date."""
    day = on.date() if on else None
    return opening.open_scope(path, rates, day, today=date.today(), times=times)


def other_times(start: datetime | None, week: str | None, crew: Mapping[str, int]) -> OtherTimes:
    """Return the times of `--start`, `--week` and `--crew`, which go before those of the scope."""
    from estimator.scope.located import Text
    from estimator.scope.other_times import OtherTimes

    return OtherTimes(
        Text(start.date().isoformat(), "--start") if start else None,
        Text(week, "--week") if week else None,
        {resource: Text(str(number), "--crew") for resource, number in crew.items()},
    )


def priced(
    path: Path, rates: Path | None, on: datetime | None, times: OtherTimes | None = None
) -> Estimate:
    """Return the estimate of a scope file."""
    from api.commands.progress import shown_if_long
    from estimator.scheduling.dated_estimate import price

    with shown_if_long("Pricing"):
        return price(*open_scope(path, rates, on, times))
