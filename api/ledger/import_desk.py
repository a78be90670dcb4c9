"""A desk at which many entries are posted: they are written together, with what they move."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import ColumnElement

from api.ledger.desk import Desk, LibraryRow, party_key
from api.ledger.kept_sums import keep_movements, moved_by
from api.ledger.rows import BookEntry
from api.store.sessions import WritingSession
from estimator.tracking.budget import Change
from estimator.tracking.ledger_lines import MoneyRow
from estimator.tracking.ledger_movements import Movement
from estimator.tracking.ledger_rows import Cost

_AT_ONCE = 5_000


@dataclass(frozen=True)
class ImportDesk(Desk):
    """The books of a project, while many entries are posted to them.

    What was posted waits until something is looked up in the books, or there is enough of it. The
    costs that a bill might repeat are looked up once, when the first bill of their vendor comes.

    Parameters
    ----------
    session : WritingSession
        Holds the turn to write.
    waiting, moved : lists
        Entries that are not written yet, and what they move.
    costs : dict
        Of each vendor seen: costs by their amount without its sign.
    """

    session: WritingSession
    waiting: list[BookEntry] = field(default_factory=list)
    moved: list[Movement] = field(default_factory=list)
    costs: dict[str, dict[int, list[Cost]]] = field(default_factory=dict)

    def head(self, body: Any) -> dict[str, Any]:
        """Return what every row of the library begins with."""
        return super().head(body) | {"row": self.number + len(self.waiting)}

    def rows(
        self,
        kind: str,
        row_type: type[LibraryRow],
        party: str | None = None,
        *conditions: ColumnElement[bool],
        **values: object,
    ) -> list[LibraryRow]:
        """Return rows of a kind in the order of the books: see `Desk`."""
        self.write()
        return super().rows(kind, row_type, party, *conditions, **values)

    def costs_of_amount(self, vendor: str, cents: int) -> list[Cost]:
        """Return the costs of a vendor over an amount, or with it taken back."""
        key = party_key(vendor)
        if key not in self.costs:
            self.costs[key] = defaultdict(list)
            for cost in self.rows("costs", Cost, vendor):
                self.costs[key][abs(cost.cents)].append(cost)
        return self.costs[key][abs(cents)]

    def related(self, numbers: Iterable[int]) -> list[MoneyRow]:
        """Return rows by their numbers: see `Desk`."""
        named = list(numbers)
        if named:
            self.write()
        return super().related(named) if named else []

    def keep(self, work: WritingSession, entry: BookEntry, row: Any) -> None:  # noqa: ARG002
        """Add an entry to those that wait, with what it moves."""
        moved = moved_by(row, self.related)
        if isinstance(row, Cost) and (known := self.costs.get(party_key(row.vendor))) is not None:
            known[abs(row.cents)].append(row)
        if isinstance(row, Change):
            self.__dict__.pop("budget", None)  # it may have a code more now
        self.waiting.append(entry)
        self.moved.extend(moved)
        if len(self.waiting) >= _AT_ONCE:
            self.write()

    def write(self) -> None:
        """Write what waits."""
        if not self.waiting:
            return
        self.session.add_all(self.waiting)
        keep_movements(self.session, self.project_id, self.moved)
        self.waiting.clear()
        self.moved.clear()
        self.__dict__.pop("number", None)  # the last one is another now

    def forget(self) -> None:
        """Look again for what was looked up: somebody else posted to the books."""
        self.costs.clear()
        self.__dict__.pop("number", None)
