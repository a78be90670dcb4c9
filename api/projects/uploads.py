"""Scopes that are sent whole: read with the project's tables and kept, all of it or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from api.calculations.rate_tables import QUOTES as QUOTES_SET
from api.calculations.scopes import (
    QUOTES,
    SCOPE,
    check_quotes,
    check_size,
    located_file,
    located_scope,
)
from api.contract.bodies import check_media_type
from api.contract.places import faults_at
from api.projects.heads import new_project
from api.projects.kept_scope import keep_head, keep_scope
from api.projects.rows import Project
from api.rates.project_tables import project_files, tables_of
from api.rates.sent_quotes import keep_quotes
from api.store.errors import ValueRefused
from api.store.models.base import CODE_LENGTH, NAME_LENGTH
from api.store.sessions import WritingSession
from estimator.errors import Faults

if TYPE_CHECKING:
    from estimator.scope.located import Located, Section

# Letters that are kept of texts which a scope file may have longer.
_MOST_OF_HEAD = {"project": NAME_LENGTH, "shift": CODE_LENGTH, "day_worth": CODE_LENGTH}
_MOST_OF_PHASE = {"name": NAME_LENGTH}
_MOST_OF_ITEM = {"name": NAME_LENGTH, "crew": CODE_LENGTH, "element": CODE_LENGTH}


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
    """

    located: Located
    quotes: Mapping[str, str] | None
    place: str

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
    return Upload(located_file(check_media_type([kind])), None, "")


def upload_of_fields(asked: Mapping[str, Any]) -> Upload:
    """Return the scope that the fields `scope` and `quotes` of a body give."""
    with faults_at(SCOPE):
        return Upload(located_scope(asked["scope"]), asked.get("quotes"), SCOPE)


def project_of_upload(work: WritingSession, asked: Mapping[str, Any]) -> Project:
    """Return a new project that a scope describes.

    Raises
    ------
    FieldsFaulty, ScopeFaulty, TablesFaulty, BodyTooLarge, ValueRefused
        With every fault at its place.
    """
    upload = upload_of_fields(asked)
    project = new_project(work, "new", asked.get("rate_set_id"))
    written = _read(work, project, upload)
    keep_head(project, written)
    work.add(project)
    _keep(work, project, upload, written)
    return project


def replace_scope(work: WritingSession, project: Project, upload: Upload) -> None:
    """Put a scope in the place of all that a project says.

    Raises
    ------
    ScopeFaulty, TablesFaulty, BodyTooLarge, ValueRefused, StillNeeded
        With every fault at its place.
    """
    before = project.version
    _keep(work, project, upload, _read(work, project, upload))
    work.flush()
    if project.version == before:  # only phases and items say something else
        project.version += 1


def _read(work: WritingSession, project: Project, upload: Upload) -> dict[str, Any]:
    """Return what a scope says, once the library has read it."""
    from estimator.scope.located import plain
    from estimator.scope.scope_reader import read_scope

    files = dict(project_files(work, project))
    if upload.quotes is not None:
        files.pop(QUOTES_SET, None)
    with upload.placed():
        check_size(upload.located)
    with faults_at(QUOTES):
        if upload.quotes:
            files[QUOTES_SET] = dict(upload.quotes)
        tables = tables_of(files)
    with upload.placed():
        check_quotes(upload.located, tables.sets)
        read_scope(upload.located, tables)
        _check_lengths(cast("Section", upload.located))
    return cast("dict[str, Any]", plain(upload.located))


def _keep(
    work: WritingSession, project: Project, upload: Upload, written: Mapping[str, Any]
) -> None:
    if upload.quotes is not None:
        keep_quotes(work, project, upload.quotes)
    with upload.placed():
        keep_scope(work, project, written)


def _check_lengths(scope: Section) -> None:
    """Refuse texts that are longer than what is kept of them, naming all of them."""
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
