"""What is said of the cash, and what comes back: the balance of the loan, and the course."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated

import marshmallow as ma

from api.contract.fields import Choice, Day, Money, WholeInQuery
from api.contract.schemas import Answer
from api.draws.loan_shapes import Percent
from api.ledger.record_queries import RecordQuery

DRAW_DAYS = ("monthly", "twice a month")
LONGEST_TERMS = 365


@dataclass(frozen=True, kw_only=True)
class CashQuery(RecordQuery):
    """As of which day, and what the books do not say of the cash."""

    own_cash: Annotated[Decimal, Money(), "The owner's cash, beyond the equity."] = Decimal(0)
    days_to_pay: Annotated[
        int, WholeInQuery(0, LONGEST_TERMS), "Days from a cost to its payment."
    ] = 0
    draw_days: Annotated[str, Choice(*DRAW_DAYS)] = "monthly"
    expected: Annotated[Decimal, Money(), "Money still to come in, on expected_on."] = Decimal(0)
    expected_on: Annotated[date | None, Day(), "The day after as_of if left out."] = None


@dataclass(frozen=True, kw_only=True)
class BalanceQuery(CashQuery):
    """With the contingency that the lender wants left."""

    contingency_percent: Annotated[
        Decimal | None, Percent(), "Percent of the cost to complete; the loan's if left out."
    ] = None


@dataclass(frozen=True, kw_only=True)
class CourseQuery(CashQuery):
    """At which cost at completion."""

    at: Annotated[str, Choice("P50", "P80"), "How sure the cost at completion is."] = "P50"


class BalanceAnswer(Answer):
    """Sources and uses line by line, at P50 and P80 of the cost at completion."""

    as_of = ma.fields.String(required=True)
    lines = ma.fields.List(ma.fields.Dict(), required=True)
    sources = ma.fields.Dict(required=True)
    uses = ma.fields.Dict(required=True)
    surplus = ma.fields.Dict(required=True)
    sentence = ma.fields.String(required=True)


class CourseAnswer(Answer):
    """The cash month by month, the day it runs out, the peak, and what brings it down."""

    as_of = ma.fields.String(required=True)
    through = ma.fields.String(required=True)
    runs_out = ma.fields.String(required=True, allow_none=True)
    causes = ma.fields.List(ma.fields.Dict(), required=True)
    peak = ma.fields.Dict(required=True)
    interest_to_come = ma.fields.String(required=True)
    fees_to_come = ma.fields.String(required=True)
    months = ma.fields.List(ma.fields.Dict(), required=True)
    ways = ma.fields.List(ma.fields.Dict(), required=True)
    sentences = ma.fields.List(ma.fields.String(), required=True)
