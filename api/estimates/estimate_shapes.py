"""Shapes of stored estimates, their lines and the budget."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.calculations.scope_shapes import DatesToWorkOut
from api.contract.fields import Choice, Day, Figure, Id, Moment, Money, Whole, WholeInQuery, Words
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer, Part
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH, NOTE_LENGTH
from estimator.rates.kinds import SALES_WORDS

EXAMPLE_PRICING: dict[str, Any] = {"on": "2026-03-02", "note": "After the engineer saw the pits"}

_ON = "Pricing date; else the project's own, else today."
_NOTE = "What the estimate is for; stored with it, and changes no figure."
_PAID = "False for unpaid owner labor, own material and sales of salvage."
_RESTS_ON = (
    "What the totals rest on [$], as in the document; null in a list for a lender, and for "
    "estimates stored before lists showed it."
)
_SALES = SALES_WORDS + "; null for estimates stored before it was recorded."
_ACCEPTED = "The estimate that was accepted last is the budget."


@dataclass(frozen=True, kw_only=True)
class Pricing(DatesToWorkOut):
    """How a project is priced; its scope is stored with the times that are stated here."""

    on: Annotated[date | None, Day(), _ON] = None
    note: Annotated[str | None, Words(NOTE_LENGTH), _NOTE] = None


@dataclass(frozen=True, kw_only=True)
class EstimateQuery(PageQuery):
    """Which estimates are listed."""

    accepted: Annotated[str | None, Choice("true", "false")] = None


@dataclass(frozen=True, kw_only=True)
class LineQuery(PageQuery):
    """Which lines are listed."""

    phase: Annotated[str | None, Words(CODE_LENGTH)] = None
    item: Annotated[str | None, Words(2 * CODE_LENGTH + 1), "Cost code, such as 30.020."] = None
    kind: Annotated[str | None, Words(CODE_LENGTH)] = None
    resource: Annotated[str | None, Words(NAME_LENGTH)] = None
    assembly: Annotated[str | None, Words(NAME_LENGTH)] = None
    paid: Annotated[str | None, Choice("true", "false"), _PAID] = None
    least: Annotated[Decimal | None, Money(), "Smallest amount of a line [$]."] = None
    most: Annotated[Decimal | None, Money(), "Largest amount of a line [$]."] = None


class StoredTotals(Answer):
    """Totals of a stored estimate [$]."""

    direct_cost = Figure(required=True)
    markups = Figure(required=True)
    cash_cost = Figure(required=True)
    own_value = Figure(required=True)
    full_cost = Figure(required=True)
    salvage_sales = Figure(required=True, allow_none=True, metadata={"description": _SALES})


class AcceptanceAnswer(Answer):
    """When an estimate became the budget, and by whom."""

    number = Whole(1, HIGHEST_POSITION, required=True, metadata={"description": _ACCEPTED})
    at = Moment(required=True)
    by = ma.fields.String(required=True)


class NewAcceptance(AcceptanceAnswer):
    """An estimate that has become the budget."""

    estimate_id = ma.fields.UUID(required=True)


class StoredEstimateAnswer(Answer):
    """A stored estimate without its lines; but for its acceptance it never changes."""

    id = ma.fields.UUID(required=True)
    number = Whole(1, HIGHEST_POSITION, required=True)
    created_at = Moment(required=True)
    created_by = ma.fields.String(required=True)
    on = Day(required=True)
    note = ma.fields.String(required=True, allow_none=True)
    digest = ma.fields.String(required=True)
    scope_digest = ma.fields.String(required=True)
    tables_digest = ma.fields.String(required=True)
    lines_digest = ma.fields.String(required=True)
    line_count = Whole(0, HIGHEST_POSITION, required=True)
    totals = Part(StoredTotals, required=True)
    accepted = Part(AcceptanceAnswer, required=True, allow_none=True)
    rests_on = ma.fields.Dict(required=True, allow_none=True, metadata={"description": _RESTS_ON})


class EstimatePage(Page):
    """Some estimates of a project, newest first."""

    estimates = ma.fields.List(ma.fields.Nested(StoredEstimateAnswer), required=True)


class BudgetAnswer(Answer):
    """The estimate that is the budget now, null if there is none, and those that were before."""

    budget = Part(StoredEstimateAnswer, required=True, allow_none=True)
    before = ma.fields.List(ma.fields.Nested(StoredEstimateAnswer), required=True)


class CostLineAnswer(Answer):
    """A cost line, as docs/estimate-json.md describes it."""

    position = Whole(1, HIGHEST_POSITION, required=True)
    phase = ma.fields.String(required=True)
    item = ma.fields.String(required=True)
    line = Whole(1, HIGHEST_POSITION, required=True)
    assembly = ma.fields.String(required=True)
    resource = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    kind = ma.fields.String(required=True)
    unit = ma.fields.String(required=True)
    net = Figure(required=True)
    waste = Figure(required=True)
    left_over = Figure(required=True)
    ordered = Figure(required=True)
    rate = Figure(required=True)
    source = ma.fields.String(required=True)
    rate_row = ma.fields.String(required=True)
    paid = ma.fields.Boolean(required=True)
    amount = Figure(required=True)


class SelectedAnswer(Answer):
    """What all lines that the filters select come to, on whatever page [$]."""

    count = Whole(0, HIGHEST_POSITION, required=True)
    cash = Figure(required=True)
    own = Figure(required=True)
    sales = Figure(required=True, metadata={"description": SALES_WORDS + "."})


@dataclass(frozen=True, kw_only=True)
class DifferenceQuery:
    """The estimate before the changes."""

    against: Annotated[UUID, Id(), "Another estimate of the project."]


class DifferenceAnswer(Answer):
    """What changed between two estimates, as `groundsill difference --json` prints it."""

    form = Whole(1, 1, required=True)
    totals = ma.fields.Dict(required=True)
    by_cause = ma.fields.Dict(required=True)
    markups = ma.fields.List(ma.fields.Dict(), required=True)
    by_phase = ma.fields.List(ma.fields.Dict(), required=True)
    by_item = ma.fields.List(ma.fields.Dict(), required=True)
    by_kind = ma.fields.List(ma.fields.Dict(), required=True)
    lines = ma.fields.List(ma.fields.Dict(), required=True)
    unchanged_lines = Whole(0, HIGHEST_POSITION, required=True)


class LinePage(Page):
    """Some lines of an estimate, in its order."""

    lines = ma.fields.List(ma.fields.Nested(CostLineAnswer), required=True)
    selected = Part(SelectedAnswer, required=True)


class ExplanationAnswer(Answer):
    """The working of a line, from the measures to the amount, and where the rate is from."""

    item = ma.fields.String(required=True)
    line = Whole(1, HIGHEST_POSITION, required=True)
    title = ma.fields.String(required=True)
    steps = ma.fields.List(ma.fields.String(), required=True)


class ExplanationsAnswer(Answer):
    """The working of the lines of an item."""

    explanations = ma.fields.List(ma.fields.Nested(ExplanationAnswer), required=True)


@dataclass(frozen=True, kw_only=True)
class ExplanationQuery:
    """Which lines are explained: all of an item, or one."""

    item: Annotated[str, Words(2 * CODE_LENGTH + 1)]
    line: Annotated[int | None, WholeInQuery(1, HIGHEST_POSITION)] = None
