"""What the record says of use: waste of what is bought, life of blades, recovery of old material.

Each adds observations to a record: see `job_rates`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise

from estimator.pricing.printed_estimate import PrintedEstimate, PrintedItem
from estimator.tracking.books import Books
from estimator.tracking.learned_rates import Observation
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.own_stock import RECOVERED, USED, unused_steps
from estimator.tracking.progress import Progress
from estimator.tracking.tickets import standing

WASTE = "waste"
LIFE = "life"
RECOVERY = "recovery"
CONSUMABLE = "consumable"

Record = dict[tuple[str, str, str], list[Observation]]
"""Observations by what they are of, code and unit."""

Spans = tuple[tuple[date, date, float], ...]
"""From one measurement to the next, and what was placed between them."""


@dataclass(frozen=True)
class _Need:
    """What the estimate needs of one thing a unit of an item, and its waste as a fraction."""

    per_unit: float
    waste: float


def placed_spans(measured: Iterable[Progress]) -> Mapping[str, Spans]:
    """Return the spans between our own measurements of each code in which some of it was placed.

    Parameters
    ----------
    measured : iterable of Progress
        As known; a percent is no quantity.
    """
    by_code: dict[str, dict[date, Decimal]] = defaultdict(dict)
    for one in measured:
        if not one.is_percent and not one.is_inspector:
            by_code[one.code][one.happened] = one.in_place
    return {
        code: tuple(
            (since, until, float(after - before))
            for (since, before), (until, after) in pairwise(
                [(date.min, Decimal(0)), *sorted(by_day.items())]
            )
            if after > before
        )
        for code, by_day in by_code.items()
    }


def recurring(costs: Iterable[Cost]) -> Iterator[Cost]:
    """Yield the bills that teach: no credit, nothing that was reversed or does not recur."""
    listed = list(costs)
    live = set(standing(listed))
    return (one for one in listed if one.row in live and not one.is_credit and not one.is_once)


def learn_use(books: Books, estimate: PrintedEstimate, record: Record) -> None:
    """Add what the record says of waste and of the life of consumables.

    Parameters
    ----------
    books : Books
        What is known.
    estimate : PrintedEstimate
        The accepted one: what an item needs of each thing, net.
    record : dict
        Observations are added.

    Notes
    -----
    Waste is what was bought less what was used, over what was used; used is what was placed, times
    the net need of the estimate for a unit of it. What was bought are delivery tickets; of what has
    none, bills with a quantity; less what is counted as not used yet. The life of a consumable is
    what was placed over how many of it were used: own stock that was logged as used, else what was
    bought.
    """
    needs = _needs(estimate)
    used = {place: rows for place, rows in _used(books).items() if place in needs}
    items, spans = {one.item: one for one in estimate.items}, placed_spans(books.progress)
    for (code, kind, unit), rows in sorted((_bought(books) | used).items()):
        item = items.get(code)
        need = None if item is None else _need(needs, item, kind, unit)
        if item is not None and need is not None:
            _learn(spans.get(code, ()), item, kind, unit, rows, need, record)


def _learn(
    spans: Spans,
    item: PrintedItem,
    kind: str,
    unit: str,
    rows: list[tuple[date, Decimal]],
    need: _Need,
    record: Record,
) -> None:
    for since, until, placed in spans:
        quantity = float(sum(own for day, own in rows if since < day <= until))
        if quantity <= 0:
            continue
        if kind == CONSUMABLE:
            seen = Observation(until, quantity, placed, f"to {until}")
            record[LIFE, item.item, f"{item.unit}/{unit}"].append(seen)
        else:
            used = placed * need.per_unit
            seen = Observation(until, used, quantity - used, f"to {until}")
            record[WASTE, item.item, f"{unit}/{unit}"].append(seen)


def _needs(estimate: PrintedEstimate) -> Mapping[tuple[str, str, str], _Need]:
    """Return the need by item, kind and unit, where one resource alone is bought by that unit."""
    quantities = {one.item: float(one.quantity) for one in estimate.items}
    lines = defaultdict(list)
    for line in estimate.lines:
        lines[line.item, line.kind, line.unit].append(line)
    needs = {}
    for place, own in lines.items():
        net = sum(line.net for line in own) / 10 ** own[0].decimals
        waste = sum(line.waste for line in own) / 10 ** own[0].decimals
        if len({line.resource for line in own}) == 1 and net > 0 and quantities.get(place[0]):
            needs[place] = _Need(net / quantities[place[0]], waste / net)
    return needs


def _need(
    needs: Mapping[tuple[str, str, str], _Need], item: PrintedItem, kind: str, unit: str
) -> _Need | None:
    """Return the need of an item; a ton of stone placed is a ton, if the estimate says no other."""
    known = needs.get((item.item, kind, unit))
    return _Need(1.0, 0.0) if known is None and unit == item.unit else known


def _bought(books: Books) -> dict[tuple[str, str, str], list[tuple[date, Decimal]]]:
    rows = defaultdict(list)
    live = set(standing(books.tickets))
    for ticket in books.tickets:
        if ticket.row in live:
            place = ticket.code, ticket.kind, ticket.unit
            rows[place].append((ticket.happened, ticket.quantity))
    with_tickets = set(rows)  # whose bills charge what the tickets brought, named or not
    for bill in recurring(books.costs):
        if bill.quantity and len(bill.splits) == 1 and not bill.tickets:
            split = bill.splits[0]
            place = split.code, split.kind, bill.unit
            if place not in with_tickets:
                rows[place].append((bill.happened, bill.quantity))
    for step in unused_steps(books.stock):  # what lies there is bought, and not wasted
        if (place := (step.code, step.kind, step.unit)) in rows:
            rows[place].append((step.happened, -step.quantity))
    return rows


def _used(books: Books) -> dict[tuple[str, str, str], list[tuple[date, Decimal]]]:
    """Return what of the own stock was used, as if it were a consumable."""
    rows = defaultdict(list)
    for move in books.stock:
        if move.move == USED and move.code:
            rows[move.code, CONSUMABLE, move.unit].append((move.happened, move.quantity))
    return rows


def table_of_use(estimate: PrintedEstimate, what: str, code: str, unit: str) -> float | None:
    """Return the waste, or the life of a consumable, that the estimate has; None without one.

    Parameters
    ----------
    estimate : PrintedEstimate
        The accepted one.
    what, code, unit : str
        `waste` or `life`, the cost code, and the unit of the figure.
    """
    bought_by = unit.rpartition("/")[2]
    for (item, kind, own_unit), need in _needs(estimate).items():
        if item == code and own_unit == bought_by and (kind == CONSUMABLE) == (what == LIFE):
            return need.waste if what == WASTE else 1 / need.per_unit
    return None


def learn_recovery(books: Books, estimate: PrintedEstimate, record: Record) -> None:
    """Add how much old material was recovered of what was taken up.

    Parameters
    ----------
    books : Books
        What is known.
    estimate : PrintedEstimate
        The accepted one.
    record : dict
        Observations are added.

    Notes
    -----
    From one entry of recovered material to the next, over what was taken up meanwhile by the last
    measurement of the code.
    """
    units, spans = {one.item: one.unit for one in estimate.items}, placed_spans(books.progress)
    recovered: dict[tuple[str, str, str], dict[date, Decimal]] = defaultdict(dict)
    for move in books.stock:
        if move.move == RECOVERED and move.code in units:
            days = recovered[move.code, move.material, move.unit]
            days[move.happened] = days.get(move.happened, Decimal(0)) + move.quantity
    for (code, material, unit), days in recovered.items():
        before = date.min
        for day, quantity in sorted(days.items()):
            taken_up = sum(
                placed for _, until, placed in spans.get(code, ()) if before < until <= day
            )
            if taken_up > 0:
                seen = Observation(day, taken_up, float(quantity), f"{material}, to {day}")
                record[RECOVERY, code, f"{unit}/{units[code]}"].append(seen)
                before = day
