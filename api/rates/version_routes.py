"""`/v1/rate-sets/{id}/versions`: drafts of rate tables, checked and published under a number."""

from __future__ import annotations

from collections.abc import Callable
from uuid import UUID

from flask import Response, request
from sqlalchemy import select

from api.access.rows import change_one, create_one, list_page, show_one
from api.access.sign_in import current_caller
from api.calculations.rate_tables import sent_folders
from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import FILE_SCHEMA, TAG_HEADER, Blueprint
from api.contract.bodies import check_media_type, takes_upload
from api.contract.lists import PageQuery
from api.contract.places import faults_at, pointer
from api.contract.preconditions import expected_versions, with_tag
from api.contract.services import services
from api.rates.project_tables import version_files
from api.rates.rate_set_routes import ONE as RATE_SET
from api.rates.rate_shapes import (
    EXAMPLE_DRAFT,
    EXAMPLE_NOTE,
    EXAMPLE_TABLES,
    NewDraft,
    NewNote,
    NewTables,
    RatesDifferenceAnswer,
    RatesDifferenceQuery,
    TablesAnswer,
    VersionAnswer,
    VersionPage,
)
from api.rates.rows import RateSet, RateVersion
from api.rates.stored_tables import (
    check_is_draft,
    delete_draft,
    file_texts,
    publish,
    replace_rows,
    rows_of,
)
from api.rates.table_rows import Rows, blank_texts, rows_of_texts, rows_of_workbook
from api.rates.versions import (
    begin_draft,
    check_publishable,
    difference,
)
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession

AT = f"{RATE_SET}/versions"
ONE = f"{AT}/<uuid:version_id>"

versions = Blueprint(
    "rate versions", __name__, description="Versions of a rate set: one draft, the rest final."
)


@versions.post(AT)
@versions.takes(NewDraft, example=EXAMPLE_DRAFT)
@versions.answers(VersionAnswer, 201, headers=TAG_HEADER)
@versions.creates
def start_a_draft(body: NewDraft, rate_set_id: UUID) -> Response:
    """Start a draft: from another version, from tables, or empty."""
    return create_one(
        VersionAnswer, lambda work: begin_draft(work, work.existing(RateSet, rate_set_id), body)
    )


@versions.get(AT)
@versions.asks(PageQuery)
@versions.answers(VersionPage)
def list_versions(query: PageQuery, rate_set_id: UUID) -> Response:
    """List the versions of a rate set, newest first."""
    statement = select(RateVersion).where(RateVersion.rate_set_id == rate_set_id)
    return list_page(
        "versions", VersionAnswer, statement, (RateVersion.number,), query, is_newest_first=True,
        within=lambda session: session.existing(RateSet, rate_set_id),
    )  # fmt: skip


@versions.get(ONE)
@versions.answers(VersionAnswer, headers=TAG_HEADER)
def show_version(rate_set_id: UUID, version_id: UUID) -> Response:
    """Show a version."""
    return show_one(VersionAnswer, RateVersion, version_id, rate_set_id=rate_set_id)


@versions.patch(ONE)
@versions.takes(NewNote, example=EXAMPLE_NOTE)
@versions.answers(VersionAnswer, headers=TAG_HEADER)
@versions.changes
def note_version(body: NewNote, rate_set_id: UUID, version_id: UUID) -> Response:
    """Change the note of a draft."""

    def change(_: WritingSession, row: RateVersion) -> None:
        row.note = body.note

    return _changed(rate_set_id, version_id, change)


@versions.delete(ONE)
@versions.answers(None, 204)
@versions.changes
def remove_draft(rate_set_id: UUID, version_id: UUID) -> Response:
    """Delete a draft and its rows."""
    _changed(rate_set_id, version_id, delete_draft)
    return Response(status=204)


