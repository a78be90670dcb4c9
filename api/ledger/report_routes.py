"""`/v1/projects/{id}/books/tracking`: where the job stands and where it is going."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, Literal
from uuid import UUID

import marshmallow as ma
from flask import Response

from api.access.sign_in import current_caller
from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import Blueprint
from api.contract.fields import Choice, Day
from api.contract.schemas import Answer
from api.contract.services import services
from api.ledger.documents.document_shapes import DocumentAnswer
from api.ledger.entry_fields import CostCode
from api.ledger.entry_routes import AT
from api.ledger.record_queries import RecordQuery
from api.projects.rows import Project

_TEXT = "text/plain; charset=utf-8"
_ANY_FILE = "application/octet-stream"  # a drawing is kept as a file, and opened in no page of ours

tracking = Blueprint("tracking", __name__, description="Where the job stands, and its forecast.")


@dataclass(frozen=True, kw_only=True)
class TrackQuery(RecordQuery):
    """As of which day, known on which time, and the window of the forecast."""

    since: Annotated[date | None, Day(), "Forecast window's first day; all if left out."] = None


@dataclass(frozen=True, kw_only=True)
class TraceQuery(RecordQuery):
    """Which cost code, as of which day, known on which time."""

    code: CostCode


@dataclass(frozen=True, kw_only=True)
class DaySheetQuery:
    """Of which day."""

    day: Annotated[date | None, Day(), "May be in the future; today if left out."] = None


@dataclass(frozen=True, kw_only=True)
class PointChartQuery(RecordQuery):
    """Of which record, and as what file."""

    form: Annotated[str, Choice("svg", "png")] = "svg"


class PointsAnswer(Answer):
    """Measured points with their limits and readings; a sentence where a limit is near or past."""

    points = ma.fields.List(ma.fields.Dict(), required=True)


class QuantitiesAnswer(Answer):
    """What is in place of each item, and hours lost by reason."""

    as_of = ma.fields.String(required=True)
    known_on = ma.fields.String(required=True)
    items = ma.fields.List(ma.fields.Dict(), required=True)
    lost_hours = ma.fields.Dict(required=True)


@dataclass(frozen=True, kw_only=True)
class LearnedQuery(RecordQuery):
    """Of which record, and whether the scopes of the account are priced with it."""

    would_cost: Annotated[
        str, Choice("yes", "no"), "yes also prices each scope of the account with the new rows."
    ] = "no"


class LearnedAnswer(Answer):
    """What the record teaches; `tables` makes a draft of a rate set, `in_scope` is for a scope."""

    learned = ma.fields.List(ma.fields.Dict(), required=True)
    tables = ma.fields.Dict(required=True)
    in_scope = ma.fields.List(ma.fields.String(), required=True)
    would_cost = ma.fields.List(ma.fields.Dict(), required=True)


class TraceAnswer(Answer):
    """Where the figures of a cost code come from: rows, documents, and the lines of its budget."""

    code = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    billed = ma.fields.String(required=True)
    accrued = ma.fields.String(required=True)
    incurred = ma.fields.String(required=True)
    paid = ma.fields.String(required=True)
    rows = ma.fields.List(ma.fields.Dict(), required=True)
    budget = ma.fields.String(required=True)
    baseline = ma.fields.String(required=True)
    baseline_lines = ma.fields.String(required=True)
    baseline_markups = ma.fields.String(required=True)
    markups = ma.fields.List(ma.fields.String(), required=True)
    changes = ma.fields.List(ma.fields.Dict(), required=True)
    measured = ma.fields.List(ma.fields.Dict(), required=True)
    documents = ma.fields.List(ma.fields.Nested(DocumentAnswer), required=True)
    lines = ma.fields.List(ma.fields.Dict(), required=True)


class TrackAnswer(Answer):
    """Budget, spent, in place, earned and forecast: by code, by phase, by kind and in all."""

    as_of = ma.fields.String(required=True)
    known_on = ma.fields.String(required=True)
    since = ma.fields.String(required=True, allow_none=True)
    project = ma.fields.Dict(required=True)
    receipts = ma.fields.String(required=True)
    accrued_hours = ma.fields.Dict(required=True)
    unpaid_hours = ma.fields.Dict(required=True)
    rents = ma.fields.List(ma.fields.Dict(), required=True)
    machines = ma.fields.Dict(required=True)
    lost_hours = ma.fields.Dict(required=True)
    phases = ma.fields.List(ma.fields.Dict(), required=True)
    kinds = ma.fields.Dict(required=True)
    codes = ma.fields.List(ma.fields.Dict(), required=True)
    stock = ma.fields.Dict(required=True)
    orders = ma.fields.Dict(required=True)
    attention = ma.fields.List(ma.fields.Dict(), required=True)


class OutlookAnswer(Answer):
    """P50 and P80 of the cost, when the rest is done, what would cost less, hours per unit."""

    cost = ma.fields.Dict(required=True)
    all_done = ma.fields.String(required=True)
    finishes = ma.fields.List(ma.fields.Dict(), required=True)
    better_ways = ma.fields.List(ma.fields.Dict(), required=True)
    to_decide = ma.fields.List(ma.fields.Dict(), required=True)
    hours = ma.fields.List(ma.fields.Dict(), required=True)
    delivered = ma.fields.List(ma.fields.Dict(), required=True)


@tracking.get(f"{AT}/tracking")
@tracking.asks(TrackQuery)
@tracking.answers(TrackAnswer)
def show_tracking(query: TrackQuery, project_id: UUID) -> Response:
    """Show where the job stands as of a day; known_on leaves out what was entered later."""
    from api.ledger.reports import track_of
    from estimator.tracking.track_json import track_fields

    as_of, known_on = query.dates
    with services().store.reading(current_caller()) as session:
        track = track_of(session, project_id, as_of, known_on, query.since)
    fields: dict[str, Any] = track_fields(track)
    return json_answer(fields)


@tracking.get(f"{AT}/outlook")
@tracking.asks(TrackQuery)
@tracking.answers(OutlookAnswer)
def show_outlook(query: TrackQuery, project_id: UUID) -> Response:
    """Show where the job is going: how sure its forecast is, and when the rest is done."""
    from api.ledger.outlooks import outlook_of
    from api.ledger.reports import track_of
    from estimator.tracking.outlook_json import outlook_fields

    as_of, known_on = query.dates
    with services().store.reading(current_caller()) as session:
        track = track_of(session, project_id, as_of, known_on, query.since)
        ahead = outlook_of(session, project_id, track)
    return json_answer(outlook_fields(ahead))


@tracking.get(f"{AT}/trace")
@tracking.asks(TraceQuery)
@tracking.answers(TraceAnswer)
def show_trace(query: TraceQuery, project_id: UUID) -> Response:
    """Show where the figures of a cost code come from: rows, budget lines, formulas, rates."""
    from api.ledger.traces import trace_json, trace_of

    as_of, known_on = query.dates
    traced = trace_of(services().store, current_caller(), project_id, query.code, as_of, known_on)
    return json_answer(trace_json(traced))


@tracking.get(f"{AT}/workbook")
@tracking.asks(TrackQuery)
@tracking.answers({"type": "string", "format": "binary"}, content_type=WORKBOOK_TYPE)
def download_tracking(query: TrackQuery, project_id: UUID) -> Response:
    """Download where the job stands as a workbook, with sheets to fill in."""
    from api.ledger.reports import tracking_workbook

    as_of, known_on = query.dates
    with services().store.reading(current_caller()) as session:
        name = session.existing(Project, project_id).name
        content = tracking_workbook(session, project_id, as_of, known_on, query.since)
    headers = {"Content-Disposition": attachment(f"{name} tracking", ".xlsx")}
    return Response(content, content_type=WORKBOOK_TYPE, headers=headers)


@tracking.get(f"{AT}/quantities")
@tracking.asks(RecordQuery)
@tracking.answers(QuantitiesAnswer)
def show_quantities(query: RecordQuery, project_id: UUID) -> Response:
    """Show each item's quantity in place and the hours logged on it, without dollars."""
    from api.ledger.reports import quantities_of

    with services().store.reading(current_caller()) as session:
        as_of, known_on = query.dates
        return json_answer(quantities_of(session, project_id, as_of, known_on))


