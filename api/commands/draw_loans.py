"""`groundsill draw loan` and `draw amend`: the terms of the loan, and what is agreed later."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from api.commands.own_draws import carried_out, project_option, reading
from api.commands.text_file import file_text

if TYPE_CHECKING:
    from uuid import UUID

    from api.store.writing_session import WritingSession

_json = click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
_REMEDY = "save it as UTF-8"
_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command()
@click.argument("terms", type=_FILE, required=False)
@project_option
@_json
def loan(terms: Path | None, project: str | None, *, as_json: bool) -> None:
    """Read the loan's TERMS and freeze its schedule; without TERMS, show the loan as it stands.

    The schedule of values comes from the budget as it is when the terms are read.
    """
    from api.commands.draw_shown import show_loan
    from api.draws.amended_loans import loan_json
    from api.draws.loan_file import read_loan_file
    from api.draws.loans import freeze_loan, stored_loan

    if terms is None:
        shown = reading(
            project, lambda session, of, now: loan_json(session, stored_loan(session, of), now)
        )
    else:
        body = read_loan_file(file_text(terms, _REMEDY), terms.name)
        shown = carried_out(
            project, lambda work, of: loan_json(work, freeze_loan(work, of, body), work.at)
        )
    show_loan(shown, as_json=as_json)


@click.command()
@click.argument("amendment", type=_FILE)
@project_option
@_json
def amend(amendment: Path, project: str | None, *, as_json: bool) -> None:
    """Read an AMENDMENT to the loan: an extension, a new rate, an approval, effective on a day."""
    from api.commands.draw_shown import show_loan
    from api.draws.amended_loans import amend_loan, loan_json
    from api.draws.loan_file import read_amendment_file
    from api.draws.loans import stored_loan

    body = read_amendment_file(file_text(amendment, _REMEDY), amendment.name)

    def change(work: WritingSession, of: UUID) -> dict[str, Any]:
        amend_loan(work, of, body)
        return loan_json(work, stored_loan(work, of), work.at)

    show_loan(carried_out(project, change), as_json=as_json)
