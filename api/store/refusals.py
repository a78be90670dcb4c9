"""Database errors turned into the store's own: one place, one sentence each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import AbstractContextManager

from sqlalchemy import Table, UniqueConstraint
from sqlalchemy.exc import (
    DatabaseError,
    DataError,
    DBAPIError,
    IntegrityError,
    OperationalError,
    StatementError,
)
from sqlalchemy.exc import (
    TimeoutError as NoConnectionFree,
)
from sqlalchemy.orm.exc import StaleDataError

from api.store.errors import (
    AlreadyThere,
    DiskFull,
    StillNeeded,
    StoreBusy,
    StoreFaulty,
    StoreUnfit,
    Unchangeable,
    ValueRefused,
    VersionStale,
)
from api.store.migrations.guards import MARK, OVERDRAWN
from api.store.models import Base, table_words
from estimator.errors import GroundsillError, fault

TAKEN = {
    "uq_loans_project_id": ("the project already has its loan", ""),
    "uq_draw_drafts_project_id": ("a draw is open already", "submit it, or close it"),
    "uq_draws_project_id_number_issue": ("that draw was submitted just now", "look at the list"),
    "uq_draw_steps_draw_id_step": ("that draw was decided or funded already", "look at it"),
    "uq_loan_papers_project_id_number": ("another paper came just now", "send it again"),
    "uq_loan_amendments_project_id_number": ("another amendment came just now", "send it again"),
    "uq_paper_withdrawals_project_id_number": ("that paper was taken back already", ""),
    "uq_documents_project_id_number": ("another document came just now", "send it again"),
    "uq_book_entries_project_id_number": ("another entry was posted just now", "send it again"),
    "uq_accepted_estimates_estimate_id": ("the estimate was accepted already", ""),
    "uq_accepted_estimates_project_id_number": ("another was accepted just now", "send it again"),
    "uq_estimate_lines_estimate_id_item_line": ("the estimate has that line already", ""),
    "uq_estimate_studies_estimate_id_kind_number": (
        "another study was made just now", "send it again",
    ),
    "uq_estimates_project_id_number": ("another estimate was made just now", "send it again"),
    "uq_items_phase_id_code": ("the phase has an item of that code already", "choose another"),
    "uq_phases_project_id_code": ("the project has a phase of that code already", "choose another"),
    "uq_project_shares_token_id_project_id": (
        "the project is shared with that token already", "",
    ),
    "uq_rate_sets_account_id_name": ("there is a set of that name already", "choose another"),
    "uq_rate_versions_draft": ("the set has a draft already", "publish or delete that first"),
    "uq_rate_versions_rate_set_id_number": ("another version was made just now", "send it again"),
    "uq_submissions_account_id_actor_key": ("the same submission came just now", "send it again"),
    "uq_tokens_digest": ("there is such a token already", "issue another"),
}  # fmt: skip

CLASHES = ("40001", "40P01")
_LOCK_NOT_GIVEN, _DISK_FULL = "55P03", "53100"
_UNIQUE, _FOREIGN, _CHECK = "23505", "23503", "23514"
_SQLITE_UNIQUE = re.compile(r"UNIQUE constraint failed: (.+)")
_SQLITE_CHECK = re.compile(r"CHECK constraint failed: (\w+)")
_DAMAGED = ("malformed", "not a database", "corrupt")
_AGAIN = "try again in a moment"
_RESTORE = "restore the newest backup that verifies"


class _StoreErrors:
    """A class of its own, since each statement enters one: a generator takes four times as long."""

    def __enter__(self) -> None:
        return None

    def __exit__(self, _kind: object, error: BaseException | None, _trace: object) -> None:
        if error is not None:
            _refuse(error)


_STORE_ERRORS = _StoreErrors()


def store_errors() -> AbstractContextManager[None]:
    """Raise what the database refuses as an error of the store."""
    return _STORE_ERRORS


def _refuse(error: BaseException) -> None:
    """Raise the error of the store that stands for one of the database; others go on."""
    if isinstance(error, StaleDataError):
        raise fault(
            VersionStale, "somebody else changed it after you read it", "read it again"
        ) from error
    if isinstance(error, NoConnectionFree):
        raise fault(StoreBusy, "every connection to the database is in use", _AGAIN) from error
    if isinstance(error, DBAPIError):
        if (refusal := _store_error(error)) is not None:
            raise refusal from error
    elif isinstance(error, StatementError) and isinstance(error.orig, GroundsillError):
        raise error.orig from None


def sql_state(error: DBAPIError) -> str:
    """Return PostgreSQL's code of what went wrong, empty on SQLite."""
    return getattr(error.orig, "sqlstate", None) or ""


