"""Opening and pricing a scope file on the day that the command names, the scope's own or today."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from estimator import opening

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate


def open_scope(path: Path, rates: Path | None, on: datetime | None) -> opening.Opened:
    """Return a scope with its tables and the pricing date."""
    return opening.open_scope(path, rates, on.date() if on else None, today=date.today())


def priced(path: Path, rates: Path | None, on: datetime | None) -> Estimate:
    """Return the estimate of a scope file."""
    from api.commands.progress import shown_if_long
    from estimator.scheduling.dated_estimate import price

    with shown_if_long("Pricing"):
        return price(*open_scope(path, rates, on))
