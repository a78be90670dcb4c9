"""The cost lines of items whose price stands in the scope, and their working."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import numpy as np

from estimator.assemblies.ordering import Order
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, RateMissing
from estimator.money import dollars, money_text
from estimator.pricing.cost_line import CostLine
from estimator.pricing.priced_lines import LineBlock, rate_fields
from estimator.quantity.units import unit
from estimator.scope.scope import Item, Scope
from estimator.scope.stated_price import StatedPrice


def stated_blocks(scope: Scope, tables: Tables, on: date) -> Iterator[LineBlock]:
    """Yield the line of each item that states its price: one lump sum, at its amount.

    Raises
    ------
    RateMissing
        If a quote is of a later day than the pricing date, naming each.
    """
    decimals = tables.precision.of(unit("ls"))
    faults = Faults()
    for position, item in enumerate(scope.items):
        if item.stated is not None:
            _check_day(item, item.stated, on, faults)
            here, one = np.array([position]), np.array([10**decimals])
            order = Order(one, one * 0, one, np.array([1]))
            line, rate = item.stated.line(item.code), item.stated.rate(item.code, on)
            yield LineBlock(here, 1, order, decimals, item.assembly, line, rate)
    faults.raise_if_any(RateMissing)


def _check_day(item: Item, stated: StatedPrice, on: date, faults: Faults) -> None:
    if stated.set_on is not None and stated.set_on > on:
        faults.add(
            item.where,
            f"item {item.code}: the quote of {stated.firm} is of {stated.set_on}, later than the "
            f"pricing date {on}",
            "price on a later day",
        )


def stated_steps(stated: StatedPrice, line: CostLine, on: date) -> tuple[str, ...]:
    """Return the working of a line of a stated price, in sentences."""
    steps = [f"{stated.name}: {money_text(dollars(line.cents))}, {stated.source_words}"]
    if stated.valid_until is not None:
        word = "expired on" if stated.valid_until < on else "valid until"
        steps.append(f"{word} {stated.valid_until}")
    steps += [stated.note] if stated.note else []
    return (*steps, "no quantity and no rate stand behind it: the sum is the price")


def leads_to_stated(item: Item, line: CostLine, tables: Tables, on: date) -> bool:
    """Whether a stated price leads to this very line, to the cent."""
    if item.stated is None or line.line != 1:
        return False
    decimals = tables.precision.of(unit("ls"))
    one = 10**decimals
    rebuilt = line._replace(
        item=item.code, assembly=item.assembly.code, decimals=decimals, net=one, waste=0,
        left_over=0, ordered=one, cents=int(item.stated.amount * 100),
        **rate_fields(item.stated.rate(item.code, on)),
    )  # fmt: skip
    return rebuilt == line
