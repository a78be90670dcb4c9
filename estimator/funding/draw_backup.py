"""Backup of a draw: which cents of which entry of the books stand behind each line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType

from estimator.funding.draw_requests import BackupPart
from estimator.funding.lender_schedule import LenderLine
from estimator.money import apportion, cents_money, fixed_point
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.spent import paid_by_split

Drawn = Mapping[tuple[int, str], int]
"""What earlier draws took, by entry and line [0.01 $]."""

_SHARE_DECIMALS = 6


def entry_parts(
    costs: Iterable[Cost],
    payments: Iterable[Payment],
    lines: Sequence[LenderLine],
    drawn: Drawn = MappingProxyType({}),
) -> list[BackupPart]:
    """Return what each line bears of each bill, credit and week of payroll, with all that is left.

    Parameters
    ----------
    costs, payments : iterables of Cost and of Payment
        As known: see `as_known`.
    lines : sequence of LenderLine
        With the part of each code that they bear.
    drawn : mapping of (row, line) to int
        [0.01 $] What earlier draws took.

    Notes
    -----
    A code that several lines share is split entry by entry, by the largest remainder. Codes in no
    line have no part. The owner's unpaid labor and own material are in no cost, so in no part. Each
    part offers what is left of it; how much of that a draw takes, `attached` says.
    """
    listed = list(payments)
    proof: dict[int, list[str]] = defaultdict(list)
    for payment in listed:
        if payment.cents > 0 and payment.reverses is None:
            words = f"{payment.means} of {payment.happened}, {cents_money(payment.cents)}"
            proof[payment.cost].append(words)
    bearing = _bearing(lines)
    parts = []
    for cost, paid in paid_by_split(costs, listed):
        proofs = tuple(proof.get(cost.row, ()))
        for line, (cents, of_paid) in _on_lines(cost, paid, bearing).items():
            before = drawn.get((cost.row, line), 0)
            parts.append(
                BackupPart(
                    cost.row, line, cost.happened, cost.vendor, cost.document, cost.entry,
                    cents, before, cents - before, of_paid, proofs,
                )
            )  # fmt: skip
    return parts


def _bearing(lines: Sequence[LenderLine]) -> Mapping[str, list[tuple[str, int]]]:
    bearing: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for one in lines:
        for code, share in one.shares.items():
            bearing[code].append((one.line, fixed_point(share, _SHARE_DECIMALS)))
    return bearing


def _on_lines(
    cost: Cost, paid: Sequence[int], bearing: Mapping[str, list[tuple[str, int]]]
) -> dict[str, tuple[int, int]]:
    sums: dict[str, tuple[int, int]] = {}
    for split, of_paid in zip(cost.splits, paid, strict=True):
        for line, cents, paid_part in _split(split.cents, of_paid, bearing.get(split.code, ())):
            before = sums.get(line, (0, 0))
            sums[line] = (before[0] + cents, before[1] + paid_part)
    return sums


def _split(
    cents: int, paid: int, lines: Sequence[tuple[str, int]]
) -> Iterable[tuple[str, int, int]]:
    if len(lines) < 2:  # the usual case: a code stands on one line
        return [(line, cents, paid) for line, _ in lines]
    weights = [weight for _, weight in lines]
    return (
        (line, part, paid_part)
        for (line, _), part, paid_part in zip(
            lines, apportion(cents, weights), apportion(paid, weights), strict=True
        )
    )


def without_reversed(parts: Iterable[BackupPart], reversing: Mapping[int, int]) -> list[BackupPart]:
    """Return parts without the pairs of which nothing was drawn: a bill and what took it back.

    Parameters
    ----------
    parts : iterable of BackupPart
        Of all entries.
    reversing : mapping of int to int
        Row of a reversal by the row that it takes back.
    """
    listed = list(parts)
    touched = {one.row for one in listed if one.drawn_before_cents}
    idle = {
        row
        for taken_back, reversal in reversing.items()
        if taken_back not in touched and reversal not in touched
        for row in (taken_back, reversal)
    }
    return [one for one in listed if one.row not in idle]


def attached(billed_cents: int, parts: Sequence[BackupPart]) -> list[BackupPart]:
    """Return the parts of one line that stand behind what it bills, each with its cents.

    Parameters
    ----------
    billed_cents : int
        [0.01 $] Since the draw before; negative where that is corrected.
    parts : sequence of BackupPart
        Of the line, in the order in which they are to be taken.

    Notes
    -----
    Credits and reversals that were not drawn go in whole, as far as there are bills to take them
    from; then bills in their order, until the sum is reached; what is left of the last one stays
    undrawn. Where the sum is below the credits,
    cents that were drawn before go back, the latest first. Never more than what the line bears of
    an entry is drawn. The sum falls short only where there is not enough to draw: see
    `RequestLine.unbacked_cents`.

    Examples
    --------
    >>> from datetime import date
    >>> day = date(2026, 5, 4)
    >>> bill = BackupPart(4, "3", day, "Quarry", "Q-1", "bill", 10_000, 0, 0)
    >>> credit = BackupPart(9, "3", day, "Quarry", "C-1", "credit", -500, 0, 0)
    >>> [(one.row, one.cents) for one in attached(6_000, [bill, credit])]
    [(4, 6500), (9, -500)]
    """
    taken = {id(one): _left(one) for one in parts if _left(one) < 0}
    rest = billed_cents - sum(taken.values())
    for one, cents in _forward(rest, parts) if rest > 0 else _back(-rest, parts):
        taken[id(one)] = taken.get(id(one), 0) + cents
        rest -= cents
    for one in reversed(parts) if rest > 0 else ():
        back = min(max(-taken.get(id(one), 0), 0), rest)
        taken[id(one)] = taken.get(id(one), 0) + back
        rest -= back
    return [one.taking(taken[id(one)]) for one in parts if taken.get(id(one))]


def _left(part: BackupPart) -> int:
    return part.entry_cents - part.drawn_before_cents


def _forward(rest: int, parts: Sequence[BackupPart]) -> Iterator[tuple[BackupPart, int]]:
    for one in parts:
        if rest <= 0:
            return
        left = _left(one)
        if left > 0:
            cents = left if left < rest else rest
            rest -= cents
            yield one, cents


def _back(rest: int, parts: Sequence[BackupPart]) -> Iterator[tuple[BackupPart, int]]:
    for one in reversed(parts):
        cents = min(max(one.drawn_before_cents, 0), rest)
        rest -= cents
        yield one, -cents


def cut_from(parts: Sequence[BackupPart], cut_cents: int) -> list[BackupPart]:
    """Return the parts of one line with what the lender cut taken off, the latest first.

    Parameters
    ----------
    parts : sequence of BackupPart
        Of the line in this draw.
    cut_cents : int
        [0.01 $] It goes back to undrawn.
    """
    rest, reduced = cut_cents, []
    for one in reversed(parts):
        off = min(max(one.cents, 0), rest)
        rest -= off
        reduced.append(one.taking(one.cents - off))
    return [one for one in reversed(reduced) if one.cents]
