"""What the bodies of single calculations ask for, as typed commands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from api.contract.commands import LEFT_OUT, LeftOut

_Number = Decimal | LeftOut


@dataclass(frozen=True, kw_only=True)
class Worked:
    """Hours at one rate."""

    hours: Decimal
    rate_per_hr: Decimal


@dataclass(frozen=True, kw_only=True)
class Workweek:
    """A workweek of one employee."""

    worked: Sequence[Worked]
    bonus: Decimal
    cash_fringe_per_hr: Decimal


@dataclass(frozen=True, kw_only=True)
class MachinePrices:
    """Prices of a machine; one tier at least."""

    day: _Number = LEFT_OUT
    week: _Number = LEFT_OUT
    month: _Number = LEFT_OUT
    over_hour: _Number = LEFT_OUT
    minimum_days: int | LeftOut = LEFT_OUT
    days_in_week: int | LeftOut = LEFT_OUT
    days_in_month: int | LeftOut = LEFT_OUT
    hours_in_day: _Number = LEFT_OUT
    hours_in_week: _Number = LEFT_OUT
    hours_in_month: _Number = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class YardTerms:
    """What the yard charges beside the rent."""

    delivery: _Number = LEFT_OUT
    pick_up: _Number = LEFT_OUT
    damage_waiver_fraction: _Number = LEFT_OUT
    environmental_fee_fraction: _Number = LEFT_OUT
    environmental_fee_most: _Number = LEFT_OUT
    fuel_per_hr: _Number = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class Rental:
    """A span, and what the machine costs."""

    days: int
    meter_hours: Decimal
    rates: MachinePrices
    terms: YardTerms