def _store_error(error: DBAPIError) -> GroundsillError | None:
    text = str(error.orig)
    if MARK in text:
        what = f"{table_words(text.split(MARK)[1].split()[1])} are final"
        return fault(Unchangeable, what, "nothing was changed")
    if OVERDRAWN in text:
        what = "draws would take more of an entry than it bears"
        return fault(ValueRefused, what, "look at the draws that took it")
    if isinstance(error, IntegrityError):
        return _violated(error)
    if isinstance(error, DataError):
        return fault(ValueRefused, "a value does not fit its column")
    if isinstance(error, OperationalError):
        return _stopped(error)
    if isinstance(error, DatabaseError) and any(word in text for word in _DAMAGED):
        return fault(StoreFaulty, f"the database file is damaged: {text}", _RESTORE)
    return None


def _violated(error: IntegrityError) -> GroundsillError:
    text, state = str(error.orig), sql_state(error)
    unique, check = _SQLITE_UNIQUE.search(text), _SQLITE_CHECK.search(text)
    name = getattr(getattr(error.orig, "diag", None), "constraint_name", None) or ""
    if unique or state == _UNIQUE:
        name = _unique_name(unique[1].split(", ")) if unique else name
        what, remedy = TAKEN.get(name, ("it is there already", ""))
        return fault(AlreadyThere, what, remedy)
    if check or state == _CHECK:
        name = check[1] if check else name
        return fault(ValueRefused, f"a value breaks the rule {name.removeprefix('ck_')}")
    if state == _FOREIGN or "FOREIGN KEY" in text:
        return fault(StillNeeded, "other rows depend on it, or it names one that does not exist")
    return fault(ValueRefused, "a required value is missing")


def _unique_name(columns: list[str]) -> str:
    """Return the name of the constraint on columns that SQLite lists as `table.column`."""
    table = Base.metadata.tables[columns[0].split(".")[0]]
    wanted = [one.split(".")[1] for one in columns]
    for name, named in unique_columns(table):
        if named == wanted:
            return name
    return ""


def unique_columns(table: Table) -> Iterator[tuple[str, list[str]]]:
    """Yield the unique constraints and indexes of a table with their columns."""
    for constraint in table.constraints:
        if isinstance(constraint, UniqueConstraint):
            yield str(constraint.name), [column.name for column in constraint.columns]
    for index in table.indexes:
        if index.unique:
            yield str(index.name), [column.name for column in index.columns]


def _stopped(error: OperationalError) -> GroundsillError | None:
    text, state = str(error.orig), sql_state(error)
    if "database is locked" in text or state == _LOCK_NOT_GIVEN or state in CLASHES:
        return fault(StoreBusy, "the change waited too long for its turn", _AGAIN)
    if "no such table" in text or "no such column" in text:
        return fault(StoreUnfit, "the database is missing a part that this program needs", _RESTORE)
    if "disk is full" in text or state == _DISK_FULL:
        return fault(DiskFull, "the disk is full", "make room; nothing was lost")
    if "unable to open" in text or "readonly" in text:
        return fault(
            StoreUnfit, "the database file cannot be opened for writing", "check its folder"
        )
    if state.startswith(("08", "57")) or error.connection_invalidated or not state:
        return fault(StoreBusy, "the database cannot be reached", _AGAIN)
    return None
