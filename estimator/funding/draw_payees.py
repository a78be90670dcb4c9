"""Who gets which part of a draw: the owner for what was paid, the vendor for what was not."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

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
    own_way = _WAYS[vendors]
    parts: dict[tuple[str, str], list[BackupPart]] = defaultdict(list)
    sums: dict[tuple[str, str], int] = defaultdict(int)
    for part in backup:
        paid = _reimbursed(part)
        for way, cents in ((REIMBURSE, paid), (own_way, part.cents - paid)):
            if cents:
                parts[part.vendor, way].append(part)
                sums[part.vendor, way] += cents
    return tuple(_payee(*one, sums[one], taken) for one, taken in parts.items())


def _reimbursed(part: BackupPart) -> int:
    if part.cents < 0:
        return part.cents
    return max(min(part.paid_cents - part.drawn_before_cents, part.cents), 0)


def _payee(name: str, way: str, cents: int, taken: Sequence[BackupPart]) -> Payee:
    rows = dict.fromkeys([part.row for part in taken])
    proof = dict.fromkeys([words for part in taken for words in part.proof])
    return Payee(name, way, cents, tuple(rows), tuple(proof))
