"""`/v1/rate-sets/{id}/versions/{id}/rows`: the rows of a version, of which a draft's may change."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response

from api.access.rows import change_one, list_page, remove_one, show_one
from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.places import ROOT
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.rates.edited_rows import (
    change_rows,
    changed_rows,
    new_rows,
    rows_json,
    rows_statement,
)
from api.rates.row_shapes import (
    EXAMPLE_ADDITIONS,
    EXAMPLE_ROW,
    EXAMPLE_ROW_CHANGES,
    CellsChange,
    NewRows,
    RateRowPage,
    RowAnswer,
    RowChanges,
    RowEdit,
    RowQuery,
    RowsAnswer,
)
from api.rates.rows import RateRow, RateVersion
from api.rates.stored_tables import check_is_draft, recount
from api.rates.version_routes import ONE as VERSION
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

AT = f"{VERSION}/rows"
ONE = f"{AT}/<uuid:row_id>"

_ORDER = (RateRow.file, RateRow.position, RateRow.id)

rate_rows = Blueprint("rate rows", __name__, description="Rows of the tables of a version.")


@rate_rows.get(AT)
@rate_rows.asks(RowQuery)
@rate_rows.answers(RateRowPage)
def list_rows(query: RowQuery, rate_set_id: UUID, version_id: UUID) -> Response:
    """List the rows of a version, by file."""
    statement = rows_statement(RateRow, {"rate_version_id": version_id}, query)
    return list_page(
        "rows", RowAnswer, statement, _ORDER, query,
        within=lambda session: session.existing(RateVersion, version_id, rate_set_id=rate_set_id),
    )  # fmt: skip


@rate_rows.post(AT)
@rate_rows.takes(NewRows, example=EXAMPLE_ADDITIONS)
@rate_rows.answers(RowsAnswer, 201)
@rate_rows.creates
def add_table_rows(body: NewRows, rate_set_id: UUID, version_id: UUID) -> Response:
    """Add rows to a draft, all or none."""

    def create(work: WritingSession) -> StoredAnswer:
        draft = _draft(work, rate_set_id, version_id)
        rows = new_rows(work, RateRow, {"rate_version_id": version_id}, body.rows)
        work.add_all(rows)
        recount(work, draft)
        location = f"/v1/rate-sets/{rate_set_id}/versions/{version_id}/rows"
        return creation(location, rows_json(rows))

    return create_row(services(), current_caller(), create)


@rate_rows.post(f"{AT}/changes")
@rate_rows.takes(RowChanges, example=EXAMPLE_ROW_CHANGES)
@rate_rows.answers(RowsAnswer)
def change_table_rows(body: RowChanges, rate_set_id: UUID, version_id: UUID) -> Response:
    """Change and delete several rows of a draft, all or none."""

    def change(work: WritingSession) -> dict[str, Any]:
        draft = _draft(work, rate_set_id, version_id)
        of = {"rate_version_id": version_id}
        rows = change_rows(work, *changed_rows(work, RateRow, of, body.rows))
        recount(work, draft)
        return rows_json(rows)

    return json_answer(services().store.carry_out(current_caller(), services().now, change))


@rate_rows.get(ONE)
@rate_rows.answers(RowAnswer, headers=TAG_HEADER)
def show_row(rate_set_id: UUID, version_id: UUID, row_id: UUID) -> Response:
    """Show a row."""
    _expect_version(rate_set_id, version_id)
    return show_one(RowAnswer, RateRow, row_id, rate_version_id=version_id)


@rate_rows.patch(ONE)
@rate_rows.takes(CellsChange, example=EXAMPLE_ROW)
@rate_rows.answers(RowAnswer, headers=TAG_HEADER)
@rate_rows.changes
def change_one_row(
    body: CellsChange, rate_set_id: UUID, version_id: UUID, row_id: UUID
) -> Response:
    """Change cells of a row of a draft; cells left out stay as they are."""

    def change(work: WritingSession, row: RateRow) -> None:
        draft, of = _draft(work, rate_set_id, version_id), {"rate_version_id": version_id}
        one = RowEdit(id=row.id, version=row.version, cells=body.cells)
        change_rows(work, *changed_rows(work, RateRow, of, [one], lambda _: ROOT))
        recount(work, draft)

    _expect_version(rate_set_id, version_id)
    return change_one(RowAnswer, RateRow, row_id, change, rate_version_id=version_id)


@rate_rows.delete(ONE)
@rate_rows.answers(None, 204)
@rate_rows.changes
def remove_row(rate_set_id: UUID, version_id: UUID, row_id: UUID) -> Response:
    """Delete a row of a draft."""

    def change(work: WritingSession, row: RateRow) -> None:
        draft = _draft(work, rate_set_id, version_id)
        work.delete(row)
        recount(work, draft)

    _expect_version(rate_set_id, version_id)
    return remove_one(RateRow, row_id, change, rate_version_id=version_id)


def _draft(work: WritingSession, rate_set_id: UUID, version_id: UUID) -> RateVersion:
    draft: RateVersion = work.existing(RateVersion, version_id, rate_set_id=rate_set_id)
    check_is_draft(draft)
    return draft


def _expect_version(rate_set_id: UUID, version_id: UUID) -> None:
    with services().store.reading(current_caller()) as session:
        session.existing(RateVersion, version_id, rate_set_id=rate_set_id)
