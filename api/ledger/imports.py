"""Importing entries: new ones are posted, known ones skipped, changed ones left to be decided."""

from __future__ import annotations

import gc
from collections.abc import Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any
from uuid import UUID

from marshmallow import ValidationError

from api.contract.commands import loaded, reader_of
from api.contract.schemas import faults_of
from api.ledger.entries import give_way, post_at
from api.ledger.entry_fields import NewEntry
from api.ledger.entry_kinds import ENTRY_KINDS, EntryKind
from api.ledger.import_desk import ImportDesk
from api.ledger.likeness import LIKENESS, Likeness, differences
from api.ledger.named_rows import with_rows_named
from api.ledger.rows import PostedEntry
from api.ledger.rows_at_hand import RowsAtHand
from api.projects.rows import Project
from api.store.writing_session import WritingSession
from estimator.errors import Faults, InputFaulty, LedgerFaulty, fault, quoted
from estimator.tracking.ledger_rows import Payment
from estimator.workbook.entries.entry_reader import TypedEntry

_DIGITS = 9
_PAYMENTS = "payments"


@dataclass(frozen=True)
class Changed:
    """What the books have otherwise: where it stands, their row, and the differences in words."""

    where: str
    row: int
    differences: str


@dataclass(frozen=True)
class Replacing:
    """Which rows of the books give way to what a file says otherwise: all, or those of numbers."""

    rows: Collection[int] = ()
    is_all: bool = False

    def __contains__(self, row: int) -> bool:
        return self.is_all or row in self.rows


KEEPING = Replacing()


def replacing_of(words: str) -> Replacing:
    """Return which rows give way, from their numbers with commas between them, or `all`.

    Raises
    ------
    LedgerFaulty
        If it is neither.

    Examples
    --------
    >>> replacing_of("13, 15"), replacing_of("all").is_all
    (Replacing(rows=(13, 15), is_all=False), True)
    """
    if words.strip() == "all":
        return Replacing(is_all=True)
    numbers = [one.strip() for one in words.split(",") if one.strip()]
    if any(not one.isdecimal() or len(one) > _DIGITS for one in numbers):
        what, remedy = f"{quoted(words)} is not a list of rows", "write 13,15 or all"
        raise fault(LedgerFaulty, what, remedy, "replace")
    return Replacing(tuple(map(int, numbers)))


@dataclass
class Imported:
    """What came of an import, or would come of it.

    Parameters
    ----------
    new : list of (str, PostedEntry)
        Where it stands, and the entry that it makes.
    known : list of (str, int)
        Where it stands, and the row of the books that says the same.
    changed : list of Changed
        What the books have otherwise: it is not posted.
    replaced : list of (Changed, PostedEntry)
        What the books had otherwise, and the entry that stands in its place.
    faults : Faults
        Of all rows; with one of them nothing is posted.
    """

    new: list[tuple[str, PostedEntry]] = field(default_factory=list)
    known: list[tuple[str, int]] = field(default_factory=list)
    changed: list[Changed] = field(default_factory=list)
    replaced: list[tuple[Changed, PostedEntry]] = field(default_factory=list)
    faults: Faults = field(default_factory=Faults)

    @property
    def notes(self) -> list[str]:
        """What was accepted although it is unusual, and where it stands."""
        replacing = ((one.where, entry) for one, entry in self.replaced)
        posted = (*self.new, *replacing)
        return [f"{where}: note: {note}" for where, entry in posted for note in entry.notes]


def import_entries(
    work: WritingSession,
    project_id: UUID,
    entries: Sequence[TypedEntry],
    replacing: Replacing = KEEPING,
) -> Imported:
    """Return what came of entries that were typed in, posted in their order.

    A row that is replaced is taken back on its own day, and posted anew as the file has it. Whoever
    calls commits only if there are no faults, and not at all for a preview.
    """
    imported = Imported()
    work.existing(Project, project_id)
    desk = ImportDesk(work, project_id, work.at)
    with _no_collections():
        desk.read_ahead(entries)
        for typed in entries:
            try:
                _import(desk, typed, replacing, imported)
            except ValidationError as error:
                schema = reader_of(ENTRY_KINDS[typed.kind].body)
                _note(imported.faults, typed, faults_of(error.messages, schema, "json"))
            except InputFaulty as error:
                _note(imported.faults, typed, error.faults)
        desk.write()
    _check_replaced(replacing, imported)
    return imported


@contextmanager
def _no_collections() -> Iterator[None]:
    """Look for no garbage meanwhile: all that is made stays, and looking takes a fifth of the time.

    Several may be at it at once: the first that ends has it looked for again.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _import(
    desk: ImportDesk,
    typed: TypedEntry,
    replacing: Replacing,
    imported: Imported,
) -> None:
    kind, like = ENTRY_KINDS[typed.kind], LIKENESS[typed.kind]
    body: NewEntry = loaded(kind.body, with_rows_named(desk, typed.kind, typed.body))
    row = _row_before(desk, kind, like, body)
    changed = None
    if row is not None:
        before, now = like.stated_by_row(row), like.stated_by_body(body)
        if before == now:
            imported.known.append((typed.where, row.row))
            return
        changed = Changed(typed.where, row.row, differences(before, now))
        if row.row not in replacing:
            imported.changed.append(changed)
            return
        desk.write()
        give_way(desk.session, desk.project_id, row.row)
        desk.forget()
    entry = post_at(desk.session, desk, kind, body)
    if changed is None:
        imported.new.append((typed.where, entry))
    else:
        imported.replaced.append((changed, entry))


def _row_before(desk: ImportDesk, kind: EntryKind, like: Likeness, body: Any) -> Any:
    """Return the last row of the same key that is no reversal and was not reversed, if any."""
    key = like.key_of_body(body)
    if kind.name == _PAYMENTS:  # those on a bill are few
        payments = [one for one in desk.related([body.cost]) if isinstance(one, Payment)]
        alike: Sequence[Any] = [one for one in payments if like.key_of_row(one) == key]
        gone = {one.reverses for one in payments}
    else:
        party = getattr(body, kind.party) if kind.party else None
        rows: RowsAtHand[Any] = desk.at_hand(kind.name, kind.row, party)
        alike = rows.alike(like.key_of_row, key)
        if not alike:  # as of most rows
            return None
        gone = {_reverses(back) for one in alike for back in rows.alike(_reverses, one.row)}
    standing = (one for one in alike if _reverses(one) is None and one.row not in gone)
    return max(standing, key=attrgetter("row"), default=None)


def _reverses(row: Any) -> int | None:
    return getattr(row, "reverses", None)


def _check_replaced(replacing: Replacing, imported: Imported) -> None:
    """Note the rows that were to give way and that nothing says otherwise."""
    replaced = {changed.row for changed, _ in imported.replaced}
    for row in sorted(set(replacing.rows) - replaced) if not imported.faults.count else ():
        what = f"row {row} is not among the changed ones"
        imported.faults.add("replace", what, "look at the preview")


def _note(faults: Faults, typed: TypedEntry, of_entry: Iterable[Any]) -> None:
    """Note the faults of an entry where its fields stand: sheet, row and column."""
    for one in of_entry:
        place = one.where.removeprefix("#/")
        own = typed.cells.get(place.partition("/")[0], typed.where)
        faults.add(typed.cells.get(place, own), one.what, one.remedy)
