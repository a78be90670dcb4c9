"""`/v1/projects/{id}/documents`: pictures and PDFs, handed out to keep and never to run."""

from __future__ import annotations

from uuid import UUID

from flask import Response, request

from api.access.rows import list_page
from api.access.sign_in import current_caller
from api.contract.answers import attachment, json_answer
from api.contract.blueprint import FILE_SCHEMA, Blueprint
from api.contract.bodies import check_media_type, takes_upload
from api.contract.services import services
from api.contract.submissions import create_row, creation
from api.ledger.documents.content_types import ENDINGS
from api.ledger.documents.document_shapes import (
    DocumentAnswer,
    DocumentPage,
    DocumentQuery,
    NewDocument,
    document_json,
)
from api.ledger.documents.rows import StoredDocument
from api.projects.project_routes import ONE as PROJECT
from api.projects.rows import Project
from api.store.sessions import AccountSession, not_found
from api.store.submissions import StoredAnswer
from api.store.writing_session import WritingSession

AT = f"{PROJECT}/documents"
ONE = f"{AT}/<uuid:document_id>"
_ANY_FILE = "application/octet-stream"  # so that no browser shows it in its own page
# One that does not know what it sends says so, and the content decides.
_TAKEN = (*ENDINGS, _ANY_FILE)

documents = Blueprint("documents", __name__, description="Pictures and PDFs of a project.")


@documents.post(AT)
@documents.asks(NewDocument)
@documents.takes_file(_TAKEN)
@documents.answers(DocumentAnswer, 201)
@documents.creates
@takes_upload
def add_document(query: NewDocument, project_id: UUID) -> Response:
    """Add a picture or a PDF to a project, and to a row of its books if that is named."""
    from api.ledger.documents import stored_documents

    parts, read = services(), list[stored_documents.ReadDocument]()

    def prepare() -> None:
        stated = check_media_type(_TAKEN)
        with parts.store.reading(current_caller()) as session:  # before the file is looked at
            session.existing(Project, project_id)
        known = None if stated == _ANY_FILE else stated
        read[:] = [stored_documents.read_document(query, request.get_data(), known)]

    def create(work: WritingSession) -> StoredAnswer:
        most = parts.settings.most_document_bytes
        document = stored_documents.add_document(work, project_id, read[0], most)
        where = f"/v1/projects/{project_id}/documents/{document.id}"
        return creation(where, document_json(document))

    return create_row(parts, current_caller(), create, prepare)


@documents.get(AT)
@documents.asks(DocumentQuery)
@documents.answers(DocumentPage)
def list_documents(query: DocumentQuery, project_id: UUID) -> Response:
    """List documents by date: those of one spot show how it changed."""
    from api.ledger.documents.document_statements import ORDER, documents_matching

    statement = documents_matching(current_caller(), project_id, query)
    return list_page(
        "documents", DocumentAnswer, statement, ORDER, query,
        within=lambda session: session.existing(Project, project_id),
    )  # fmt: skip


@documents.get(ONE)
@documents.answers(DocumentAnswer)
def describe_document(project_id: UUID, document_id: UUID) -> Response:
    """Show what is known about a document."""
    with services().store.reading(current_caller()) as session:
        return json_answer(document_json(_seen(session, project_id, document_id)))


@documents.get(f"{ONE}/content")
@documents.answers(FILE_SCHEMA, content_type=_ANY_FILE)
def download_document(project_id: UUID, document_id: UUID) -> Response:
    """Download a document exactly as it was added."""
    from api.ledger.documents.document_statements import content_of, name_to_keep

    with services().store.reading(current_caller()) as session:
        document = _seen(session, project_id, document_id)
        content = content_of(session, document)
    headers = {"Content-Disposition": attachment(*name_to_keep(document))}
    return Response(content, content_type=_ANY_FILE, headers=headers)


def _seen(session: AccountSession, project_id: UUID, document_id: UUID) -> StoredDocument:
    from api.ledger.documents.document_statements import documents_seen

    session.existing(Project, project_id)
    statement = documents_seen(session.caller, project_id)
    document = session.scalar(statement.where(StoredDocument.id == document_id))
    if document is None:
        raise not_found(StoredDocument, document_id)
    return document
