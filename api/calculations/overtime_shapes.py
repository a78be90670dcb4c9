"""Shapes of a workweek's pay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from api.contract.commands import several
from api.contract.fields import Figure, Money, Quantity, RatePerUnit
from api.contract.schemas import Answer

MOST_RATES = 50


@dataclass(frozen=True, kw_only=True)
class Worked:
    """Hours at one rate."""

    hours: Annotated[Decimal, Quantity(most="168")]
    rate_per_hr: Annotated[Decimal, RatePerUnit()]


@dataclass(frozen=True, kw_only=True)
class Workweek:
    """A workweek of one employee."""

    worked: Annotated[Sequence[Worked], several(Worked, 1, MOST_RATES)]
    bonus: Annotated[Decimal, Money()] = Decimal(0)
    cash_fringe_per_hr: Annotated[Decimal, RatePerUnit()] = Decimal(0)


class OvertimeAnswer(Answer):
    """What the week pays."""

    hours = Figure(required=True)
    overtime_hours = Figure(required=True)
    regular_rate = Figure(required=True)
    straight_pay = Figure(required=True)
    overtime_premium = Figure(required=True)
    cash_fringe = Figure(required=True)
    total = Figure(required=True)
