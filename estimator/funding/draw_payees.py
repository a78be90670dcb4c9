"""Who gets which part of a draw: the owner for what was paid, the vendor for what was not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from estimator.funding.draw_requests import (
    PAY_JOINTLY,
    PAY_VENDOR,
    REIMBURSE,
    BackupPart,
    Payee,
)
from estimator.funding.loan_terms import JOINTLY, TO_OWNER, TO_VENDOR

_WAYS = {TO_OWNER: REIMBURSE, TO_VENDOR: PAY_VENDOR, JOINTLY: PAY_JOINTLY}


def payees_of(backup: Iterable[BackupPart], vendors: str) -> tuple[Payee, ...]:
    """Return who gets what of the backup of a draw, before retainage; it adds up to the backup.

    Parameters
    ----------
    backup : iterable of BackupPart
        Of the draw.
    vendors : str
        What the terms say of what the owner has not paid yet: `owner`, `vendor` or `jointly`.

    Notes
    -----
    What was paid on an entry beyond what earlier draws took is reimbursed to the owner; the rest of
    a bill goes as the terms say, and stands without proof of payment. A credit goes off what the
    owner is reimbursed.
    """
    sums: dict[tuple[str, str], list[tuple[int, BackupPart]]] = {}
    for part in backup:
        for way, cents in _ways(part, vendors):
            sums.setdefault((part.vendor, way), []).append((cents, part))
    return tuple(_payee(name, way, taken) for (name, way), taken in sums.items())


def _ways(part: BackupPart, vendors: str) -> Iterator[tuple[str, int]]:
    paid = max(min(part.paid_cents - part.drawn_before_cents, part.cents), 0)
    if part.cents < 0:
        paid = part.cents
    if paid:
        yield REIMBURSE, paid
    if part.cents != paid:
        yield _WAYS[vendors], part.cents - paid


def _payee(name: str, way: str, taken: Sequence[tuple[int, BackupPart]]) -> Payee:
    rows = dict.fromkeys(part.row for _, part in taken)
    proof = dict.fromkeys(words for _, part in taken for words in part.proof)
    return Payee(name, way, sum(cents for cents, _ in taken), tuple(rows), tuple(proof))
