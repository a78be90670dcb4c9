"""Quotes that come with a scope: texts of CSV, kept as the rows of the project's own tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from api.store.models import Project, ProjectQuote
from api.store.rate_tables import quotes_of, row_key
from api.store.sessions import WritingSession
from estimator.errors import Faults, TablesFaulty, did_you_mean, quoted

Cells = Mapping[str, str]


def check_quote_files(texts: Mapping[str, str]) -> None:
    """Refuse files that are no rate tables.

    Raises
    ------
    TablesFaulty
        Naming all of them.
    """
    from estimator.rates.folders import COLUMNS

    faults = Faults()
    for name in texts:
        if name not in COLUMNS:
            faults.add("", f"{quoted(name)} is not a rate table", did_you_mean(name, COLUMNS))
    faults.raise_if_any(TablesFaulty)


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
    fresh = list(_rows(texts))
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


def _rows(texts: Mapping[str, str]) -> Iterator[tuple[str, int, dict[str, str]]]:
    """Yield file, position and cells of each row, file by file."""
    from estimator.rates.folders import COLUMNS, TableFolder, table_rows

    faults = Faults()
    with TemporaryDirectory() as folder:
        for file, text in sorted(texts.items()):
            (Path(folder) / file).write_text(text, encoding="utf-8", newline="")
            rows = table_rows([TableFolder("quotes", Path(folder))], file, faults)
            for position, row in enumerate(rows):
                cells = {column: row.cells[column] for column in COLUMNS[file]}
                yield file, position, cells
    faults.raise_if_any(TablesFaulty)
