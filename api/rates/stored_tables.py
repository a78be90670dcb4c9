"""Versions of rate tables: drafts, their rows, publishing, and their text as the library reads it.

A published version is final. To change rates one starts a draft from any version, edits its
rows, and publishes it under the next number.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from uuid import UUID

from sqlalchemy import delete, func, insert, select

from api.rates.rows import ProjectQuote, RateRow, RateSet, RateVersion
from api.store.columns import canonical_json
from api.store.errors import Unchangeable
from api.store.models import table_of
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import fault

Cells = Mapping[str, str]

_ROWS = table_of(RateRow)
_ORDER = (RateRow.file, RateRow.position, RateRow.id)


def start_draft(
    work: WritingSession, rate_set: RateSet, rows: Mapping[str, Sequence[Cells]], note: str = ""
) -> RateVersion:
    """Return a new draft of a set with rows by file, such as `resources.csv`.

    Raises
    ------
    AlreadyThere
        If the set has a draft.
    """
    statement = select(func.max(RateVersion.number)).where(RateVersion.rate_set_id == rate_set.id)
    draft = RateVersion(
        rate_set_id=rate_set.id,
        number=(work.scalar(statement) or 0) + 1,
        note=note,
        created_at=work.at,
        published_at=None,
        content_digest=content_digest([]),
        row_count=0,
    )
    work.add(draft)
    replace_rows(work, draft, rows)
    return draft


def replace_rows(
    work: WritingSession, draft: RateVersion, rows: Mapping[str, Sequence[Cells]]
) -> None:
    """Put other rows in the place of all rows of a draft."""
    check_is_draft(draft)
    connection = work.connection()
    connection.execute(delete(_ROWS).where(_ROWS.c.rate_version_id == draft.id))
    written = [
        {
            "account_id": draft.account_id,
            "rate_version_id": draft.id,
            "file": file,
            "row_key": row_key(file, cells),
            "cells": dict(cells),
            "position": position,
            "version": 1,
        }
        for file, of_file in rows.items()
        for position, cells in enumerate(of_file)
    ]
    if written:
        connection.execute(insert(RateRow), written)
    recount(work, draft)


def recount(work: WritingSession, draft: RateVersion) -> None:
    """Note in a draft what its rows say now; to be called after every change of its rows."""
    work.flush()
    columns = select(RateRow.file, RateRow.cells)  # an object a row would take three times as long
    of_draft = columns.where(RateRow.rate_version_id == draft.id).order_by(*_ORDER)
    rows = [(file, cells) for file, cells in work.execute(of_draft)]
    draft.row_count = len(rows)
    draft.content_digest = content_digest(rows)
    work.flush()


def publish(work: WritingSession, draft: RateVersion) -> None:
    """Make a draft final, as its rows are now.

    Raises
    ------
    Unchangeable
        If it is published already.
    """
    check_is_draft(draft)
    recount(work, draft)
    draft.published_at = work.at
    work.flush()


def delete_draft(work: WritingSession, draft: RateVersion) -> None:
    """Take a draft away with its rows."""
    check_is_draft(draft)
    work.connection().execute(delete(_ROWS).where(_ROWS.c.rate_version_id == draft.id))
    work.delete(draft)


def rows_of(session: AccountSession, version_id: UUID) -> Sequence[RateRow]:
    """Return the rows of a version, file by file, in their order."""
    return session.scalars(
        select(RateRow).where(RateRow.rate_version_id == version_id).order_by(*_ORDER)
    ).all()


def quotes_of(session: AccountSession, project_id: UUID) -> Sequence[ProjectQuote]:
    """Return the quotes of a project, file by file, in their order."""
    order = (ProjectQuote.file, ProjectQuote.position, ProjectQuote.id)
    return session.scalars(
        select(ProjectQuote).where(ProjectQuote.project_id == project_id).order_by(*order)
    ).all()


def file_texts(rows: Iterable[RateRow | ProjectQuote]) -> dict[str, str]:
    """Return rows as the texts of CSV files, by file name, as the library reads them."""
    return cells_texts((row.file, row.cells) for row in rows)


def cells_texts(rows: Iterable[tuple[str, Cells]]) -> dict[str, str]:
    """Return cells of rows, each with its file, as the texts of those files."""
    from estimator.rates.folders import COLUMNS
    from estimator.rates.written_folder import table_text

    by_file: dict[str, list[Cells]] = {}
    for file, cells in rows:
        by_file.setdefault(file, []).append(cells)
    return {file: table_text(COLUMNS[file], of_file) for file, of_file in sorted(by_file.items())}


def row_key(file: str, cells: Cells) -> str:
    """Return what tells a row from the others of its file, such as code and date."""
    from estimator.studies.difference.rates_difference import KEYS

    return " ".join(cells.get(column, "") for column in KEYS[file])


def content_digest(rows: Iterable[tuple[str, Cells]]) -> str:
    """Return the SHA-256 of rows in their order, each with its file.

    Examples
    --------
    >>> content_digest([])[:16]
    '4f53cda18c2baa0c'
    """
    return hashlib.sha256(
        canonical_json([[file, dict(cells)] for file, cells in rows]).encode()
    ).hexdigest()


def check_is_draft(version: RateVersion) -> None:
    """Refuse to change a version that is published.

    Raises
    ------
    Unchangeable
        Telling what to do instead.
    """
    if version.published_at is not None:
        raise fault(Unchangeable, f"version {version.number} is published", "start a draft from it")
