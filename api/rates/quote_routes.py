"""`/v1/projects/{id}/quotes`: rows of rate tables that hold for one project only."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from uuid import UUID

from flask import Response

from api.access.rows import change_one, list_page, remove_one, show_one
from api.access.sign_in import current_caller
from api.contract.answers import json_answer
from api.contract.blueprint import TAG_HEADER, Blueprint
from api.contract.bodies import takes_upload
from api.contract.places import ROOT, faults_at, pointer
from api.contract.preconditions import (
    conditional,
    expect_tag,
    expected_tags,
    whole_tag,
)
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.projects.rows import Project
from api.rates.edited_rows import (
    change_rows,
    changed_rows,
    new_rows,
    rows_json,
    rows_statement,
)
from api.rates.project_tables import expect_tables, project_files, tables_of, tables_tag
from api.rates.rate_shapes import EXAMPLE_TABLES, NewTables, TablesAnswer
from api.rates.row_shapes import (
    EXAMPLE_ADDITIONS,
    EXAMPLE_QUOTE_CHANGES,
    EXAMPLE_ROW,
    CellsChange,
    NewRows,
    RateRowPage,
    RowAnswer,
    RowChanges,
    RowEdit,
    RowQuery,
    RowsAnswer,
)
from api.rates.rows import ProjectQuote
from api.rates.sent_quotes import checked_quotes, store_quotes
from api.rates.stored_tables import Cells, file_texts, quotes_of
from api.rates.table_rows import Rows, rows_of_texts
from api.store.sessions import AccountSession
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession
from estimator.rates.folders import QUOTES

AT = "/v1/projects/<uuid:project_id>/quotes"
ONE = f"{AT}/<uuid:quote_id>"

Changes = tuple[Sequence[tuple[ProjectQuote, Cells]], Sequence[ProjectQuote]]

_ORDER = (ProjectQuote.file, ProjectQuote.position, ProjectQuote.id)

quotes = Blueprint(
    "quotes", __name__, description="Quotes of a project, which come before all other rates."
)


@quotes.get(AT)
@quotes.asks(RowQuery)
@quotes.answers(RateRowPage)
def list_quotes(query: RowQuery, project_id: UUID) -> Response:
    """List the quotes of a project, by file."""
    statement = rows_statement(ProjectQuote, {"project_id": project_id}, query)
    return list_page(
        "rows", RowAnswer, statement, _ORDER, query,
        within=lambda session: session.existing(Project, project_id),
    )  # fmt: skip


@quotes.post(AT)
@quotes.takes(NewRows, example=EXAMPLE_ADDITIONS)
@quotes.answers(RowsAnswer, 201)
@quotes.creates
def add_quotes(body: NewRows, project_id: UUID) -> Response:
    """Add quotes, all or none; they are checked against the tables below them."""
    parts, caller, of, tag = services(), current_caller(), {"project_id": project_id}, list[str]()

    def prepare() -> None:
        with parts.store.reading(caller) as session:
            project = session.existing(Project, project_id)
            rows = new_rows(session, ProjectQuote, of, body.rows)
            tag[:] = [checked_quotes(session, project, new=rows)]

    def create(work: WritingSession) -> StoredAnswer:
        expect_tables(work, work.existing(Project, project_id), tag[0])
        rows = new_rows(work, ProjectQuote, of, body.rows)
        work.add_all(rows)
        return creation(f"/v1/projects/{project_id}/quotes", rows_json(rows))

    return create_row(parts, caller, create, prepare)


@quotes.post(f"{AT}/changes")
@quotes.takes(RowChanges, example=EXAMPLE_QUOTE_CHANGES)
@quotes.answers(RowsAnswer)
def change_several_quotes(body: RowChanges, project_id: UUID) -> Response:
    """Change and delete several quotes, all or none."""
    parts, caller, of, tag = services(), current_caller(), {"project_id": project_id}, list[str]()

    def prepare() -> None:
        with parts.store.reading(caller) as session:
            project = session.existing(Project, project_id)
            changes = changed_rows(session, ProjectQuote, of, body.rows)
            tag[:] = [checked_quotes(session, project, *changes)]

    def change(work: WritingSession) -> list[ProjectQuote]:
        expect_tables(work, work.existing(Project, project_id), tag[0])
        return change_rows(work, *changed_rows(work, ProjectQuote, of, body.rows))

    rows = parts.store.carry_out(caller, parts.now, change, prepare)
    return json_answer(rows_json(rows))


@quotes.get(f"{AT}/tables")
@quotes.answers(TablesAnswer, headers=TAG_HEADER)
def show_quote_tables(project_id: UUID) -> Response:
    """Show all quotes of a project as CSV."""
    with services().store.reading(current_caller()) as session:
        session.existing(Project, project_id)
        rows = quotes_of(session, project_id)
    answer = json_answer({"tables": file_texts(rows)})
    answer.headers["ETag"] = _tag(rows)
    return conditional(answer)


@quotes.put(f"{AT}/tables")
@quotes.takes(NewTables, example=EXAMPLE_TABLES)
@quotes.answers(TablesAnswer, headers=TAG_HEADER)
@quotes.changes_whole
@takes_upload
def send_quote_tables(body: NewTables, project_id: UUID) -> Response:
    """Replace all quotes of a project."""
    parts, caller, tags = services(), current_caller(), expected_tags()
    sent, ready = body.tables, list[tuple[Rows, str]]()

    def prepare() -> None:
        with parts.store.reading(caller) as session:
            project = session.existing(Project, project_id)
            expect_tag(_tag(quotes_of(session, project_id)), tags, "the set of quotes")
            below, tag = project_files(session, project), tables_tag(session, project)
        with faults_at(pointer("tables")):
            ready[:] = [(rows_of_texts(sent), tag)]
            below.pop(QUOTES, None)
            tables_of(below | ({QUOTES: sent} if sent else {}))

    def change(work: WritingSession) -> Sequence[ProjectQuote]:
        project = work.existing(Project, project_id)
        expect_tag(_tag(quotes_of(work, project_id)), tags, "the set of quotes")
        rows, tag = ready[0]
        expect_tables(work, project, tag)
        store_quotes(work, project, rows)
        return quotes_of(work, project_id)

    rows = parts.store.carry_out(caller, parts.now, change, prepare)
    answer = json_answer({"tables": file_texts(rows)})
    answer.headers["ETag"] = _tag(rows)
    return answer


@quotes.get(ONE)
@quotes.answers(RowAnswer, headers=TAG_HEADER)
def show_quote(project_id: UUID, quote_id: UUID) -> Response:
    """Show a quote."""
    return show_one(RowAnswer, ProjectQuote, quote_id, project_id=project_id)


@quotes.patch(ONE)
@quotes.takes(CellsChange, example=EXAMPLE_ROW)
@quotes.answers(RowAnswer, headers=TAG_HEADER)
@quotes.changes
def change_quote(body: CellsChange, project_id: UUID, quote_id: UUID) -> Response:
    """Change cells of a quote; cells left out stay as they are."""

    def changes(session: AccountSession, row: ProjectQuote) -> Changes:
        one = RowEdit(id=row.id, version=row.version, cells=body.cells)
        of = {"project_id": project_id}
        return changed_rows(session, ProjectQuote, of, [one], lambda _: ROOT)

    checked = _checked(project_id, changes)
    return change_one(RowAnswer, ProjectQuote, quote_id, *checked, project_id=project_id)


@quotes.delete(ONE)
@quotes.answers(None, 204)
@quotes.changes
def remove_quote(project_id: UUID, quote_id: UUID) -> Response:
    """Delete a quote."""
    removal = _checked(project_id, lambda _, row: ([], [row]))
    return remove_one(ProjectQuote, quote_id, *removal, project_id=project_id)


def _tag(rows: Sequence[ProjectQuote]) -> str:
    """Return the tag of all quotes together, which every change of one changes."""
    return whole_tag((row.id, row.version) for row in rows)


def _checked(
    project_id: UUID, changes: Callable[[AccountSession, ProjectQuote], Changes]
) -> tuple[
    Callable[[WritingSession, ProjectQuote], None], Callable[[AccountSession, ProjectQuote], None]
]:
    """Return a change of a quote, and what checks it before the turn to write."""
    tag = list[str]()

    def prepare(session: AccountSession, row: ProjectQuote) -> None:
        project = session.existing(Project, project_id)
        tag[:] = [checked_quotes(session, project, *changes(session, row))]

    def change(work: WritingSession, row: ProjectQuote) -> None:
        expect_tables(work, work.existing(Project, project_id), tag[0])
        change_rows(work, *changes(work, row))

    return change, prepare