@tracking.get(f"{AT}/points")
@tracking.asks(RecordQuery)
@tracking.answers(PointsAnswer)
def show_points(query: RecordQuery, project_id: UUID) -> Response:
    """Show the measured points: limits, the last reading of each day, what is near a limit."""
    from api.ledger.reports import points_of
    from estimator.tracking.measured_points import points_fields

    with services().store.reading(current_caller()) as session:
        as_of, known_on = query.dates
        return json_answer(points_fields(points_of(session, project_id, as_of, known_on)))


@tracking.get(f"{AT}/points/chart")
@tracking.asks(PointChartQuery)
@tracking.answers({"type": "string", "format": "binary"}, content_type=_ANY_FILE)
def download_point_chart(query: PointChartQuery, project_id: UUID) -> Response:
    """Download the measured points as a chart: readings by day against their limits."""
    from api.ledger.reports import point_chart_of

    with services().store.reading(current_caller()) as session:
        as_of, known_on = query.dates
        name = session.existing(Project, project_id).name
        form: Literal["svg", "png"] = "png" if query.form == "png" else "svg"
        content = point_chart_of(session, project_id, as_of, known_on, form)
    headers = {"Content-Disposition": attachment(f"{name} points", f".{query.form}")}
    return Response(content, content_type=_ANY_FILE, headers=headers)


@tracking.get(f"{AT}/day-sheet")
@tracking.asks(DaySheetQuery)
@tracking.answers({"type": "string"}, content_type=_TEXT)
def print_day_sheet(query: DaySheetQuery, project_id: UUID) -> Response:
    """Return a day's sheet to print, as plain text without dollars."""
    from api.ledger.reports import day_sheet_of

    now = services().now
    with services().store.reading(current_caller()) as session:
        page = day_sheet_of(session, project_id, query.day or now.date(), now)
    return Response(page, content_type=_TEXT)


@tracking.get(f"{AT}/learned-rates")
@tracking.asks(LearnedQuery)
@tracking.answers(LearnedAnswer)
def show_learned_rates(query: LearnedQuery, project_id: UUID) -> Response:
    """Show what the record teaches: proposed rates, and the evidence for them.

    Send `tables` to the versions of a rate set to make a draft; until then nothing is written.
    """
    from api.ledger.learning import learned_fields, learned_of, would_cost

    as_of, known_on = query.dates
    with services().store.reading(current_caller()) as session:
        learned = learned_of(session, project_id, as_of, known_on)
        costs = would_cost(session, learned.tables, as_of) if query.would_cost == "yes" else ()
    return json_answer(learned_fields(learned, costs))
