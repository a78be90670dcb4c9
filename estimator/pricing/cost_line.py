"""The cost line: what an item needs of one resource, orders and pays, in whole numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from operator import attrgetter
from typing import Any, NamedTuple

from estimator.digests import canonical_digest
from estimator.money import RATE_DECIMALS, cents_text, fixed_point_text, fixed_rate_text
from estimator.rates.kinds import SALVAGE


class CostLine(NamedTuple):
    """A cost line; it never changes.

    Parameters
    ----------
    phase, item : str
        Code of the phase, and cost code `phase.item`.
    line : int
        Number within the item, from 1.
    assembly : str
        Code of the item's assembly.
    resource, name, kind, unit : str
        Code of what is bought, what it is called, one of `KINDS`, and what its rate is per.
    decimals : int
        How many decimals the quantities print with.
    net, waste, left_over, ordered : int
        [10**-decimals unit] `ordered` is the sum of the other three.
    rate : int
        [0.0001 $/unit] As printed.
    source, rate_row : str
        Where the rate comes from, and the row of the tables that it stands in.
    is_paid : bool
        False for unpaid own labor and own material, and for what salvage is sold for.
    cents : int
        [0.01 $] Amount. Salvage of an estimate that was stored when its sale still reduced the
        cost is negative.
    """

    phase: str
    item: str
    line: int
    assembly: str
    resource: str
    name: str
    kind: str
    unit: str
    decimals: int
    net: int
    waste: int
    left_over: int
    ordered: int
    rate: int
    source: str
    rate_row: str
    is_paid: bool
    cents: int

    @property
    def sign(self) -> int:
        """1; -1 for salvage of an estimate that was stored when its sale reduced the cost."""
        return -1 if self.kind == SALVAGE and (self.is_paid or self.cents < 0) else 1

    @property
    def is_sale(self) -> bool:
        """Whether it is what salvage is sold for: a source of money, and no cost."""
        return self.kind == SALVAGE and self.sign > 0


# In this order; a field that comes later is left out of the digest of lines that do not have it.
DIGESTED = (
    "phase", "item", "line", "assembly", "resource", "name", "kind", "unit", "decimals", "net",
    "waste", "left_over", "ordered", "rate", "source", "rate_row", "is_paid", "cents",
)  # fmt: skip


def lines_digest(lines: Iterable[CostLine]) -> str:
    """Return the SHA-256 of lines in their order, over the fields of `DIGESTED`."""
    return canonical_digest("cost lines 1", list(map(attrgetter(*DIGESTED), lines)))


class LineSums(NamedTuple):
    """What lines come to [cent].

    Parameters
    ----------
    paid, own : int
        What is paid; the value of own labor and material.
    sales : int
        What salvage is sold for: a source of money, in neither of the two.
    """

    paid: int
    own: int
    sales: int


def line_sums(lines: Iterable[CostLine]) -> LineSums:
    """Return what lines come to."""
    paid = own = sales = 0
    for line in lines:
        if line.is_sale:
            sales += line.cents
        elif line.is_paid:
            paid += line.cents
        else:
            own += line.cents
    return LineSums(paid, own, sales)


def line_fields(line: CostLine) -> dict[str, Any]:
    """Return a line as JSON has it: figures as decimal texts."""
    return {
        "item": line.item,
        "line": line.line,
        "resource": line.resource,
        "name": line.name,
        "kind": line.kind,
        "net": fixed_point_text(line.net, line.decimals),
        "waste": fixed_point_text(line.waste, line.decimals),
        "left_over": fixed_point_text(line.left_over, line.decimals),
        "ordered": fixed_point_text(line.ordered, line.decimals),
        "unit": line.unit,
        "rate": fixed_rate_text(line.rate),
        "source": line.source,
        "rate_row": line.rate_row,
        "paid": line.is_paid,
        "amount": cents_text(line.cents),
    }


def line_from_fields(fields: Mapping[str, Any], assembly: str) -> CostLine:
    """Return the line that `line_fields` gave the fields of; its JSON does not name the assembly.

    Examples
    --------
    >>> fields = {
    ...     "item": "20.010", "line": 1, "resource": "stone", "name": "Stone", "kind": "material",
    ...     "net": "12.50", "waste": "0.25", "left_over": "0.25", "ordered": "13.00",
    ...     "unit": "ton", "rate": "24.00", "source": "quote", "rate_row": "quotes row 2",
    ...     "paid": True, "amount": "312.00",
    ... }
    >>> line = line_from_fields(fields, "stone-fill")
    >>> line.phase, line.ordered, line.rate, line.cents
    ('20', 1300, 240000, 31200)
    >>> line_fields(line) == fields
    True
    """
    decimals = len(fields["ordered"].partition(".")[2])  # which its other quantities have too
    return CostLine(
        phase=fields["item"].partition(".")[0],
        item=fields["item"],
        line=fields["line"],
        assembly=assembly,
        resource=fields["resource"],
        name=fields["name"],
        kind=fields["kind"],
        unit=fields["unit"],
        decimals=decimals,
        net=int(fields["net"].replace(".", "")),
        waste=int(fields["waste"].replace(".", "")),
        left_over=int(fields["left_over"].replace(".", "")),
        ordered=int(fields["ordered"].replace(".", "")),
        rate=_last_decimals(fields["rate"], RATE_DECIMALS),
        source=fields["source"],
        rate_row=fields["rate_row"],
        is_paid=fields["paid"],
        cents=_last_decimals(fields["amount"], 2),
    )


def _last_decimals(text: str, decimals: int) -> int:
    """Return a decimal text as a whole number of last decimals, many times as fast as `Decimal`."""
    whole, _, part = text.partition(".")
    return int(whole + part.ljust(decimals, "0"))
