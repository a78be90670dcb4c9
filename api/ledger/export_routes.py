"""`/v1/projects/{id}/books/rows`, `/months` and `/calendar`: for other programs."""

from __future__ import annotations

from uuid import UUID

import marshmallow as ma
from flask import Response

from api.access.sign_in import current_caller
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import Blueprint
from api.contract.schemas import Answer
from api.contract.services import services
from api.ledger.entry_routes import AT
from api.ledger.record_queries import RecordQuery
from api.projects.rows import Project

_CSV, _ICS = "text/csv", "text/calendar"

exports = Blueprint("exports", __name__, description="The books, for bookkeeper or accountant.")


class MoneyRowAnswer(Answer):
    """A row of money, or the share of one code and kind in it; `reverses` and `pays` name rows."""

    row = ma.fields.Integer(required=True)
    entry = ma.fields.String(required=True)
    happened = ma.fields.String(required=True)
    entered = ma.fields.String(required=True)
    party = ma.fields.String(required=True)
    document = ma.fields.String(required=True)
    note = ma.fields.String(required=True)
    code = ma.fields.String(required=True)
    kind = ma.fields.String(required=True)
    quantity = ma.fields.String(required=True, allow_none=True)
    unit = ma.fields.String(required=True)
    net = ma.fields.String(required=True, allow_none=True)
    tax = ma.fields.String(required=True, allow_none=True)
    amount = ma.fields.String(required=True)
    billed = ma.fields.String(required=True)
    accrued = ma.fields.String(required=True)
    paid = ma.fields.String(required=True)
    open = ma.fields.String(required=True)
    reverses = ma.fields.Integer(required=True, allow_none=True)
    pays = ma.fields.Integer(required=True, allow_none=True)
    bank_line = ma.fields.String(required=True)


class MoneyRowsAnswer(Answer):
    """All rows of money, in the order of the books."""

    rows = ma.fields.List(ma.fields.Nested(MoneyRowAnswer), required=True)


class MonthAnswer(Answer):
    """What a month added, through the last of its days that counts."""

    month = ma.fields.String(required=True)
    through = ma.fields.String(required=True)
    planned = ma.fields.String(required=True)
    earned = ma.fields.String(required=True)
    incurred = ma.fields.String(required=True)
    paid = ma.fields.String(required=True)


class MonthsAnswer(Answer):
    """What each month added; `total` is the state on the day, to the cent."""

    months = ma.fields.List(ma.fields.Nested(MonthAnswer), required=True)
    total = ma.fields.Dict(required=True)


@exports.get(f"{AT}/rows")
@exports.asks(RecordQuery)
@exports.answers(MoneyRowsAnswer)
def list_money_rows(query: RecordQuery, project_id: UUID) -> Response:
    """List the money rows, with their codes, tax, reversals and what each payment pays."""
    from api.ledger.reports import money_lines_of
    from estimator.tracking.money_lines_json import money_line_fields

    with services().store.reading(current_caller()) as session:
        rows = money_lines_of(session, project_id, *query.dates)
    return json_answer({"rows": [money_line_fields(one) for one in rows]})


@exports.get(f"{AT}/rows.csv")
@exports.asks(RecordQuery)
@exports.answers({"type": "string"}, content_type=_CSV)
def download_money_rows(query: RecordQuery, project_id: UUID) -> Response:
    """Download the money rows as CSV; no text in it is a formula."""
    from api.ledger.reports import money_lines_of
    from estimator.workbook.entries.money_lines_csv import money_lines_csv

    with services().store.reading(current_caller()) as session:
        name = session.existing(Project, project_id).name
        text = money_lines_csv(money_lines_of(session, project_id, *query.dates))
    headers = {"Content-Disposition": attachment(f"{name} rows", ".csv")}
    return Response(text, content_type=f"{_CSV}; charset=utf-8", headers=headers)


@exports.get(f"{AT}/months")
@exports.asks(RecordQuery)
@exports.answers(MonthsAnswer)
def show_months(query: RecordQuery, project_id: UUID) -> Response:
    """Show what each month added; the months add up to the report."""
    from api.ledger.reports import months_of
    from estimator.tracking.money_lines_json import months_fields

    with services().store.reading(current_caller()) as session:
        months = months_of(session, project_id, *query.dates)
    return json_answer(months_fields(months))


@exports.get(f"{AT}/calendar")
@exports.asks(RecordQuery)
@exports.answers({"type": "string"}, content_type=_ICS)
def download_calendar(query: RecordQuery, project_id: UUID) -> Response:
    """Download the dates of the accepted estimate and the open hold points for a calendar."""
    from api.ledger.calendars import calendar_of

    with services().store.reading(current_caller()) as session:
        name = session.existing(Project, project_id).name
        content = calendar_of(session, project_id, *query.dates)
    headers = {"Content-Disposition": attachment(name, ".ics")}
    return Response(content, content_type=f"{_ICS}; charset=utf-8", headers=headers)
