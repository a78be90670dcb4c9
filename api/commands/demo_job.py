"""The whole job of the invented sample in a database of its own, which is gone afterwards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from decimal import Decimal
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from uuid import UUID

    from api.store.sessions import AccountSession
    from estimator.funding.credit_from_books import CreditFile
    from estimator.funding.draw_package import DrawPackage
    from estimator.tracking.job_outlook import Outlook
    from estimator.tracking.job_track import Track

_BASIS = Decimal(90_000)  # of the building without its land; invented
_IN_SERVICE = date(2026, 12, 1)
_DRAWS = (1, 2)
TRACKING, PAGES, WORKBOOK = "tracking.xlsx", "draw-02.pdf", "draw-02.xlsx"


@dataclass(frozen=True)
class DemoJob:
    """What the books of the sample say after ten weeks.

    Parameters
    ----------
    report, ahead : Track, Outlook
        Where the job stands, and where it is going.
    draws : tuple of DrawPackage
        As they were granted.
    credit : CreditFile
        Of the rehabilitation credit.
    files : mapping of str to bytes
        What is written, by name.
    """

    report: Track
    ahead: Outlook
    draws: tuple[DrawPackage, ...]
    credit: CreditFile
    files: Mapping[str, bytes]


def whole_job() -> DemoJob:
    """Open the sample's books, fill them, draw twice, and return what they say."""
    from api.access.first_account import own_account
    from api.commands.opened_store import opened_store
    from api.draws.sample_draws import draw_twice
    from api.ledger.sample_books import open_sample
    from api.store.caller import Caller
    from estimator.sample.ten_weeks import ACCEPTED

    with TemporaryDirectory(prefix="groundsill-demo-") as folder:
        environ = {"GROUNDSILL_DATA_FOLDER": folder}
        with opened_store(environ, is_made=True) as store:
            caller = Caller(own_account(store, ACCEPTED))
            opened, _ = open_sample(store, caller)
            draw_twice(store, caller, opened.project_id)
            with store.reading(caller) as session:
                return _read(session, opened.project_id)


def _read(session: AccountSession, project_id: UUID) -> DemoJob:
    from api.draws.packages import package_of, with_balance, written
    from api.draws.shown_draws import draw_numbered
    from api.ledger.credit_files import credit_file_of
    from api.ledger.outlooks import outlook_of
    from api.ledger.reports import track_of, workbook_of
    from estimator.funding.tax_credit import MONTHS
    from estimator.sample.ten_weeks import LAST_DAY

    known_on = datetime.combine(LAST_DAY, time.max, UTC)
    report = track_of(session, project_id, LAST_DAY, known_on)
    draws = tuple(
        package_of(session, draw_numbered(session, project_id, number)) for number in _DRAWS
    )
    ahead = outlook_of(session, project_id, report)
    handed_out = with_balance(session, draws[-1], project_id)
    return DemoJob(
        report=report,
        ahead=ahead,
        draws=draws,
        credit=credit_file_of(
            session, project_id, LAST_DAY, known_on, _IN_SERVICE, _BASIS, months=MONTHS,
            is_cash_basis=False,
        ),
        files={
            TRACKING: workbook_of(session, project_id, report, ahead),
            PAGES: written(handed_out, ".pdf"),
            WORKBOOK: written(handed_out, ".xlsx"),
        },
    )  # fmt: skip
