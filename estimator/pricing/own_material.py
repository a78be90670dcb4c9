"""Own material: recovered by the job, had before, used, sold, left; each counted once.

What the job recovers is paid for where it is taken up, so that using it again costs nothing. What
the owner had before has its value. What is used beyond both does not exist: it is bought.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import Recovery
from estimator.assemblies.ordering import Order
from estimator.assemblies.tables import Tables
from estimator.money import from_fixed_point
from estimator.pricing.priced_lines import LineBlock
from estimator.quantity.rounding import scaled_half_up
from estimator.quantity.units import counted
from estimator.rates.resources import ResourceRate

Integers = npt.NDArray[np.int64]

FROM_THE_JOB = "recovered by the job itself: paid for where it is taken up"


@dataclass(frozen=True)
class OwnMaterial:
    """The account of one own material; all quantities in its unit.

    Parameters
    ----------
    code, name, unit : str
        The resource.
    value : Decimal
        [$/unit] What a unit of it is worth.
    recovered, before : Decimal
        What the job takes up, and what the owner had before.
    used, sold, left : Decimal
        What items use of it, what is sold, and what is left over.
    short : Decimal
        What items need beyond all that, and what is sold beyond it.
    bought_as : str
        What is bought in its place; empty where nothing can be.
    """

    code: str
    name: str
    unit: str
    value: Decimal
    recovered: Decimal
    before: Decimal
    used: Decimal
    sold: Decimal
    left: Decimal
    short: Decimal
    bought_as: str

    @property
    def warning(self) -> str:
        """What is used beyond what there is, in a sentence; empty where nothing is."""
        if not self.short:
            return ""
        wanted = self.used + self.sold + self.short
        there = self.recovered + self.before
        rest = f"bought as {self.bought_as}" if self.bought_as else "missing"
        return (
            f"{self.name}: {self._text(wanted)} used or sold, out of {self._text(there)} "
            f"({self._text(self.recovered)} recovered, {self._text(self.before)} had before); "
            f"{self._text(self.short)} {rest}"
        )

    def _text(self, quantity: Decimal) -> str:
        return counted(f"{quantity:,f}", self.unit)


@dataclass(frozen=True)
class MaterialBrought:
    """What items bring of an own material: whole numbers of its last printed decimal."""

    recovery: Recovery
    scaled: Integers
    is_on_hand: bool


@dataclass(frozen=True)
class _Use:
    """Of a block of lines, what comes from the job, from what was there, and is short."""

    block: LineBlock
    from_job: Integers
    from_before: Integers
    short: Integers


def counted_once(
    blocks: Sequence[LineBlock], brought: Iterable[MaterialBrought], tables: Tables, on: date
) -> tuple[list[LineBlock], tuple[OwnMaterial, ...]]:
    """Return the lines with own material counted once, and the account of each material.

    Parameters
    ----------
    blocks : sequence of LineBlock
        All lines, own material at its value whatever there is of it.
    brought : iterable of Brought
        What items take up or have.
    tables : Tables
        For what is bought in its place.
    on : date
        The pricing date.

    Notes
    -----
    What is sold is gone. Items draw first on what the job recovers, then on what was there before,
    in the order of the scope, whatever the phases' dates are.
    """
    brought = list(brought)
    result, accounts = list(blocks), []
    for code, facts in tables.catalogue.own_materials.items():
        mine = [one for one in brought if one.recovery.material == code]
        used = [block for block in result if block.rate.code == code]
        if not mine and not used:
            continue
        rate = tables.rates.rate_on(code, on)
        account = _Account(rate, tables.precision.of(rate.unit), facts)
        account.count(mine, [block for block in result if block.rate.code == facts.sold_as])
        uses = account.uses(used)
        bought = tables.rates.rate_on(facts.bought_as, on) if facts.bought_as else None
        result = [block for block in result if block.rate.code != code]
        for use in uses:
            result += _split(use, rate, bought, tables, [*result, *used])
        accounts.append(account.table(uses, bought))
    return result, tuple(accounts)


class _Account:
    """What there is of a material, drawn on by one item after the other."""

    def __init__(self, rate: ResourceRate, decimals: int, facts: Recovery) -> None:
        self.rate, self.decimals, self.facts = rate, decimals, facts
        self.recovered = self.before = self.sold = 0

    def count(self, brought: Iterable[MaterialBrought], sales: Iterable[LineBlock]) -> None:
        for one in brought:
            if one.is_on_hand:
                self.before += int(one.scaled.sum())
            else:
                self.recovered += int(one.scaled.sum())
        for block in sales:
            self.sold += int(
                _converted(block.order.ordered, block.decimals, block.rate, self).sum()
            )

    def uses(self, blocks: Sequence[LineBlock]) -> list[_Use]:
        from_job = max(self.recovered - self.sold, 0)
        from_before = max(self.recovered + self.before - self.sold - from_job, 0)
        places = sorted(
            (item, block.number, at, place)
            for at, block in enumerate(blocks)
            for place, item in enumerate(block.items.tolist())
        )
        parts = [np.zeros((3, len(block.items)), dtype=np.int64) for block in blocks]
        for _, _, at, place in places:
            needed = int(blocks[at].order.ordered[place])
            first = min(needed, from_job)
            second = min(needed - first, from_before)
            from_job, from_before = from_job - first, from_before - second
            parts[at][:, place] = first, second, needed - first - second
        return [_Use(block, *part) for block, part in zip(blocks, parts, strict=True)]

    def table(self, uses: Sequence[_Use], bought: ResourceRate | None) -> OwnMaterial:
        used = sum(int((use.from_job + use.from_before).sum()) for use in uses)
        short = sum(int(use.short.sum()) for use in uses)
        there = self.recovered + self.before
        oversold = max(self.sold - there, 0)
        sold = self.sold - oversold
        return OwnMaterial(
            code=self.rate.code,
            name=self.rate.name,
            unit=self.rate.unit.name,
            value=self.rate.rate,
            recovered=self._amount(self.recovered),
            before=self._amount(self.before),
            used=self._amount(used),
            sold=self._amount(sold),
            left=self._amount(there - used - sold),
            short=self._amount(short + oversold),
            bought_as=bought.name if bought and not oversold else "",
        )

    def _amount(self, scaled: int) -> Decimal:
        return from_fixed_point(scaled, self.decimals)


def _converted(scaled: Integers, decimals: int, rate: ResourceRate, to: _Account) -> Integers:
    """Return quantities of one resource in the last decimals of another."""
    if rate.unit == to.rate.unit and decimals == to.decimals:
        return scaled
    ratio = float(rate.unit.factor / to.rate.unit.factor)
    return scaled_half_up(scaled / 10.0**decimals * ratio, to.decimals)


def _split(
    use: _Use,
    rate: ResourceRate,
    bought: ResourceRate | None,
    tables: Tables,
    others: Sequence[LineBlock],
) -> Iterator[LineBlock]:
    """Yield the lines of a use: at nothing, at its value, and bought.

    The first keeps the number of the line; what more there is of an item comes after its last.
    """
    block = use.block
    is_job = use.from_job > 0
    valued = use.from_before if bought else use.from_before + use.short
    if is_job.any():
        yield _part(block, is_job, use.from_job, at_no_cost(rate), block.number)
    if not is_job.all():
        yield _part(block, ~is_job, valued, rate, block.number)
    more = is_job & (valued > 0)
    if more.any():
        yield _part(block, more, valued, rate, _last_number(block, others) + 1)
    is_short = use.short > 0
    if bought is not None and is_short.any():
        part = _part(block, is_short, use.short, rate, _last_number(block, others) + 2)
        yield _as_bought(part, bought, tables.precision.of(bought.unit))


def _last_number(block: LineBlock, others: Sequence[LineBlock]) -> int:
    return max(one.number for one in others if np.isin(one.items, block.items).any())


def at_no_cost(rate: ResourceRate) -> ResourceRate:
    """Return the rate of own material that the job itself recovers."""
    return replace(rate, rate=Decimal(0), low=None, high=None, source=FROM_THE_JOB)


def _part(
    block: LineBlock,
    where: npt.NDArray[np.bool_],
    amount: Integers,
    rate: ResourceRate,
    number: int,
) -> LineBlock:
    """Return the share of some lines that an amount is; net and waste in proportion."""
    order = block.order
    ordered = amount[where]
    net = order.net[where] * ordered // np.maximum(order.ordered[where], 1)
    part = Order(net, ordered - net, ordered, np.ones_like(ordered))
    return replace(block, items=block.items[where], number=number, order=part, rate=rate)


def _as_bought(block: LineBlock, rate: ResourceRate, decimals: int) -> LineBlock:
    """Return lines in the unit of what is bought in their place."""
    to = _Account(rate, decimals, Recovery("", block.line.formula, "", "", rate.origin))
    net, ordered = (
        _converted(one, block.decimals, block.rate, to)
        for one in (block.order.net, block.order.ordered)
    )
    order = Order(net, ordered - net, ordered, np.ones_like(ordered))
    return replace(block, order=order, rate=rate, decimals=decimals)


def warnings_of(accounts: Iterable[OwnMaterial]) -> tuple[str, ...]:
    """Return what is used beyond what there is, a sentence for each material."""
    return tuple(one.warning for one in accounts if one.warning)


def own_material_fields(one: OwnMaterial) -> Mapping[str, str]:
    """Return an account as plain texts for JSON."""
    names = ("recovered", "before", "used", "sold", "left", "short")
    amounts = {name: f"{getattr(one, name):f}" for name in names}
    return {
        "material": one.code, "name": one.name, "unit": one.unit, "value": f"{one.value:f}",
        **amounts, "bought_as": one.bought_as,
    }  # fmt: skip


def own_material_from_fields(fields: Mapping[str, str]) -> OwnMaterial:
    """Return the account that `own_material_fields` gave the fields of."""
    names = ("value", "recovered", "before", "used", "sold", "left", "short")
    return OwnMaterial(
        code=fields["material"], name=fields["name"], unit=fields["unit"],
        bought_as=fields["bought_as"], **{name: Decimal(fields[name]) for name in names},
    )  # fmt: skip
