"""What the totals of an estimate rest on: quotes, own rates, illustrative rates, allowances.

Every cent of a total rests on one ground: that of the rate which prices its line. A markup rests
on what it is taken on, in proportion, if its percentage is one's own; a percentage that ships
makes all of it illustrative, and so does a sum that ships.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

import numpy as np

from estimator.assemblies.markups import MarkupAmount
from estimator.money import dollars, money_text
from estimator.pricing.priced_lines import PricedLines
from estimator.quantity.rounding import percent_text
from estimator.rates.folders import SHIPPED
from estimator.rates.kinds import SALVAGE
from estimator.rates.resources import ResourceRate
from estimator.scope.scope import Phase
from estimator.scope.stated_price import ALLOWANCE, LUMP_SUM

QUOTES, OWN, ILLUSTRATIVE = "quotes", "own_rates", "illustrative_rates"
ALLOWANCES, LUMP_SUMS, EXPIRED = "allowances", "lump_sums", "expired_quotes"

# The grounds in the order of print, each in words.
GROUNDS: Mapping[str, str] = {
    QUOTES: "valid quotes",
    OWN: "rates of your own",
    ILLUSTRATIVE: "illustrative rates",
    ALLOWANCES: "allowances",
    LUMP_SUMS: "lump sums without a quote",
    EXPIRED: "quotes that have expired",
}
_GROUNDS_OF_SUMS = {ALLOWANCE: ALLOWANCES, LUMP_SUM: LUMP_SUMS}
_REMEDIES: Mapping[str, str] = {
    ILLUSTRATIVE: "get quotes before you rely on it",
    ALLOWANCES: "nobody has priced that work yet",
    LUMP_SUMS: "get quotes for it",
    EXPIRED: "ask whether the prices still hold",
}
# What nobody has bound themselves to yet: grounds that want a quote.
WANT_A_QUOTE = tuple(_REMEDIES)

Cents = dict[str, int]
# Dollars by ground; a ground that nothing rests on is not in it.
Amounts = Mapping[str, Decimal]


@dataclass(frozen=True)
class RestsOn:
    """What each total rests on; the amounts of each add up to it, to the cent.

    Parameters
    ----------
    direct_cost, markups, cash_cost, own_value, full_cost : mapping of str to Decimal
        [$] By ground, those of `GROUNDS`.
    by_phase : mapping of str to a mapping
        [$] Paid direct cost of each phase, by ground.
    statements : tuple of str
        How much of the cash cost rests on what wants a quote, in sentences.
    """

    direct_cost: Amounts
    markups: Amounts
    cash_cost: Amounts
    own_value: Amounts
    full_cost: Amounts
    by_phase: Mapping[str, Amounts]
    statements: tuple[str, ...]


def ground_of(rate: ResourceRate, on: date) -> str:
    """Return what a rate rests on, on a day: one of `GROUNDS`.

    Notes
    -----
    A quote says until when it holds; a row that does not say so is a rate of your own. A row that
    was copied or adjusted from the shipped tables stays illustrative while its source says so. A
    dollar for a dollar is an allowance: the sum stands in the scope.
    """
    if rate.has_expired(rate.needed_on or on):
        return EXPIRED
    if rate.form in _GROUNDS_OF_SUMS:
        return _GROUNDS_OF_SUMS[rate.form]
    if rate.unit.name == "$" and rate.rate == 1:
        return ALLOWANCES
    if _is_illustrative(rate.origin.tables, rate.source):
        return ILLUSTRATIVE
    return OWN if rate.valid_until is None else QUOTES


def rests_on(
    lines: PricedLines,
    phases: Sequence[Phase],
    on: date,
    markup_amounts: Sequence[MarkupAmount],
    cash_cost: Decimal,
) -> RestsOn:
    """Return what the totals of an estimate rest on.

    Parameters
    ----------
    lines : PricedLines
        All lines of the estimate.
    phases : sequence of Phase
        Of its scope.
    on : date
        Pricing date.
    markup_amounts : sequence of MarkupAmount
        What its markups come to.
    cash_cost : Decimal
        [$] What the statements set the grounds against.
    """
    paid, own, by_phase = _of_lines(lines, phases, on)
    direct = _sum(paid.values())
    markups = of_markups(markup_amounts, paid)
    cash = _sum([direct, markups])
    return RestsOn(
        direct_cost=_amounts(direct),
        markups=_amounts(markups),
        cash_cost=_amounts(cash),
        own_value=_amounts(own),
        full_cost=_amounts(_sum([cash, own])),
        by_phase={code: _amounts(cents) for code, cents in by_phase.items()},
        statements=tuple(statements(_amounts(cash), cash_cost)),
    )


def statements(amounts: Amounts, total: Decimal) -> Iterator[str]:
    """Yield how much of a total rests on each ground that wants a quote, in a sentence."""
    for ground, remedy in _REMEDIES.items():
        amount = amounts.get(ground, Decimal(0))
        if not amount:
            continue
        if 0 < amount <= total:
            share = percent_text(float(amount / total))
            of_total = f"{money_text(amount)} of {money_text(total)} ({share})"
        else:
            of_total = f"{money_text(amount)}, beside credits in a total of {money_text(total)},"
        yield f"{of_total} rests on {GROUNDS[ground]}: {remedy}."


def known_cents(lines: PricedLines, on: date) -> tuple[list[int], list[bool]]:
    """Return the paid cents of lines, and whether each rests on a quote that is valid on a day."""
    is_quoted = [ground_of(rate, on) == QUOTES for rate in lines.rates]
    pairs = [
        (cents, is_quoted[place])
        for place, cents in zip(lines.kind_of_line.tolist(), lines.cents.tolist(), strict=True)
        if lines.rates[place].is_paid and lines.rates[place].kind != SALVAGE
    ]
    return [cents for cents, _ in pairs], [known for _, known in pairs]


def _is_illustrative(tables: str, source: str) -> bool:
    return tables == SHIPPED or source.lower().startswith("illustrative")


def _of_lines(
    lines: PricedLines, phases: Sequence[Phase], on: date
) -> tuple[dict[str, Cents], Cents, dict[str, Cents]]:
    """Return [cent] by ground: what is paid by kind, the value of own work, paid by phase."""
    sizes = [len(phase.items) for phase in phases]
    phase_of_item = np.repeat(np.arange(len(phases)), sizes)
    cents = np.zeros((len(phases), len(lines.rates)), dtype=np.int64)
    np.add.at(cents, (phase_of_item[lines.item], lines.kind_of_line), lines.cents)
    paid: dict[str, Cents] = {}
    own: Cents = {}
    by_phase: dict[str, Cents] = {phase.code: {} for phase in phases}
    for place, rate in enumerate(lines.rates):
        if rate.kind == SALVAGE:
            continue
        ground = ground_of(rate, on)
        _add(paid.setdefault(rate.kind, {}) if rate.is_paid else own, ground, cents[:, place].sum())
        if rate.is_paid:
            for phase, amount in zip(phases, cents[:, place].tolist(), strict=True):
                _add(by_phase[phase.code], ground, amount)
    return paid, own, by_phase


def of_markups(markups: Sequence[MarkupAmount], paid: Mapping[str, Cents]) -> Cents:
    """Return what all markups together rest on [cent]."""
    of_code: dict[str, Cents] = {}
    for one in markups:
        kinds = [paid[kind] for kind in one.markup.kinds if kind in paid]
        base = _sum([*kinds, *(of_code[code] for code in one.markup.on if code in of_code)])
        of_code[one.markup.code] = _of_markup(one, base)
    return _sum(of_code.values())


def _of_markup(one: MarkupAmount, base: Cents) -> Cents:
    if _is_illustrative(one.markup.origin.tables, one.markup.source):
        return {ILLUSTRATIVE: one.amount_cents}
    if one.markup.percent is None or not one.amount_cents:
        return {OWN: one.amount_cents}
    return _split(one.amount_cents, base)


def _split(total: int, base: Cents) -> Cents:
    """Return a total in proportion to what it is taken on, by largest remainder.

    Salvage may make a part of the base negative, so that the house's `apportion` does not serve.
    """
    whole = sum(base.values())
    shares = {ground: divmod(total * cents, whole) for ground, cents in base.items()}
    parts = {ground: part for ground, (part, _) in shares.items()}
    by_remainder = sorted(shares, key=lambda ground: -abs(shares[ground][1]))
    for ground in by_remainder[: total - sum(parts.values())]:
        parts[ground] += 1
    return parts


def _add(cents: Cents, ground: str, amount: int) -> None:
    cents[ground] = cents.get(ground, 0) + int(amount)


def _sum(parts: Iterable[Cents]) -> Cents:
    total: Cents = {}
    for cents in parts:
        for ground, amount in cents.items():
            _add(total, ground, amount)
    return total


def _amounts(cents: Cents) -> Amounts:
    return {ground: dollars(cents[ground]) for ground in GROUNDS if cents.get(ground)}
