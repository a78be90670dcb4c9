"""Quotes that are sent: checked with the tables below them, and stored as rows of the project."""

from __future__ import annotations

from collections.abc import Iterable

from api.projects.rows import Project
from api.rates.project_tables import project_files, tables_of, tables_tag
from api.rates.rows import ProjectQuote
from api.rates.stored_tables import Cells, cells_texts, quotes_of, row_key
from api.rates.table_rows import Rows
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.rates.folders import QUOTES


def checked_quotes(
    session: AccountSession,
    project: Project,
    changed: Iterable[tuple[ProjectQuote, Cells]] = (),
    going: Iterable[ProjectQuote] = (),
    new: Iterable[ProjectQuote] = (),
) -> str:
    """Return the tag of a project's tables, once its quotes as they are to be fit those below them.

    Parameters
    ----------
    session : AccountSession
    project : Project
    changed : iterable of (ProjectQuote, mapping)
        Quotes with their cells as they are to be.
    going, new : iterable of ProjectQuote
        Quotes that are to go, and to come.

    Raises
    ------
    TablesFaulty
        With every fault at once.
    """
    cells = {row.id: to for row, to in changed}
    gone = {row.id for row in going}
    stay = [row for row in quotes_of(session, project.id) if row.id not in gone]
    rows = [(row.file, cells.get(row.id, row.cells)) for row in (*stay, *new)]
    files = project_files(session, project)
    files.pop(QUOTES, None)
    tables_of(files | ({QUOTES: cells_texts(rows)} if rows else {}))
    return tables_tag(session, project)


def store_quotes(work: WritingSession, project: Project, rows: Rows) -> None:
    """Put quotes in the place of all that a project has, if they say something else.

    Parameters
    ----------
    work : WritingSession
    project : Project
    rows : mapping of str to list of dict
        By file, which the library has read without a fault.
    """
    there = quotes_of(work, project.id)
    fresh = [(file, n, cells) for file, of in rows.items() for n, cells in enumerate(of)]
    if [(row.file, row.cells) for row in there] == [(file, cells) for file, _, cells in fresh]:
        return
    work.delete_all(there)
    work.add_all(
        [
            ProjectQuote(
                project_id=project.id,
                file=file,
                row_key=row_key(file, cells),
                cells=cells,
                position=position,
            )
            for file, position, cells in fresh
        ]
    )
