"""What makes two entries of a kind the same one, and what must agree then."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from api.ledger.desk import party_key
from estimator.money import cents_money, to_cents
from estimator.tracking.budget import MARKUP_KIND

Key = tuple[Any, ...]
Stated = dict[str, Any]


@dataclass(frozen=True)
class Likeness:
    """How an entry of a kind is known again.

    Parameters
    ----------
    key_of_body, key_of_row : callable
        What makes it the same one, of what is sent and of a row of the library.
    stated_by_body, stated_by_row : callable
        What must agree then, by name; else the entry was changed.
    """

    key_of_body: Callable[[Any], Key]
    key_of_row: Callable[[Any], Key]
    stated_by_body: Callable[[Any], Stated]
    stated_by_row: Callable[[Any], Stated]


def differences(before: Stated, now: Stated) -> str:
    """Return what an entry says otherwise than the books, in words.

    Examples
    --------
    >>> differences({"net": "$10.00", "unit": "ton"}, {"net": "$12.00", "unit": "ton"})
    'net was $10.00, now $12.00'
    """
    return "; ".join(
        f"{name} was {_word(before[name])}, now {_word(now[name])}"
        for name in before
        if before[name] != now[name]
    )


def _word(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(map(str, value)) or "none"
    return "none" if value in (None, "") else str(value)


def _money(amount: Decimal) -> str:
    return cents_money(to_cents(amount))


def _key_of_bill(body: Any) -> Key:
    if body.document:
        return (party_key(body.vendor), body.document.casefold())
    return (party_key(body.vendor), body.happened, to_cents(body.net))


def _key_of_cost(row: Any) -> Key:
    if row.document:
        return (party_key(row.vendor), row.document.casefold())
    return (party_key(row.vendor), row.happened, row.net_cents)


def _cost_sent(one: Any) -> Stated:
    nets = [one.net if len(one.splits) == 1 else split.amount for split in one.splits]
    split_nets = zip(one.splits, map(to_cents, nets), strict=True)
    return _cost(
        one, to_cents(one.net), to_cents(one.tax), [(s.code, s.kind, net) for s, net in split_nets]
    ) | {"once": one.once, "credit": one.credit}


def _cost_row(row: Any) -> Stated:
    splits = [(split.code, split.kind, split.net_cents) for split in row.splits]
    return _cost(row, row.net_cents, row.cents - row.net_cents, splits) | {
        "once": row.is_once, "credit": row.is_credit,
    }  # fmt: skip


def _cost(one: Any, net_cents: int, tax: int, splits: list[tuple[str, str, int]]) -> Stated:
    several = len(splits) > 1
    split = [f"{c} {k} {cents_money(net) if several else ''}".rstrip() for c, k, net in splits]
    return {
        "happened": one.happened, "net": cents_money(net_cents), "tax": cents_money(tax),
        "split": tuple(sorted(split)), "quantity": one.quantity, "unit": one.unit,
        "tickets": tuple(one.tickets), "rents": tuple(one.rents),
        "rent through": one.rent_through, "order": one.order, "note": one.note,
    }  # fmt: skip


def _change_key(one: Any) -> Key:
    if one.number:
        return (one.number.casefold(), one.state)
    return ("", one.happened, " ".join(one.reason.split()).casefold())


def _change_sent(one: Any) -> Stated:
    parts = [(part, part.kind, to_cents(part.amount)) for part in one.parts]
    return _change(one, parts)


def _change_row(row: Any) -> Stated:
    listed = [
        (part, "" if kind == MARKUP_KIND else kind, cents)
        for part in row.parts
        for kind, cents in part.cents_by_kind.items() or [("", 0)]
    ]
    return _change(row, listed)


def _change(one: Any, parts: list[tuple[Any, str, int]]) -> Stated:
    fields = _named("happened", "reason", "state")(one)
    words = [
        " ".join(filter(None, (
            part.code, kind, cents_money(cents),
            f"{part.quantity.normalize():f} more" if part.quantity else "",
            f"{part.days} days" if part.days else "",
        )))
        for part, kind, cents in parts
    ]  # fmt: skip
    return fields | {"parts": tuple(sorted(words))}


def _ticket(one: Any, amount: str) -> Stated:
    names = (
        "happened", "code", "kind", "quantity", "unit", "truck", "came", "left", "waited_minutes",
    )  # fmt: skip
    return _named(*names)(one) | {"amount": amount}


def _progress(one: Any, *, is_percent: bool) -> Stated:
    return _named("in_place", "unit", "expected", "reason")(one) | {"percent": is_percent}


def _day(one: Any) -> Stated:
    lost = tuple(f"{part.hours.normalize():f} hr {part.reason}" for part in one.lost)
    names = ("weather", "temperature_f", "visitors", "found", "incidents")
    return _named(*names)(one) | {"people": tuple(one.people), "lost": lost}


def _named(*names: str) -> Callable[[Any], Stated]:
    return lambda one: {name.replace("_", " "): getattr(one, name) for name in names}


def _with_amount(*names: str) -> tuple[Callable[[Any], Stated], Callable[[Any], Stated]]:
    """Return how a body and a row say their amount, and fields that both call the same."""
    fields = _named(*names)
    return (
        lambda one: fields(one) | {"amount": _money(one.amount)},
        lambda row: fields(row) | {"amount": cents_money(row.cents)},
    )


def _both(key: Callable[[Any], Any]) -> tuple[Callable[[Any], Any], Callable[[Any], Any]]:
    return key, key


LIKENESS = {
    "costs": Likeness(
        _key_of_bill,
        _key_of_cost,
        _cost_sent,
        _cost_row,
    ),
    "payments": Likeness(
        *_both(lambda one: (one.cost, one.happened, one.means.casefold())), *_with_amount()
    ),
    "receipts": Likeness(
        *_both(lambda one: (party_key(one.payer), one.happened, one.reason.casefold())),
        *_with_amount(),
    ),
    "tickets": Likeness(
        *_both(lambda one: (party_key(one.vendor), one.number.casefold())),
        lambda one: _ticket(one, _money(one.amount)) | {"placed": one.placed},
        lambda row: _ticket(row, cents_money(row.cents)) | {"placed": row.is_placed},
    ),
    "hours": Likeness(
        *_both(lambda one: (party_key(one.person), one.happened, one.code, one.trade)),
        lambda one: {"hours": one.hours, "rate": one.rate, "unpaid": one.unpaid},
        lambda row: {"hours": row.hours, "rate": row.rate_per_hr, "unpaid": row.is_unpaid},
    ),
    "rents": Likeness(
        *_both(lambda one: (party_key(one.machine), party_key(one.vendor), one.happened)),
        _named("code", "day", "week", "month"),
        lambda row: {"code": row.code, **_named("day", "week", "month")(row.rates)},
    ),
    "called_off": Likeness(*_both(lambda one: (one.rent,)), *_both(_named("happened"))),
    "machine_hours": Likeness(
        *_both(lambda one: (party_key(one.machine), one.happened, one.code)),
        *_both(_named("run", "standing", "note")),
    ),
    "progress": Likeness(
        lambda one: (one.code, one.happened, one.inspector),
        lambda row: (row.code, row.happened, row.is_inspector),
        lambda one: _progress(one, is_percent=one.percent),
        lambda row: _progress(row, is_percent=row.is_percent),
    ),
    "commitments": Likeness(
        *_both(
            lambda one: (
                one.number.casefold(),
                party_key(one.vendor),
                one.happened,
                one.code,
                one.kind,
            )
        ),
        lambda one: {"amount": _money(one.amount), "retainage": one.retainage},
        lambda row: {"amount": cents_money(row.cents), "retainage": row.retainage_fraction},
    ),
    "changes": Likeness(_change_key, _change_key, _change_sent, _change_row),
    "holds": Likeness(
        *_both(lambda one: (one.code, one.name)),
        *_both(_named("happened", "needs", "decides", "allowed", "notice_days")),
    ),
    "results": Likeness(
        *_both(lambda one: (one.code, one.name, one.happened)),
        lambda one: {"passed": one.passed, "note": one.note},
        lambda row: {"passed": row.is_passed, "note": row.note},
    ),
    "days": Likeness(*_both(lambda one: (one.happened,)), *_both(_day)),
}
