"""A draw on paper: cover, lines, backup, payees, evidence, changes, waivers, walk, balance."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimator.charts.palette import GRAY
from estimator.funding.draw_package import (
    BALANCE_NOTE,
    LENDERS_FORM,
    NOT_BEGUN,
    DrawPackage,
    cover_figures,
    split_figures,
)
from estimator.funding.draw_requests import DrawRequest
from estimator.funding.loan_rules import rules_of
from estimator.money import exact_arithmetic
from estimator.printed import draw_sheets as sheets
from estimator.printed.page_pen import Foot, PagePen, PrintColumn, PrintRow

NOTES = {
    "Lines": "Each line to date. Retainage is figured on what is done to date.",
    "Backup": "What this draw takes of each entry in the books; all draws together never take "
    "more than the entry. What is left may be drawn later.",
    "Payees": "Who gets how much of what is billed, before retainage. The owner is reimbursed "
    "for what was paid.",
    "Evidence": "Papers the terms ask for, and whether they are there on the last day of the draw.",
    "Changes": "Approved changes and transfers since the schedule was frozen.",
    "Waivers": "Waivers due with this draw. State law may set their form: ask the lender or a "
    "lawyer for it.",
    "Balance": BALANCE_NOTE,
    "Walk": "For the inspector: what is claimed, where to look, and room for the figure on site. "
    f"Post it as the inspector's, and the next version of the draw follows it. {NOT_BEGUN}",
}


@exact_arithmetic
def draw_pdf(package: DrawPackage) -> bytes:
    """Return a draw as the bytes of a PDF on letter paper; the same draw gives the same bytes.

    Parameters
    ----------
    package : DrawPackage
        Any draw, also one that is open.

    Notes
    -----
    Texts are set as text, whatever they look like: there are no links and no actions in the file.
    """
    request = package.request
    pen = PagePen(
        f"{package.title}, {request.through}",
        Foot(request.project, package.standing, package.mark),
    )
    _cover(pen, package)
    pen.sheet("Lines", is_wide=True)
    _table(pen, "Lines", sheets.LINES, sheets.line_rows(request))
    pen.section("Beside the lines")
    pen.table(sheets.BESIDE, sheets.beside_rows(request))
    pen.sheet("Backup", is_wide=True)
    _table(pen, "Backup", sheets.BACKUP, sheets.backup_rows(request))
    _papers(pen, request)
    _walk(pen, package)
    if package.balance is not None:
        pen.sheet("Balance", is_wide=False)
        _table(pen, "Balance", sheets.BALANCE, sheets.balance_rows(package.balance))
        pen.paragraph(package.balance.sentence, 9)
    return pen.content()


def _table(
    pen: PagePen, title: str, columns: Sequence[PrintColumn], rows: Iterable[PrintRow],
    pad_pt: float = 2.6,
) -> None:  # fmt: skip
    pen.paragraph(NOTES[title], color=GRAY)
    listed = list(rows)
    if listed:
        pen.table(columns, listed, pad_pt)
    else:
        pen.paragraph("There are none.")


def _cover(pen: PagePen, package: DrawPackage) -> None:
    request, terms = package.request, package.request.terms
    pen.sheet(f"{request.project}: {package.title}", is_wide=False)
    pen.paragraph(f"{request.since} to {request.through}. Lender: {terms.lender}.", 9)
    digest = f", digest {package.digest}" if package.digest else ": its figures may still move"
    pen.paragraph(f"State: {package.state}{digest}.")
    pen.paragraph(f"Entered by {request.known_on:%Y-%m-%d %H:%M} UTC.", color=GRAY)
    pen.paragraph(LENDERS_FORM)
    pen.table(sheets.FIGURES, sheets.figure_rows(cover_figures(request)))
    short = request.totals.short_funded_cents
    if short:
        pen.paragraph(f"Of that, ${sheets.money(short)} was granted before and not funded.")
    pen.section("Where the money comes from")
    pen.table(sheets.FIGURES, sheets.figure_rows(split_figures(request)))
    for title, sentences in (
        ("What became of it", package.steps),
        ("What the lender will ask about", package.notes),
    ):
        if sentences:
            pen.section(title)
            pen.sentences(sentences)


def _papers(pen: PagePen, request: DrawRequest) -> None:
    pen.sheet("Payees", is_wide=False)
    _table(pen, "Payees", sheets.PAYEES, sheets.payee_rows(request))
    pen.section("Evidence")
    _table(pen, "Evidence", sheets.EVIDENCE, sheets.evidence_rows(request))
    if request.stored:
        pen.section("Stored material and deposits")
        pen.table(sheets.STORED, sheets.stored_rows(request))
    if request.left_out:
        pen.section("Entries that this draw leaves out")
        pen.table(sheets.LEFT_OUT, sheets.left_out_rows(request))
    pen.section("Changes")
    _table(pen, "Changes", sheets.CHANGES, sheets.approved_change_rows(request))
    pen.section("Waivers")
    _table(pen, "Waivers", sheets.WAIVERS, sheets.waiver_rows(request))
    pen.section("Rules of the loan")
    pen.sentences(
        f"{one.name}: {one.words}{' (default)' if one.is_default else ''}"
        for one in rules_of(request.terms)
    )


def _walk(pen: PagePen, package: DrawPackage) -> None:
    request = package.request
    pen.sheet("Walk", is_wide=True)
    _table(pen, "Walk", sheets.WALK, sheets.walk_rows(request), sheets.WALK_PAD_PT)
    sentences = (*request.holds, *request.differences)
    if sentences:
        pen.section("To check")
        pen.sentences(sentences)
    pen.section("Checked by")
    pen.paragraph("Name ______________________________    Day ________________    "
                  "Signature ______________________________")  # fmt: skip
