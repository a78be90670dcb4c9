"""Shapes of stored estimates, their lines and the budget."""

from __future__ import annotations

from typing import Any

import marshmallow as ma

from api.contract.fields import Choice, Day, Figure, Id, Moment, Money, Whole, WholeInQuery, Words
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer, Part, Schema
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH, NOTE_LENGTH

EXAMPLE_PRICING: dict[str, Any] = {"on": "2026-03-02", "note": "After the engineer saw the pits"}

_ON = "Pricing date; else the project's own, else today."
_NOTE = "What the estimate is for: it stays with it and changes no figure."
_ACCEPTED = "The estimate that was accepted last is the budget."


class Pricing(Schema):
    """How a project is priced."""

    on = Day(metadata={"description": _ON})
    note = Words(NOTE_LENGTH, metadata={"description": _NOTE})


class EstimateQuery(PageQuery):
    """Which estimates are listed."""

    accepted = Choice("true", "false")


class LineQuery(PageQuery):
    """Which lines are listed."""

    phase = Words(CODE_LENGTH)
    item = Words(2 * CODE_LENGTH + 1, metadata={"description": "Cost code, such as 30.020."})
    kind = Words(CODE_LENGTH)
    resource = Words(NAME_LENGTH)
    assembly = Words(NAME_LENGTH)
    paid = Choice("true", "false", metadata={"description": "False for unpaid owner labor."})
    least = Money(metadata={"description": "Least amount of a line [$]."})
    most = Money(metadata={"description": "Largest amount of a line [$]."})


class StoredTotals(Answer):
    """Totals of a stored estimate [$]."""

    direct_cost = Figure(required=True)
    markups = Figure(required=True)
    cash_cost = Figure(required=True)
    own_value = Figure(required=True)
    full_cost = Figure(required=True)


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


class DifferenceQuery(Schema):
    """The estimate before the changes."""

    against = Id(required=True, metadata={"description": "Another estimate of the project."})


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


class ExplanationQuery(Schema):
    """Which lines are explained: all of an item, or one."""

    item = Words(2 * CODE_LENGTH + 1, required=True)
    line = WholeInQuery(1, HIGHEST_POSITION)
