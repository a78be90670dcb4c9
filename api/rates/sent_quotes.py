"""Quotes that come with a scope, stored as rows of the project's own tables."""

from __future__ import annotations

from api.projects.rows import Project
from api.rates.rows import ProjectQuote
from api.rates.stored_tables import quotes_of, row_key
from api.rates.table_rows import Rows
from api.store.sessions import WritingSession


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
