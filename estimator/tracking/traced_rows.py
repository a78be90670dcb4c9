"""From a dollar of the report back to rows, documents, and the line of the budget."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain

from estimator.assemblies.markups import MarkupAmount
from estimator.errors import LedgerFaulty, did_you_mean, fault, quoted
from estimator.money import cents_money
from estimator.pricing.cost_line import CostLine
from estimator.rates.kinds import SALVAGE
from estimator.tracking.books import Books
from estimator.tracking.budget import Change, approved_changes, is_spread
from estimator.tracking.job_track import Track
from estimator.tracking.ledger_lines import LedgerLine, lines_of, lines_of_rents
from estimator.tracking.progress import Progress
from estimator.tracking.status import CodeStatus


@dataclass(frozen=True)
class Trace:
    """Where the figures of a cost code come from.

    Parameters
    ----------
    status : CodeStatus
        What the report says of it.
    rows : tuple of LedgerLine
        In the order of the books; they add up to what is billed, accrued and paid.
    changes : tuple of (Change, int)
        Those that touch the code, and by how much [0.01 $].
    measured : tuple of Progress
        What was measured of it, our own and the inspector's.
    lines_cents, spread_cents : int
        [0.01 $] The baseline: the paid lines of the accepted estimate, and the markups on named
        kinds that are spread over them.
    markups : tuple of str
        How the markup came, or those that are spread over the code, with where each stands.
    """

    status: CodeStatus
    rows: tuple[LedgerLine, ...]
    changes: tuple[tuple[Change, int], ...]
    measured: tuple[Progress, ...]
    lines_cents: int
    spread_cents: int
    markups: tuple[str, ...] = ()


def trace(
    books: Books,
    report: Track,
    code: str,
    lines: Iterable[CostLine],
    markups: Iterable[MarkupAmount] = (),
) -> Trace:
    """Return where the figures of a cost code come from.

    Parameters
    ----------
    books : Books
        All rows of the project.
    report : Track
        What they say: see `track`; the same day and time hold.
    code : str
        Cost code.
    lines : iterable of CostLine
        Of the accepted estimate, of that code; none of a markup.
    markups : iterable of MarkupAmount
        Of the accepted estimate.

    Raises
    ------
    LedgerFaulty
        If there is no such code.
    """
    codes = {one.code: one for one in report.status.codes}
    if code not in codes:
        what = f"there is no cost code {quoted(code)}"
        raise fault(LedgerFaulty, what, did_you_mean(code, codes), "code")
    known, status = books.known(report.as_of, report.known_on), codes[code]
    lines_cents = sum(one.cents for one in lines if one.is_paid and one.kind != SALVAGE)
    if not status.phase:
        lines_cents = status.baseline_cents
    all_lines = chain(lines_of(known.money), lines_of_rents(report.rents))
    rows = (one for one in all_lines if one.place[0] == code)
    return Trace(
        status=status,
        rows=tuple(sorted(rows, key=lambda one: one.row)),
        changes=tuple(_changes(approved_changes(known.changes), code)),
        measured=tuple(one for one in known.progress if one.code == code),
        lines_cents=lines_cents,
        spread_cents=status.baseline_cents - lines_cents,
        markups=tuple(_markups(markups, status)),
    )


def _markups(markups: Iterable[MarkupAmount], status: CodeStatus) -> Iterator[str]:
    """Yield how a markup came, or what is spread over a code of work."""
    for one in markups:
        if one.markup.code == status.code or (status.phase and is_spread(one)):
            yield _markup(one)


def _markup(one: MarkupAmount) -> str:
    markup, amount = one.markup, cents_money(one.amount_cents)
    stands = f"{markup.origin}: {markup.source}"
    if markup.percent is None:
        return f"{markup.name}, a sum: {amount}; {stands}"
    return (
        f"{markup.name}: {markup.percent:f} % of {cents_money(one.base_cents)} "
        f"({', '.join(markup.on)}), {amount} in all; {stands}"
    )


def _changes(changes: Iterable[Change], code: str) -> Iterator[tuple[Change, int]]:
    for change in changes:
        parts = [one for one in change.parts if one.code == code]
        if parts:
            yield change, sum(sum(one.cents_by_kind.values()) for one in parts)
