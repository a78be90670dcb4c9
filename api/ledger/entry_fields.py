"""Kinds of field that entries of the books have besides those of every route."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Annotated, Any

from api.contract.fields import Choice, Day, Money, Quantity, Whole, Words
from api.contract.schemas import ListOf
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH, NOTE_LENGTH
from estimator.rates.kinds import COSTS

_TIME = "^([01][0-9]|2[0-3]):[0-5][0-9]$"


class ClockTime(Words):
    """A time of day, as 09:25."""

    def __init__(self, **options: Any) -> None:
        super().__init__(5, metadata={"pattern": _TIME}, **options)

    def read(self, value: Any) -> Any:
        """Return the time, or refuse it in a sentence."""
        text = super().read(value)
        try:
            return time.fromisoformat(text if len(text) == 5 else "")
        except ValueError:
            raise self._refuse("is not a time of day", "write it as 09:25") from None


Happened = Annotated[date, Day(), "The day it happened; never in the future."]
RowNumber = Annotated[int, Whole(1, HIGHEST_POSITION)]
CostCode = Annotated[str, Words(2 * CODE_LENGTH + 1), "Cost code, such as 30.020."]
CostKind = Annotated[str, Choice(*COSTS), "Kind of the cost."]
Name = Annotated[str, Words(NAME_LENGTH)]
Vendor = Annotated[str, Words(NAME_LENGTH), "Name of the vendor."]
Note = Annotated[str, Words(NOTE_LENGTH), "A note."]
UnitName = Annotated[str, Words(CODE_LENGTH), "Unit, such as ton."]
Amount = Annotated[Decimal, Money()]
SignedAmount = Annotated[Decimal, Money(least=None)]
Positive = Annotated[Decimal, Quantity(above="0")]


@dataclass(frozen=True, kw_only=True)
class NewEntry:
    """What every entry states."""

    happened: Happened
    written: Annotated[
        date | None, Day(), "For an old record: the day it was written down; a note says so."
    ] = None


def rows_named(most: int) -> ListOf:
    """Return the field that reads numbers of entries, none or at most so many."""
    return ListOf(Whole(1, HIGHEST_POSITION), 0, most)
