"""The package of a draw for the lender: as a workbook, on paper, as CSV."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from uuid import UUID

from api.draws.rows import StoredDraw
from api.draws.shown_draws import checked_request, step_json, step_words
from api.draws.stored_draws import granted_request, is_granted, state_of, steps_of
from api.store.sessions import AccountSession
from estimator.funding.draw_package import DrawPackage

WORKBOOK, PAGES, LINES = ".xlsx", ".pdf", ".csv"


def package_of(session: AccountSession, draw: StoredDraw) -> DrawPackage:
    """Return a submitted draw ready to print: as it was granted, if it was.

    Raises
    ------
    StoreFaulty
        If it is not what its digest says.
    """
    steps, request = steps_of(session, StoredDraw.id == draw.id)[draw.id], checked_request(draw)
    if is_granted(steps):
        request = granted_request(steps)
    words = tuple(step_words(step_json(one)) for one in steps)
    return DrawPackage(request, state_of(steps), draw.digest, words)


def with_balance(session: AccountSession, package: DrawPackage, project_id: UUID) -> DrawPackage:
    """Return a package with the balance of the loan on the draw's last day, before the draw.

    It is the owner's to hand out: a lender's own download has none.
    """
    from api.draws.cash import cash_of
    from estimator.funding.cash_from_books import CashFacts

    request = package.request
    cash = cash_of(session, project_id, request.through, request.known_on, CashFacts())
    return replace(package, balance=cash.balance())


def written(package: DrawPackage, ending: str) -> bytes:
    """Return a package as the bytes of a file.

    Parameters
    ----------
    package : DrawPackage
        See `package_of`.
    ending : str
        `.xlsx`, `.pdf`, or `.csv` for the lines alone.
    """
    return _WAYS[ending](package)


def _workbook(package: DrawPackage) -> bytes:
    from estimator.workbook.draw_workbook import draw_bytes

    return draw_bytes(package)


def _pages(package: DrawPackage) -> bytes:
    from estimator.printed.draw_pages import draw_pdf

    return draw_pdf(package)


def _lines(package: DrawPackage) -> bytes:
    from estimator.workbook.draw_csv import draw_csv

    return draw_csv(package).encode()


_WAYS: Mapping[str, Callable[[DrawPackage], bytes]] = {
    WORKBOOK: _workbook,
    PAGES: _pages,
    LINES: _lines,
}
