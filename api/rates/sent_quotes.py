"""Quotes that come with a scope: texts of CSV, kept as the rows of the project's own tables."""

from __future__ import annotations

from collections.abc import Mapping

from api.projects.rows import Project
from api.rates.rows import ProjectQuote
from api.rates.stored_tables import quotes_of, row_key
from api.rates.table_rows import rows_of_texts
from api.store.sessions import WritingSession


def keep_quotes(work: WritingSession, project: Project, texts: Mapping[str, str]) -> None:
    """Put quotes in the place of all that a project has, if they say something else.

    Parameters
    ----------
    work : WritingSession
    project : Project
    texts : mapping of str to str
        Text of CSV by file name, which the library has read without a fault.
    """
    there = quotes_of(work, project.id)
    fresh = [
        (file, position, cells)
        for file, rows in rows_of_texts(texts).items()
        for position, cells in enumerate(rows)
    ]
    if [(row.file, row.cells) for row in there] == [(file, cells) for file, _, cells in fresh]:
        return
    for row in there:
        work.delete(row)
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