@versions.get(f"{ONE}/tables")
@versions.answers(TablesAnswer, headers=TAG_HEADER)
def show_tables(rate_set_id: UUID, version_id: UUID) -> Response:
    """Show the tables of a version as CSV."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(RateVersion, version_id, rate_set_id=rate_set_id)
        texts = file_texts(rows_of(session, row.id))
    return with_tag(json_answer({"tables": texts}), row.version)


@versions.put(f"{ONE}/tables")
@versions.takes(NewTables, example=EXAMPLE_TABLES)
@versions.answers(VersionAnswer, headers=TAG_HEADER)
@versions.changes
@takes_upload
def send_tables(body: NewTables, rate_set_id: UUID, version_id: UUID) -> Response:
    """Replace all rows of a draft."""
    with faults_at(pointer("tables")):
        rows = rows_of_texts(body.tables)
    return _replaced(rate_set_id, version_id, rows)


@versions.get(f"{ONE}/workbook")
@versions.answers(FILE_SCHEMA, content_type=WORKBOOK_TYPE)
def download_tables(rate_set_id: UUID, version_id: UUID) -> Response:
    """Download the tables of a version as a workbook, one sheet for each table."""
    from estimator.workbook.rates.rates_writer import rates_workbook_bytes

    with services().store.reading(current_caller()) as session:
        row = session.existing(RateVersion, version_id, rate_set_id=rate_set_id)
        rate_set = session.existing(RateSet, rate_set_id)
        files = version_files(session, row) or {rate_set.name: blank_texts()}
    content = rates_workbook_bytes(*sent_folders(files))
    headers = {"Content-Disposition": attachment(f"{rate_set.name} {row.number}", ".xlsx")}
    return Response(content, content_type=WORKBOOK_TYPE, headers=headers)


@versions.put(f"{ONE}/workbook")
@versions.answers(VersionAnswer, headers=TAG_HEADER)
@versions.takes_file([WORKBOOK_TYPE])
@versions.changes
@takes_upload
def send_workbook(rate_set_id: UUID, version_id: UUID) -> Response:
    """Replace all rows of a draft with a workbook."""
    check_media_type([WORKBOOK_TYPE])
    expected_versions()
    with services().store.reading(current_caller()) as session:  # before the file is looked at
        check_is_draft(session.existing(RateVersion, version_id, rate_set_id=rate_set_id))
    return _replaced(rate_set_id, version_id, rows_of_workbook(request.get_data(cache=False)))


@versions.post(f"{ONE}/publication")
@versions.answers(VersionAnswer, headers=TAG_HEADER)
@versions.changes
def publish_version(rate_set_id: UUID, version_id: UUID) -> Response:
    """Check a draft against the shipped tables, and publish it."""
    return _changed(rate_set_id, version_id, publish, check_publishable)


@versions.get(f"{ONE}/difference")
@versions.asks(RatesDifferenceQuery)
@versions.answers(RatesDifferenceAnswer)
def show_difference(query: RatesDifferenceQuery, rate_set_id: UUID, version_id: UUID) -> Response:
    """Compare with another version, or with the shipped tables."""
    with services().store.reading(current_caller()) as session:
        row = session.existing(RateVersion, version_id, rate_set_id=rate_set_id)
        rate_set = session.existing(RateSet, rate_set_id)
        text = difference(session, rate_set, row, query.against)
    return json_answer(text)


def _replaced(rate_set_id: UUID, version_id: UUID, rows: Rows) -> Response:
    def change(work: WritingSession, row: RateVersion) -> None:
        replace_rows(work, row, rows)

    return _changed(rate_set_id, version_id, change)


def _changed(
    rate_set_id: UUID,
    version_id: UUID,
    change: Callable[[WritingSession, RateVersion], None],
    prepare: Callable[[AccountSession, RateVersion], None] | None = None,
) -> Response:
    def change_draft(work: WritingSession, row: RateVersion) -> None:
        check_is_draft(row)
        change(work, row)

    of = {"rate_set_id": rate_set_id}
    return change_one(VersionAnswer, RateVersion, version_id, change_draft, prepare, **of)
