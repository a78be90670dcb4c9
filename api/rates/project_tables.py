"""The tables that a project is priced with: shipped, its rate set as published last, its quotes."""

from __future__ import annotations

from sqlalchemy import select

from api.calculations.rate_tables import QUOTES, SHIPPED, shipped_texts, tables_of
from api.store.models import Project, RateSet, RateVersion
from api.store.rate_tables import file_texts, quotes_of, rows_of
from api.store.sessions import AccountSession

__all__ = ["project_files", "tables_of"]


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
    found = {SHIPPED: dict(shipped_texts())}
    version = _newest_published(session, project)
    if version is not None:
        rate_set = session.existing(RateSet, version.rate_set_id)
        found[f"{rate_set.name} {version.number}"] = file_texts(rows_of(session, version.id))
    quotes = quotes_of(session, project.id)
    if quotes:
        found[QUOTES] = file_texts(quotes)
    return found


def _newest_published(session: AccountSession, project: Project) -> RateVersion | None:
    if project.rate_set_id is None:
        return None
    asked = select(RateVersion).where(
        RateVersion.rate_set_id == project.rate_set_id, RateVersion.published_at.is_not(None)
    )
    return session.scalars(asked.order_by(RateVersion.number.desc()).limit(1)).first()
