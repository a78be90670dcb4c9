"""What was delivered: loads, their quantity, how long trucks were hired and waited."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.tracking.tickets import Ticket, standing


@dataclass(frozen=True)
class Delivered:
    """The loads of a code that came on one kind of cost and in one unit.

    Parameters
    ----------
    code, kind, unit : str
        What they were for; unit of the quantity.
    loads : int
        How many.
    quantity : Decimal
        [unit] Of all of them.
    minutes : int
        [min] From in to out, of the loads that have both times: the hours that a truck is hired.
    timed : int
        How many loads have both times.
    waited : int
        [min] Of the loads whose tickets say how long the truck waited.
    with_waiting : int
        How many loads these are; where there is none, the waiting is not known.
    """

    code: str
    kind: str
    unit: str
    loads: int = 0
    quantity: Decimal = Decimal(0)
    minutes: int = 0
    timed: int = 0
    waited: int = 0
    with_waiting: int = 0


def deliveries(tickets: Iterable[Ticket]) -> tuple[Delivered, ...]:
    """Return what was delivered, in the order of the codes.

    Parameters
    ----------
    tickets : iterable of Ticket
        As known: see `as_known`. A ticket that was taken back does not count.
    """
    listed = list(tickets)
    live = set(standing(listed))
    sums: dict[tuple[str, str, str], Delivered] = {}
    for one in listed:
        if one.row in live:
            place = (one.code, one.kind, one.unit)
            before = sums.get(place, Delivered(*place))
            is_timed = one.came is not None and one.left is not None
            sums[place] = Delivered(
                *place,
                before.loads + 1,
                before.quantity + one.quantity,
                before.minutes + one.minutes,
                before.timed + is_timed,
                before.waited + (one.waited_minutes or 0),
                before.with_waiting + (one.waited_minutes is not None),
            )
    return tuple(sums[place] for place in sorted(sums))
