"""Markups: ordered percentages and sums on named kinds of cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from estimator.cents import Cents, divide_half_up
from estimator.errors import Faults, did_you_mean, quoted
from estimator.money import dollars, exact_arithmetic, fixed_point, to_cents
from estimator.rates.folders import TableFolder, keyed_rows
from estimator.rates.kinds import COSTS, INTEREST, SALVAGE
from estimator.rates.rows import Origin, Row

ALL_KINDS = "all"

_PERCENT_DECIMALS = 4


@dataclass(frozen=True)
class Markup:
    """A percentage of named cost, or a fixed sum.

    Parameters
    ----------
    code, name : str
        The key, and what it is called in print.
    order : int
        Markups are taken in rising order.
    percent : Decimal or None
        [%] of the cost named in `on`; None where it is a fixed sum.
    fixed_sum : Decimal or None
        [$]
    on : tuple of str
        Kinds of cost, `all` (every one but interest), or codes of markups with a lower order.
    source : str
        Where it comes from.
    origin : Origin
        The row it stands in.
    """

    code: str
    name: str
    order: int
    percent: Decimal | None
    fixed_sum: Decimal | None
    on: tuple[str, ...]
    source: str
    origin: Origin

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of cost it is taken on."""
        is_on_all = ALL_KINDS in self.on
        return tuple(kind for kind in COSTS if kind in self.on or (is_on_all and kind != INTEREST))


@dataclass(frozen=True)
class MarkupAmount:
    """What a markup comes to: the cost it is taken on, and its amount, in cents."""

    markup: Markup
    base_cents: int
    amount_cents: int


@exact_arithmetic
def markup_amounts(
    cents_by_kind: Mapping[str, int], markups: Sequence[Markup]
) -> tuple[MarkupAmount, ...]:
    """Return what each markup comes to, in order, each rounded half-up to the cent.

    Parameters
    ----------
    cents_by_kind : mapping of str to int
        Cost in cash, by kind.
    markups : sequence of Markup
        In any order.
    """
    amounts: dict[str, MarkupAmount] = {}
    for markup in sorted(markups, key=lambda one: (one.order, one.code)):
        base = sum(cents_by_kind.get(kind, 0) for kind in markup.kinds)
        base += sum(amounts[code].amount_cents for code in markup.on if code in amounts)
        if markup.percent is not None:
            amount = to_cents(dollars(base) * markup.percent / 100)
        else:
            amount = to_cents(markup.fixed_sum or Decimal(0))
        amounts[markup.code] = MarkupAmount(markup, base, amount)
    return tuple(amounts.values())


def percent_markup_cents(cents_by_kind: Mapping[str, Cents], markups: Sequence[Markup]) -> Cents:
    """Return what all percentage markups come to on many costs at once, each to the cent.

    Parameters
    ----------
    cents_by_kind : mapping of str to int64 array, each of shape (n,)
        Cost in cash, by kind.
    markups : sequence of Markup
        In any order; fixed sums are left out, for they are the same whatever the cost.

    Notes
    -----
    For each cost the same cents as the percentages of `markup_amounts`.
    """
    amounts: dict[str, Cents] = {}
    for markup in sorted(markups, key=lambda one: (one.order, one.code)):
        if markup.percent is None:
            continue
        of_kinds = [cents_by_kind[kind] for kind in markup.kinds if kind in cents_by_kind]
        base = _sum([*of_kinds, *(amounts[code] for code in markup.on if code in amounts)])
        scaled = base * fixed_point(markup.percent, _PERCENT_DECIMALS)
        amounts[markup.code] = divide_half_up(scaled, 10 ** (_PERCENT_DECIMALS + 2))
    return _sum(list(amounts.values()))


def _sum(cents: Sequence[Cents]) -> Cents:
    return np.asarray(sum(cents, np.zeros((), dtype=np.int64)))


def read_markups(folders: Sequence[TableFolder], faults: Faults) -> dict[str, Markup]:
    """Return the markups by code from a stack of sets, lowest first, noting all faults."""
    read = {
        code: (row, _markup(code, row))
        for code, row in keyed_rows(folders, "markups.csv", "code", "markup", faults)
    }
    markups = {code: markup for code, (_, markup) in read.items()}
    for row, markup in read.values():
        _check_base(row, markup, markups)
    return markups


def _markup(code: str, row: Row) -> Markup:
    markup = Markup(
        code=code,
        name=row.text("name"),
        order=int(row.decimal("order", decimals=0) or 0),
        percent=row.decimal("percent", decimals=4, required=False),
        fixed_sum=row.decimal("sum", decimals=2, required=False),
        on=tuple(dict.fromkeys(row.words("on"))),
        source=row.source(),
        origin=row.origin,
    )
    if (markup.percent is None) == (markup.fixed_sum is None):
        row.fault("needs exactly one of percent and sum")
    if markup.percent is not None and not markup.on:
        row.fault("on is missing", "name kinds, earlier markups, or all")
    if markup.percent is not None and markup.percent > 100:
        row.fault(f"percent {markup.percent} is above 100")
    return markup


def _check_base(row: Row, markup: Markup, markups: Mapping[str, Markup]) -> None:
    for word in markup.on:
        if word in COSTS or word == ALL_KINDS:
            continue
        if word == SALVAGE:
            row.fault(
                "on names salvage, whose sale is a source of money and no cost", "take it out"
            )
            continue
        if word not in markups:
            row.fault(
                f"on names the unknown {quoted(word)}",
                did_you_mean(word, [*COSTS, ALL_KINDS, *markups]),
            )
        elif markups[word].order >= markup.order:
            row.fault(f"on names {quoted(word)}, which is not earlier in order")
