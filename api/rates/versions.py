"""Versions of a rate set: drafts from other versions or tables, checking, publishing, comparing."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from sqlalchemy import select

from api.calculations.rate_tables import sent_folders, shipped_texts, tables_of
from api.contract.errors import FieldsFaulty
from api.contract.places import faults_at, parameter, pointer
from api.rates.project_tables import version_files
from api.rates.rate_shapes import NewDraft
from api.rates.rows import RateSet, RateVersion
from api.rates.stored_tables import check_is_draft, rows_of, start_draft
from api.rates.table_rows import Rows, rows_of_texts
from api.store.errors import NotFound, StillNeeded
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import fault, quoted
from estimator.rates.folders import SHIPPED

PREVIOUS = "previous"


def begin_draft(work: WritingSession, rate_set: RateSet, body: NewDraft) -> RateVersion:
    """Return a new draft of a set, with the rows of another version or of tables, or none.

    Raises
    ------
    FieldsFaulty
        If both are named, or the version is not one of the set.
    TablesFaulty
        If the tables are none.
    AlreadyThere
        If the set has a draft.
    """
    if body.from_version is not None and body.tables is not None:
        raise fault(
            FieldsFaulty, "'from_version' and 'tables' are both given", "give one of them",
            pointer("tables"),
        )  # fmt: skip
    rows: Rows = {}
    if body.from_version is not None:
        rows = _rows_of_version(work, rate_set, body.from_version)
    elif body.tables is not None:
        with faults_at(pointer("tables")):
            rows = rows_of_texts(body.tables)
    return start_draft(work, rate_set, rows, body.note)


def check_publishable(session: AccountSession, draft: RateVersion) -> None:
    """Refuse to publish a draft that prices nothing together with the shipped tables.

    Raises
    ------
    Unchangeable
        If it is published already.
    StillNeeded
        If it has no row.
    TablesFaulty
        With every fault of it, each with file and row.
    """
    check_is_draft(draft)
    if not draft.row_count:
        raise fault(StillNeeded, "the draft has no row", "add rows, or delete it")
    tables_of({SHIPPED: shipped_texts()} | version_files(session, draft))


def difference(
    session: AccountSession, rate_set: RateSet, version: RateVersion, other: str
) -> dict[str, Any]:
    """Return what changed from another state of the tables to a version, as pricing sees it.

    Parameters
    ----------
    session : AccountSession
    rate_set, version : RateSet, RateVersion
        Which version; the shipped tables lie below it.
    other : str
        `shipped`, `previous` or the id of a version of the set.

    Raises
    ------
    NotFound
        If the set has no such version.
    TablesFaulty
        If one of the two has faults, which a draft may have.
    """
    from estimator.studies.difference.rates_difference import rates_difference
    from estimator.studies.difference.rates_difference_json import rates_difference_fields

    shipped = {SHIPPED: dict(shipped_texts())}
    before = _other(session, rate_set, version, other)
    old = shipped | (version_files(session, before) if before else {})
    new = shipped | version_files(session, version)
    return rates_difference_fields(rates_difference(sent_folders(old), sent_folders(new)))


def _rows_of_version(work: WritingSession, rate_set: RateSet, version_id: UUID) -> Rows:
    try:
        version = work.existing(RateVersion, version_id, rate_set_id=rate_set.id)
    except NotFound:
        what = f"there is no {quoted(version_id)} among the versions of the set"
        raise fault(FieldsFaulty, what, where=pointer("from_version")) from None
    rows: Rows = {}
    for row in rows_of(work, version.id):
        rows.setdefault(row.file, []).append(dict(row.cells))
    return rows


def _other(
    session: AccountSession, rate_set: RateSet, version: RateVersion, name: str
) -> RateVersion | None:
    if name == SHIPPED:
        return None
    of_set = select(RateVersion).where(RateVersion.rate_set_id == rate_set.id)
    if name == PREVIOUS:
        before = of_set.where(
            RateVersion.number < version.number, RateVersion.published_at.is_not(None)
        )
        return session.scalars(before.order_by(RateVersion.number.desc()).limit(1)).first()
    try:
        version_id = UUID(name)
    except ValueError:
        raise fault(
            FieldsFaulty, f"{quoted(name)} is not a version", "give an id, 'previous' or 'shipped'",
            parameter("against"),
        ) from None  # fmt: skip
    return session.existing(RateVersion, version_id, rate_set_id=rate_set.id)
