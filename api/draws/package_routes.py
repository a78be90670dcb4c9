"""`/v1/projects/{id}/draws/{id}/workbook`, `/pages.pdf`, `/lines.csv`: a draw to download."""

from __future__ import annotations

from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller
from api.calculations.scopes import WORKBOOK_TYPE
from api.contract.answers import attachment
from api.contract.blueprint import FILE_SCHEMA, Blueprint
from api.contract.services import services
from api.draws.draw_routes import ONE
from api.draws.rows import StoredDraw

PDF_TYPE, CSV_TYPE = "application/pdf", "text/csv"

packages = Blueprint("draw packages", __name__, description="Draw packages for the lender.")


@packages.get(f"{ONE}/workbook")
@packages.answers(FILE_SCHEMA, content_type=WORKBOOK_TYPE)
def download_draw_workbook(project_id: UUID, draw_id: UUID) -> Response:
    """Download a submitted draw as a workbook with live formulas: all sheets."""
    return _file(project_id, draw_id, ".xlsx", WORKBOOK_TYPE)


@packages.get(f"{ONE}/pages.pdf")
@packages.answers(FILE_SCHEMA, content_type=PDF_TYPE)
def download_pdf(project_id: UUID, draw_id: UUID) -> Response:
    """Download a submitted draw as pages for letter paper: all sheets."""
    return _file(project_id, draw_id, ".pdf", PDF_TYPE)


@packages.get(f"{ONE}/lines.csv")
@packages.answers({"type": "string"}, content_type=CSV_TYPE)
def download_csv(project_id: UUID, draw_id: UUID) -> Response:
    """Download the lines of a submitted draw as CSV."""
    return _file(project_id, draw_id, ".csv", f"{CSV_TYPE}; charset=utf-8")


def _file(project_id: UUID, draw_id: UUID, ending: str, content_type: str) -> Response:
    from api.draws.packages import package_of, written

    with services().store.reading(current_caller()) as session:
        draw = session.existing(StoredDraw, draw_id, project_id=project_id)
        package = package_of(session, draw)
    content = written(package, ending)
    headers = {"Content-Disposition": attachment(package.name, ending)}
    return Response(content, content_type=content_type, headers=headers)
