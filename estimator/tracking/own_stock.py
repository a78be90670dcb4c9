"""Own stock: material that was recovered or was there before, used, sold, and what is left."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from types import MappingProxyType

RECOVERED = "recovered"
HAD = "had before"
USED = "used"
SOLD = "sold"


@dataclass(frozen=True)
class StockMove:
    """Material that came into the owner's stock, or left it.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day; when it was entered [UTC].
    material, unit : str
        What it is, and what it is counted in.
    move : str
        `recovered`, `had before`, `used` or `sold`.
    quantity : Decimal
        [unit] Negative in a reversal.
    code : str
        Cost code that it came from or went to; may be empty.
    """

    row: int
    happened: date
    entered: datetime
    material: str
    unit: str
    move: str
    quantity: Decimal
    code: str = ""


@dataclass(frozen=True)
class Stock:
    """What there is of a material [unit]."""

    unit: str
    recovered: Decimal = Decimal(0)
    had: Decimal = Decimal(0)
    used: Decimal = Decimal(0)
    sold: Decimal = Decimal(0)

    @property
    def left(self) -> Decimal:
        """What came less what went; below zero where more went than there was."""
        return self.recovered + self.had - self.used - self.sold


_FIELDS = {RECOVERED: "recovered", HAD: "had", USED: "used", SOLD: "sold"}


def stock(moves: Iterable[StockMove]) -> Mapping[str, Stock]:
    """Return what there is of each material.

    Parameters
    ----------
    moves : iterable of StockMove
        As known: see `as_known`.
    """
    stands: dict[str, Stock] = {}
    for one in moves:
        before = stands.get(one.material, Stock(one.unit))
        field = _FIELDS[one.move]
        stands[one.material] = replace(before, **{field: getattr(before, field) + one.quantity})
    return MappingProxyType(stands)


def over_use_sentences(stands: Mapping[str, Stock]) -> list[str]:
    """Return a sentence for each material of which more left than there was.

    Examples
    --------
    >>> planks = Stock("sf", recovered=Decimal(890), used=Decimal(1010))
    >>> over_use_sentences({"floor plank": planks})
    ['floor plank: 1010 sf used and sold of 890 sf there was; 120 sf more than the stock']
    """
    return [
        f"{material}: {own.used + own.sold} {own.unit} used and sold of {own.recovered + own.had} "
        f"{own.unit} there was; {-own.left} {own.unit} more than the stock"
        for material, own in stands.items()
        if own.left < 0
    ]
