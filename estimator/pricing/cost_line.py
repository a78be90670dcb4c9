"""The cost line: what an item needs of one resource, orders and pays, in whole numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from estimator.digests import canonical_digest
from estimator.money import RATE_DECIMALS, cents_text, fixed_point_text, from_fixed_point, rate_text
from estimator.rates.kinds import sign_of


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
        [0.0001 $/unit] As printed: of salvage positive too.
    source, rate_row : str
        Where the rate comes from, and the row of the tables that it stands in.
    is_paid : bool
        False for unpaid own labor and own material.
    cents : int
        [0.01 $] Amount; of salvage negative.
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
        """1 for a cost, -1 for salvage, which reduces the cost."""
        return sign_of(self.kind)


# In this order; a field that comes later is left out of the digest of lines that do not have it.
DIGESTED = (
    "phase", "item", "line", "assembly", "resource", "name", "kind", "unit", "decimals", "net",
    "waste", "left_over", "ordered", "rate", "source", "rate_row", "is_paid", "cents",
)  # fmt: skip


def lines_digest(lines: Iterable[CostLine]) -> str:
    """Return the SHA-256 of lines in their order, over the fields of `DIGESTED`."""
    return canonical_digest("cost lines 1", [[getattr(x, n) for n in DIGESTED] for x in lines])


def paid_and_own_cents(lines: Iterable[CostLine]) -> tuple[int, int]:
    """Return what lines come to: what is paid, and the value of own labor and material [cent]."""
    paid = own = 0
    for line in lines:
        if line.is_paid:
            paid += line.cents
        else:
            own += line.cents
    return paid, own


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
        "rate": rate_text(from_fixed_point(line.rate, RATE_DECIMALS)),
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
