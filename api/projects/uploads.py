"""Scopes that are sent whole: read with the project's tables and stored, all or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast
from uuid import UUID

from api.calculations.scopes import (
    QUOTES,
    SCOPE,
    check_size,
    located_file,
    located_scope,
    note_folders,
)
from api.calculations.size_limits import check_paces
from api.contract.bodies import check_media_type
from api.contract.places import faults_at
from api.projects.heads import new_project
from api.projects.rows import Project
from api.projects.scope_shapes import NewScope
from api.projects.stored_scope import store_head, store_scope
from api.rates.project_tables import expect_tables, project_files, tables_of, tables_tag
from api.rates.sent_quotes import store_quotes
from api.rates.table_rows import Rows, rows_of_texts
from api.store.errors import ValueRefused
from api.store.models.base import CODE_LENGTH, NAME_LENGTH
from api.store.sessions import AccountSession
from api.store.writing_session import WritingSession
from estimator.errors import Faults
from estimator.rates.folders import QUOTES as QUOTES_SET
from estimator.scope.title_block import TITLE_KEYS

if TYPE_CHECKING:
    from estimator.scope.located import Located, Section

# Most characters stored of texts that may be longer in a scope file.
_MOST_OF_HEAD = {
    "project": NAME_LENGTH, "shift": CODE_LENGTH, "day_worth": CODE_LENGTH,
    **dict.fromkeys(TITLE_KEYS, NAME_LENGTH),
}  # fmt: skip
_MOST_OF_PHASE = {"name": NAME_LENGTH}
_MOST_OF_ITEM = {
    "name": NAME_LENGTH, "crew": CODE_LENGTH, "element": CODE_LENGTH, "method": NAME_LENGTH
}  # fmt: skip


@dataclass(frozen=True)
class Upload:
    """A scope as it was sent.

    Parameters
    ----------
    located : Text, Listing or Section
        What it says, with the place of everything.
    quotes : mapping of str to str, or None
        Texts of CSV by file name; None leaves the project's quotes as they are.
    place : str
        The pointer to the scope in the body; empty if the body is a file.
    slips : Faults
        What is wrong with the form of the scope; it comes with whatever else is.
    """

    located: Located
    quotes: Mapping[str, str] | None
    place: str
    slips: Faults

    def placed(self) -> AbstractContextManager[None]:
        """Place the faults of the scope in the body."""
        return faults_at(self.place) if self.place else nullcontext()


def upload_of_file(kind: str) -> Upload:
    """Return the scope that is the body, a file of one of `FILE_TYPES`.

    Raises
    ------
    MediaTypeUnfit, BodyFaulty, ScopeFaulty, WorkbookRefused
        As the body asks for.
    """
    slips = Faults()
    return Upload(located_file(check_media_type([kind]), slips), None, "", slips)


def upload_of_body(body: NewScope) -> Upload:
    """Return the scope that a body gives, with its quotes."""
    slips = Faults()
    with faults_at(SCOPE):
        return Upload(located_scope(body.scope, slips), body.quotes, SCOPE, slips)


@dataclass(frozen=True)
class ReadyScope:
    """A scope that was read before the turn to write, and what it was read with.

    Parameters
    ----------
    upload : Upload
        As it was sent.
    written : mapping
        What it says, as plain JSON.
    quotes : mapping of str to list of dict, or None
        The rows of its quotes by file.
    tables_tag : str
        Of the tables that the project had.
    """

    upload: Upload
    written: Mapping[str, Any]
    quotes: Rows | None
    tables_tag: str


def read_upload(session: AccountSession, project: Project, upload: Upload) -> ReadyScope:
    """Return a scope once the library has read it with the tables of a project.

    Raises
    ------
    ScopeFaulty, TablesFaulty, BodyTooLarge, ValueRefused
        With every fault at its place.
    """
    from estimator.scope.located import without_places
    from estimator.scope.scope_reader import read_scope

    with upload.placed():
        check_size(upload.located)
    files, quotes = dict(project_files(session, project)), upload.quotes
    if quotes is not None:
        files.pop(QUOTES_SET, None)
    with faults_at(QUOTES):
        if quotes:
            files[QUOTES_SET] = dict(quotes)
        tables = tables_of(files)
    with upload.placed():
        note_folders(upload.located, tables.sets, upload.slips)
        check_paces(read_scope(upload.located, tables, slips=upload.slips))
        _check_lengths(cast("Section", upload.located))
    rows = None if quotes is None else rows_of_texts(quotes)
    written = cast("dict[str, Any]", without_places(upload.located))
    return ReadyScope(upload, written, rows, tables_tag(session, project))


def project_of_upload(work: WritingSession, ready: ReadyScope, rate_set_id: UUID | None) -> Project:
    """Return a new project that a scope describes.

    Raises
    ------
    FieldsFaulty
        If the account has no such set of rates.
    ChangedMeanwhile
        If its rates are not those that the scope was read with.
    """
    project = new_project(work, "new", rate_set_id)
    expect_tables(work, project, ready.tables_tag)
    store_head(project, ready.written)
    work.add(project)
    _store(work, project, ready)
    return project


def replace_scope(work: WritingSession, project: Project, ready: ReadyScope) -> None:
    """Put a scope in the place of all that a project says.

    Raises
    ------
    StillNeeded
        With every fault at its place.
    ChangedMeanwhile
        If the rates are not those that the scope was read with.
    """
    before = project.version
    expect_tables(work, project, ready.tables_tag)
    _store(work, project, ready)
    work.flush()
    if project.version == before:  # only phases and items say something else
        project.version += 1


def _store(work: WritingSession, project: Project, ready: ReadyScope) -> None:
    if ready.quotes is not None:
        store_quotes(work, project, ready.quotes)
    with ready.upload.placed():
        store_scope(work, project, ready.written)


def _check_lengths(scope: Section) -> None:
    """Refuse texts that are too long to store, naming all of them."""
    from estimator.scope.located import Text

    faults = Faults()
    for section, bounds in _bounded(scope):
        for key, most in bounds.items():
            text = section.entries.get(key)
            if isinstance(text, Text) and len(" ".join(text.value.split())) > most:
                faults.add(text.where, f"{key} is longer than {most} letters", "shorten it")
    faults.raise_if_any(ValueRefused)


def _bounded(scope: Section) -> Iterator[tuple[Section, Mapping[str, int]]]:
    yield scope, _MOST_OF_HEAD
    for phase in _sections(scope, "phases"):
        yield phase, _MOST_OF_PHASE
        for item in _sections(phase, "items"):
            yield item, _MOST_OF_ITEM


def _sections(section: Section, key: str) -> Iterator[Section]:
    from estimator.scope.located import Listing, Section

    listing = section.entries.get(key)
    for part in listing.parts if isinstance(listing, Listing) else ():
        if isinstance(part, Section):
            yield part
