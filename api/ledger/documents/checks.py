"""What `verify` asks of documents: the bytes are those that were sent."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, select

from api.ledger.documents.rows import DocumentContent
from api.store.models import table_of
from api.store.verify import checks_subject, damaged, streamed


@checks_subject
def check_documents(connection: Connection) -> None:
    """Compare each content with its digest and its size."""
    table = table_of(DocumentContent)
    with streamed(connection, select(table), table.info["at_once"]) as rows:
        for row in rows:
            digest = hashlib.sha256(row.content).hexdigest()
            if (digest, len(row.content)) != (row.digest, row.size):
                raise damaged(f"document_contents {row.digest}", "the content was altered")
