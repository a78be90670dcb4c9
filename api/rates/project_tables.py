"""The tables that a project is priced with: shipped, its rate set as published last, its quotes."""

from __future__ import annotations

from sqlalchemy import select

from api.calculations.rate_tables import shipped_texts, tables_of
from api.contract.preconditions import whole_tag
from api.projects.rows import Project
from api.rates.rows import ProjectQuote, RateSet, RateVersion
from api.rates.stored_tables import file_texts, quotes_of, rows_of
from api.store.errors import ChangedMeanwhile
from api.store.sessions import AccountSession
from estimator.errors import fault
from estimator.rates.folders import QUOTES, SHIPPED

__all__ = ["project_files", "tables_of", "version_files"]


def project_files(session: AccountSession, project: Project) -> dict[str, dict[str, str]]:
    """Return the sets that a project is priced with, lowest first.

    Parameters
    ----------
    session : AccountSession
        Of somebody who sees rates: the owner or a bookkeeper.
    project : Project

    Returns
    -------
    dict of str to dict of str to str
        By the name of the set, texts of CSV by file name: `shipped`; the project's rate set with
        the number of its newest published version, such as `Valley 3`; and `quotes`.
    """
    files = {SHIPPED: dict(shipped_texts())}
    version = _newest_published(session, project)
    if version is not None:
        files |= version_files(session, version)
    quotes = quotes_of(session, project.id)
    if quotes:
        files[QUOTES] = file_texts(quotes)
    return files


def tables_tag(session: AccountSession, project: Project) -> str:
    """Return the tag of the tables that a project is priced with, which every change changes."""
    version = _newest_published(session, project)
    quotes = select(ProjectQuote.id, ProjectQuote.version)
    statement = quotes.where(ProjectQuote.project_id == project.id).order_by(ProjectQuote.id)
    published = [(version.id, version.version)] if version else []
    return whole_tag([*published, *((key, at) for key, at in session.execute(statement))])


def expect_tables(work: AccountSession, project: Project, tag: str) -> None:
    """Refuse to go on with what was read with other tables than a project has now.

    Raises
    ------
    ChangedMeanwhile
        If their tag differs.
    """
    if tables_tag(work, project) != tag:
        what = "the rates were changed each time this was read"
        raise fault(ChangedMeanwhile, what, "try again in a moment")


def version_files(session: AccountSession, version: RateVersion) -> dict[str, dict[str, str]]:
    """Return the texts of a version under its name, such as `Valley 3`; nothing if it is empty."""
    if not version.row_count:
        return {}
    rate_set = session.existing(RateSet, version.rate_set_id)
    return {f"{rate_set.name} {version.number}": file_texts(rows_of(session, version.id))}


def _newest_published(session: AccountSession, project: Project) -> RateVersion | None:
    if project.rate_set_id is None:
        return None
    statement = select(RateVersion).where(
        RateVersion.rate_set_id == project.rate_set_id, RateVersion.published_at.is_not(None)
    )
    return session.scalars(statement.order_by(RateVersion.number.desc()).limit(1)).first()
