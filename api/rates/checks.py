"""What `verify` asks of rate tables: the rows of each version are what its digest says."""

from __future__ import annotations

from sqlalchemy import Connection, select

from api.rates.rows import RateRow, RateVersion
from api.rates.stored_tables import content_digest
from api.store.models import table_of
from api.store.verify import checks_subject, damaged, grouped


@checks_subject
def check_versions(connection: Connection) -> None:
    """Compare the rows of each version with its digest."""
    versions = table_of(RateVersion)
    statement = select(versions.c.id, versions.c.content_digest)
    digest_of = {row.id: row.content_digest for row in connection.execute(statement)}
    order = ("rate_version_id", "file", "position", "id")
    with grouped(connection, table_of(RateRow), *order) as wholes:
        rows_digest = {
            key: content_digest((row["file"], row["cells"]) for row in rows) for key, rows in wholes
        }
    for key, digest in digest_of.items():
        if rows_digest.get(key, content_digest([])) != digest:
            raise damaged(f"rate_versions {key}", "its rows were altered")
