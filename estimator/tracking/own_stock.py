"""Own stock: material that was recovered or was there before, used, sold, and what is left.

Bought material that lies on the site and is not used yet is counted: the last count holds.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from types import MappingProxyType

from estimator.quantity.units import counted
from estimator.tracking.spent import Place
from estimator.tracking.tickets import standing

RECOVERED = "recovered"
HAD = "had before"
USED = "used"
SOLD = "sold"
UNUSED = "not used yet"


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
        `recovered`, `had before`, `used` or `sold`; or `not used yet`, a count of what was bought.
    quantity : Decimal
        [unit] Negative in a reversal.
    code : str
        Cost code that it came from or went to; may be empty.
    kind : str
        Of a count: kind of cost on which it was bought.
    cents : int or None
        [0.01 $] Of a count: what it was bought for, with tax; None of a move.
    reverses : int or None
        Number of the move that it takes back.
    """

    row: int
    happened: date
    entered: datetime
    material: str
    unit: str
    move: str
    quantity: Decimal
    code: str = ""
    kind: str = ""
    cents: int | None = None
    reverses: int | None = None


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
        As known: see `as_known`. Counts of what was bought are no moves.
    """
    stands: dict[str, Stock] = {}
    for one in moves:
        if one.move == UNUSED:
            continue
        before = stands.get(one.material, Stock(one.unit))
        field = _FIELDS[one.move]
        stands[one.material] = replace(before, **{field: getattr(before, field) + one.quantity})
    return MappingProxyType(stands)


def unused_steps(moves: Iterable[StockMove]) -> Iterator[StockMove]:
    """Yield by how much each count of bought material is more than the one before it.

    Parameters
    ----------
    moves : iterable of StockMove
        As known: see `as_known`. Of a count, quantity and cents are those of the step.
    """
    counts = [one for one in moves if one.move == UNUSED]
    live = set(standing(counts))
    last: dict[tuple[str, str, str], StockMove] = {}
    for one in sorted(counts, key=lambda move: (move.happened, move.row)):
        if one.row in live:
            material = (one.code, one.kind, " ".join(one.material.split()).casefold())
            before = last.get(material)
            quantity = before.quantity if before else Decimal(0)
            cents = (one.cents or 0) - ((before.cents or 0) if before else 0)
            yield replace(one, quantity=one.quantity - quantity, cents=cents)
            last[material] = one


def unused_cents(moves: Iterable[StockMove]) -> Counter[Place]:
    """Return what the material came to that is bought and not used yet, by code and kind [0.01 $].

    Parameters
    ----------
    moves : iterable of StockMove
        As known: see `as_known`.

    Examples
    --------
    12 tons lie beside the pit on Monday, 5 of them on Friday:

    >>> day, noon = date(2026, 5, 4), datetime(2026, 5, 4, 12)
    >>> pile = StockMove(1, day, noon, "stone", "ton", UNUSED, Decimal(12), "30.020", "material")
    >>> later = replace(pile, row=2, happened=date(2026, 5, 8), quantity=Decimal(5), cents=13_268)
    >>> unused_cents([replace(pile, cents=31_843), later])[("30.020", "material")]
    13268
    """
    cents: Counter[Place] = Counter()
    for one in unused_steps(moves):
        cents[one.code, one.kind] += one.cents or 0
    return cents


def over_use_sentences(stands: Mapping[str, Stock]) -> list[str]:
    """Return a sentence for each material of which more left than there was.

    Examples
    --------
    >>> planks = Stock("sf", recovered=Decimal(890), used=Decimal(1010))
    >>> over_use_sentences({"floor plank": planks})
    ['floor plank: 1,010 sf used or sold, out of a stock of 890 sf; 120 sf short']
    """
    return [
        f"{material}: {counted(f'{own.used + own.sold:,f}', own.unit)} used or sold, out of a "
        f"stock of {counted(f'{own.recovered + own.had:,f}', own.unit)}; "
        f"{counted(f'{-own.left:,f}', own.unit)} short"
        for material, own in stands.items()
        if own.left < 0
    ]
