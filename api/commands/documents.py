"""`groundsill documents`: pictures and PDFs of a job, by spot and by row of the books."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from api.commands.body_options import read_body, stated_options
from api.commands.options import force_option
from api.commands.own_books import own_books
from api.commands.whole_help import Commands

if TYPE_CHECKING:
    from api.ledger.documents.rows import StoredDocument

_project_option = click.option("--project", help="Name of the project, if several are open.")
_json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")


@click.group(cls=Commands)
def documents() -> None:
    """Store pictures and PDFs of a job, and find them by where they were taken."""


@documents.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--to", "entry", metavar="ROW", help="Row of the books that it belongs to.")
@click.option("--spot", help="Where the picture was taken, such as 'north wall, bay 3'.")
@click.option("--code", help="Cost code, such as 30.020.")
@click.option("--taken", metavar="DATE", help="Date taken, if the camera did not record it.")
@click.option("--note", help="A note.")
@_project_option
@_json_option
def add(file: Path, project: str | None, *, as_json: bool, **options: Any) -> None:
    """Add FILE, a JPEG or PNG picture or a PDF, to the documents of a job."""
    from api.ledger.documents.document_shapes import NewDocument, document_json
    from api.ledger.documents.stored_documents import add_document, read_document
    from api.ledger.opened_books import project_named
    from api.store.writing_session import WritingSession
    from estimator.errors import LedgerFaulty

    fields = {"name": file.name, **stated_options(**options)}
    body: NewDocument = read_body(NewDocument, fields, LedgerFaulty)
    most_file, most_together = _most_bytes()
    read = read_document(body, _bytes_of(file, most_file))

    def change(work: WritingSession) -> StoredDocument:
        return add_document(work, project_named(work, project).id, read, most_together)

    with own_books() as (store, caller, now):
        document = store.carry_out(caller, now, change)
    if as_json:
        click.echo(json.dumps(document_json(document), ensure_ascii=False))
        return
    of = f", to row {document.entry}" if document.entry else ""
    click.echo(f"Document {document.number} is added: {document.name} of {document.dated}{of}")
    for note in document.notes:
        click.echo(f"Note: {note}.")


@documents.command("list")
@click.option("--spot", help="Only those of this spot.")
@click.option("--code", help="Only those of this cost code.")
@click.option(
    "--to", "entry", type=click.IntRange(1), metavar="ROW", help="Only those of this row."
)
@_project_option
@_json_option
def list_documents(project: str | None, *, as_json: bool, **of: Any) -> None:
    """List the documents of a job by date."""
    from api.ledger.documents.document_shapes import DocumentQuery, document_json
    from api.ledger.documents.document_statements import ORDER, documents_matching
    from api.ledger.opened_books import project_named

    with own_books() as (store, caller, _), store.reading(caller) as session:
        project_id = project_named(session, project).id
        statement = documents_matching(caller, project_id, DocumentQuery(**of))
        listed = list(session.scalars(statement.order_by(*ORDER)))
    if as_json:
        shown = [document_json(one) for one in listed]
        click.echo(json.dumps({"documents": shown}, ensure_ascii=False))
    else:
        _show(listed)


@documents.command()
@click.argument("number", type=click.IntRange(1))
@click.argument("out", type=click.Path(path_type=Path))
@_project_option
@force_option
def get(number: int, out: Path, project: str | None, *, force: bool) -> None:
    """Write document NUMBER to the file OUT exactly as it was added."""
    from api.ledger.documents.content_types import ENDINGS
    from api.ledger.documents.document_statements import content_of, document_numbered
    from api.ledger.opened_books import project_named
    from estimator.written_files import write_files

    with own_books() as (store, caller, _), store.reading(caller) as session:
        document = document_numbered(session, project_named(session, project).id, number)
        content = content_of(session, document)
    endings = ENDINGS[document.media_type]
    if out.suffix.lower() not in endings:
        raise click.UsageError(f"OUT takes a file that ends in {' or '.join(endings)}.")
    write_files({out: content}, force=force)
    click.echo(f"Written: {out}.", err=True)


def _most_bytes() -> tuple[int, int]:
    """Return how long one file may be, and all documents together, by the settings."""
    import os

    from api.settings import read_settings

    settings = read_settings(os.environ)
    return settings.largest_upload_bytes, settings.most_document_bytes


def _bytes_of(file: Path, most: int) -> bytes:
    from estimator.errors import LedgerFaulty, fault

    if not file.is_file():
        raise fault(LedgerFaulty, "is not a file", "name a picture or a PDF", str(file))
    with file.open("rb") as opened:
        content = opened.read(most + 1)
    if len(content) > most:
        what = f"the file is longer than {most:,} bytes"
        raise fault(LedgerFaulty, what, "save it smaller", str(file))
    return content


def _show(listed: list[StoredDocument]) -> None:
    from api.commands.printing import page, show_table, table

    shown = table(
        ("No.", "number"), ("Day", "code"), ("Spot", "text"), ("Code", "code"), ("Row", "number"),
        ("Name", "text"),
    )  # fmt: skip
    for one in listed:
        row = "" if one.entry is None else str(one.entry)
        shown.add_row(str(one.number), str(one.dated), one.spot, one.code, row, one.name)
    with page() as out:
        if listed:
            show_table(out, shown)
        else:
            out.print("There are no documents.")
