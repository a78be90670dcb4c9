"""A desk at which many entries are posted: they are written together, with what they move."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from itertools import chain
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import ColumnElement

from api.ledger.desk import IN_PARTIES, Alike, Desk, LibraryRow, party_key
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.known_books import FEW
from api.ledger.movement_rows import MONEY_ROWS
from api.ledger.rows import BookEntry, PostedEntry
from api.ledger.rows_at_hand import RowsAtHand
from api.ledger.stored_sums import store_movements
from api.store.models.base import NAME_LENGTH
from api.store.writing_session import WritingSession
from estimator.tracking.budget import Change
from estimator.tracking.ledger_lines import MoneyRow
from estimator.tracking.ledger_movements import Movement, movements, named_rows
from estimator.workbook.entries.entry_reader import TypedEntry

_AT_ONCE = 5_000
_PARTIES_AT_ONCE = 500
_NUMBER_BITS = 40
_Of = tuple[str, str | None]


@dataclass(frozen=True)
class ImportDesk(Desk):
    """The books of a project, while many entries are posted to them.

    What is looked up is read from the database once; what is posted is added to it, and waits
    until there is enough of it to be written together.

    Parameters
    ----------
    session : WritingSession
        Holds the turn to write.
    waiting, moved : lists
        Entries that are not written yet, and what they move.
    waiting_of : set
        Their kinds and parties, and their kinds alone.
    read : dict
        Rows that were looked up, by kind and party, or by kind alone.
    moving : dict
        Of the number of a row of money: what moved its line, and what took that back, by number;
        the row itself among them.
    """

    session: WritingSession
    waiting: list[PostedEntry] = field(default_factory=list)
    waiting_of: set[_Of] = field(default_factory=set)
    moved: list[Movement] = field(default_factory=list)
    read: dict[_Of, RowsAtHand[Any]] = field(default_factory=dict)
    moving: dict[int, dict[int, MoneyRow]] = field(default_factory=dict)

    def new_id(self) -> UUID:
        """Return the id of the next entry: an index takes ids in a row sooner than at random."""
        return UUID(int=self.first_id.int + self.number)

    @cached_property
    def first_id(self) -> UUID:
        """A random id that leaves room for the numbers of all entries."""
        return UUID(int=uuid4().int >> _NUMBER_BITS << _NUMBER_BITS)

    def at_hand(
        self, kind: str, row_type: type[LibraryRow], party: str | None = None
    ) -> RowsAtHand[LibraryRow]:
        """Return the rows of a kind, all or those of one party, with those that wait."""
        of = kind, None if party is None else party_key(party)
        if of not in self.read:
            self.read[of] = RowsAtHand(self._looked_up(kind, row_type, party))
        return self.read[of]

    def read_ahead(self, entries: Iterable[TypedEntry]) -> None:
        """Read the rows of all whom entries name, many at once."""
        named: dict[str, set[str]] = defaultdict(set)
        for one in entries:
            name = one.body.get(ENTRY_KINDS[one.kind].party)
            if one.kind not in FEW and isinstance(name, str) and _may_be_stored(name):
                named[one.kind].add(party_key(name))
        for kind, keys in named.items():
            self._read_parties(kind, sorted(keys))

    def _read_parties(self, kind: str, keys: list[str]) -> None:
        rows: dict[str, list[Any]] = {key: [] for key in keys}
        for first in range(0, len(keys), _PARTIES_AT_ONCE):
            batch = keys[first : first + _PARTIES_AT_ONCE]
            row_type: type[Any] = ENTRY_KINDS[kind].row
            for row in super().rows(kind, row_type, None, IN_PARTIES, of_parties=batch):
                rows[_of_party(kind)(row)].append(row)
        self.read.update({(kind, key): RowsAtHand(own) for key, own in rows.items()})

    def _looked_up(
        self, kind: str, row_type: type[LibraryRow], party: str | None
    ) -> Sequence[LibraryRow]:
        """Return rows from the database: kinds of which there are few are read whole, once."""
        if party is not None and kind in FEW:
            return self.at_hand(kind, row_type).alike(_of_party(kind), party_key(party))
        if (kind, None if party is None else party_key(party)) in self.waiting_of:
            self.write()
        return super().rows(kind, row_type, party)

    def rows(
        self,
        kind: str,
        row_type: type[LibraryRow],
        party: str | None = None,
        *conditions: ColumnElement[bool],
        **values: object,
    ) -> list[LibraryRow]:
        """Return rows of a kind in the order of the books: see `Desk`."""
        if not conditions:
            return self.at_hand(kind, row_type, party).rows
        self.write()
        return super().rows(kind, row_type, party, *conditions, **values)

    def rows_alike(
        self, kind: str, row_type: type[LibraryRow], party: str | None, alike: Alike, value: Any
    ) -> Sequence[LibraryRow]:
        """Return the rows of a kind and a party that are alike in a value: see `Desk`."""
        rows = self.at_hand(kind, row_type, party)
        return list(
            chain.from_iterable(rows.alike(alike.key_of_row, key) for key in alike.keys(value))
        )

    def related(self, numbers: Iterable[int]) -> list[MoneyRow]:
        """Return rows by their numbers: see `Desk`."""
        named = list(numbers)
        if not named:
            return []
        self._read_moving({one for one in named if one not in self.moving})
        if len(named) == 1:  # they were added in the order of the books
            return list(self.moving[named[0]].values())
        rows = {number: row for one in named for number, row in self.moving[one].items()}
        return [rows[number] for number in sorted(rows)]

    def _read_moving(self, numbers: set[int]) -> None:
        """Read what moved rows that were posted before; whoever posts a row adds it to these."""
        if not numbers:
            return
        self.moving.update({one: {} for one in numbers})
        for row in super().related(numbers):
            for one in numbers.intersection((row.row, *named_rows(row))):
                self.moving[one][row.row] = row

    def keep(self, work: WritingSession, entry: PostedEntry, row: Any) -> None:  # noqa: ARG002
        """Add an entry to those that wait, with what it moves."""
        if entry.kind in MONEY_ROWS:
            self._move(row)
        for of in ((entry.kind, entry.party), (entry.kind, None)):
            self.waiting_of.add(of)
            if of in self.read:
                self.read[of].add(row)
        if isinstance(row, Change):
            self._look_again("budget")  # it may have a code more now
        self.waiting.append(entry)
        self.__dict__["number"] = entry.number + 1
        if len(self.waiting) >= _AT_ONCE:
            self.write()

    def _move(self, row: MoneyRow) -> None:
        named = named_rows(row)
        self.moved.extend(movements(row, self.related(named)))
        for number in named:
            self.moving[number][row.row] = row
        self.moving[row.row] = {row.row: row}

    def write(self) -> None:
        """Write what waits."""
        if self.waiting:
            self.session.add_rows(BookEntry, [one.columns() for one in self.waiting])
            store_movements(self.session, self.project_id, self.moved)
            self._look_again("_project", "number")
        self.waiting.clear()
        self.waiting_of.clear()
        self.moved.clear()

    def forget(self) -> None:
        """Look again for what was looked up: somebody else posted to the books."""
        self.read.clear()
        self.moving.clear()
        self._look_again("_project", "number")

    def _look_again(self, *names: str) -> None:
        """Have properties worked out anew when they are next used."""
        for name in names:
            self.__dict__.pop(name, None)


def _may_be_stored(name: str) -> bool:
    """Whether a name may be a party's; what is none is refused where its entry is read."""
    return len(name) <= NAME_LENGTH and name.isprintable()


@cache
def _of_party(kind: str) -> Callable[[Any], str]:
    """Return what gives the party by which a row of a kind is looked up."""
    field = ENTRY_KINDS[kind].party
    return lambda row: party_key(getattr(row, field))
