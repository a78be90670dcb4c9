"""Lines of the sheet Ledger that somebody changed, against the rows of the books that they name."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import accumulate, chain, islice
from operator import eq, itemgetter
from typing import NamedTuple
from uuid import UUID

from sqlalchemy import select

from api.ledger.imports import Changed
from api.ledger.known_books import books_of, of_kinds
from api.ledger.likeness import differences
from api.ledger.rows import BookEntry, LedgerMovement
from api.store.sessions import AccountSession
from estimator.errors import MOST_FAULTS, how_many
from estimator.money import cents_money
from estimator.tracking.ledger_lines import LedgerLine, lines_of_rents, own_lines
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.ledger_sums import UNPAID
from estimator.tracking.machine_log import RentStand
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.spent import Place, Spent
from estimator.tracking.tickets import Ticket
from estimator.workbook.shown_ledger import (
    NAMES,
    ShownLine,
    Values,
    first_difference,
    shown_ledger,
    values_of,
)

MOST_LINES = 50_000
_AT_ONCE = 1_000
_SHOWN = ("costs", "tickets", "hours", "rents")
_ONLY_SHOWN = (
    "the sheet Ledger only shows the books, and nothing is posted from it: write what should "
    "change on the sheet of its kind, such as Costs, Payments, Tickets or Hours"
)


class LedgerChanges(NamedTuple):
    """Changed lines of the sheet Ledger, and notes on what else is amiss there."""

    changed: list[Changed]
    notes: tuple[str, ...]


def ledger_changes(
    session: AccountSession,
    project_id: UUID,
    content: bytes,
    name: str,
    most_lines: int = MOST_LINES,
) -> LedgerChanges:
    """Return what the sheet Ledger of a workbook shows otherwise than the books.

    Parameters
    ----------
    session : AccountSession
    project_id : UUID
    content : bytes
        A workbook that `read_entries` has read.
    name : str
        What to call it.
    most_lines : int
        How many are checked against the books; 50,000 take four seconds.

    Notes
    -----
    A line is as it was if it shows its row as the books had it at any time: a ticket accrued, or
    billed since; a bill with some of its payments. At most a thousand changes are listed. Lines
    that were taken away are not missed: who filters a report loses nothing.
    """
    changed, strangers = list[Changed](), list[str]()
    shown = shown_ledger(content)
    lines = islice(shown, most_lines)
    while len(changed) < MOST_FAULTS and (batch := list(islice(lines, _AT_ONCE))):
        own = _own_lines(session, project_id, {one.number for one in batch if one.number})
        other = [one for one in batch if one.values not in map(values_of, own[one.number or 0])]
        strangers += (one.where(name, -1) for one in other if not own[one.number or 0])
        named = [one for one in other if own[one.number or 0]]
        spent = _spent_so_far(session, project_id, {one.number for one in named if one.number})
        for line in named:
            changed += _changes(line, list(_shown_once(own[line.number or 0], spent)), name)
    notes = list(_notes(changed, strangers, name))
    if len(changed) < MOST_FAULTS and next(shown, None) is not None:
        read = how_many(most_lines, "line")
        notes.insert(0, f"{name} Ledger: only the first {read} checked against the books")
    return LedgerChanges(changed[:MOST_FAULTS], tuple(notes))


def _notes(changed: Sequence[Changed], strangers: Sequence[str], name: str) -> Iterator[str]:
    if len(changed) >= MOST_FAULTS:
        yield f"{name} Ledger: only the first {MOST_FAULTS:,} changes are listed"
    if strangers:
        lines = how_many(len(strangers), "line")
        yield f"{strangers[0]}: {lines} from here down with no matching row in the books"
    if changed or strangers:
        yield _ONLY_SHOWN


def _changes(line: ShownLine, of_row: Sequence[Values], name: str) -> Iterator[Changed]:
    """Yield what a line shows otherwise than the nearest that the books have had of its row."""
    if any(first_difference(line.values, one) is None for one in of_row):
        return
    nearest = max(of_row, key=lambda one: sum(map(eq, one, line.values)))
    column = first_difference(line.values, nearest)
    assert column is not None
    what_differs = differences(_words(nearest), _words(line.values))
    yield Changed(line.where(name, column), line.number or 0, what_differs)


def _words(values: Values) -> dict[str, str]:
    words = (one if isinstance(one, str) else cents_money(one) for one in values)
    return dict(zip(NAMES, words, strict=True))


def _shown_once(
    own: Iterable[LedgerLine], spent: Mapping[tuple[int, Place], Sequence[Spent]]
) -> Iterator[Values]:
    """Yield all that the sheet may have shown of a row, the latest first."""
    for line in own:
        for state in spent.get((line.row, line.place), [Spent()]):
            yield values_of(line._replace(spent=state))


def _own_lines(
    session: AccountSession, project_id: UUID, numbers: Collection[int]
) -> Mapping[int, Sequence[LedgerLine]]:
    """Return the lines of each row as it was posted; none of what is no line of the ledger."""
    books = books_of(session, project_id, BookEntry.number.in_(numbers), of_kinds(*_SHOWN))
    rows: Iterable[Cost | Ticket | HoursRow] = chain(books.costs, books.tickets, books.hours)
    rents = lines_of_rents(RentStand(one, 0, 0, None) for one in books.rents)
    own: dict[int, list[LedgerLine]] = defaultdict(list)
    for line in chain(chain.from_iterable(map(own_lines, rows)), rents):
        own[line.row].append(line)
    return own


def _spent_so_far(
    session: AccountSession, project_id: UUID, numbers: Collection[int]
) -> Mapping[tuple[int, Place], Sequence[Spent]]:
    """Return what each line had spent after each entry that moved it, the latest first."""
    moved = LedgerMovement
    steps = select(
        moved.of_number, moved.code, moved.kind, moved.day, moved.billed_cents,
        moved.accrued_cents, moved.paid_cents,
    ).where(
        moved.project_id == project_id, moved.of_number.in_(numbers), moved.kind != UNPAID
    ).order_by(moved.number, moved.position)  # fmt: skip
    rows: dict[tuple[int, Place], list[tuple[date, Spent]]] = defaultdict(list)
    for number, code, kind, day, *cents in session.execute(steps):
        rows[number, (code, kind)].append((day, Spent(*cents)))
    return {of: list(_states(own)) for of, own in rows.items()}


def _states(steps: Sequence[tuple[date, Spent]]) -> Iterator[Spent]:
    """Yield what was spent by and by, as it was entered and as it happened, the latest first."""
    for listed in (steps, sorted(steps, key=itemgetter(0))):
        yield from reversed(list(accumulate(spent for _, spent in listed)))
