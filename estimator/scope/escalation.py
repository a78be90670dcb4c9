"""How prices move to the middle of the phase that pays them, as a scope states it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.errors import Faults
from estimator.money import HOUSE
from estimator.quantity.units import unit
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader

ESCALATION, PUBLIC, NO_INDEXES = "escalation", "public", "none"
_KEYS = ("yearly", "indexes")
STEEPEST = Decimal("0.5")


@dataclass(frozen=True)
class Escalation:
    """How prices change with time.

    Parameters
    ----------
    yearly : Decimal
        By which they rise in a year, as a fraction: of what no index covers, and in the months
        after an index's last figure.
    by_index : bool
        Whether the public indexes that ship go before it, each for its resources.
    """

    yearly: Decimal
    by_index: bool = False


def read_escalation(section: Section, faults: Faults) -> Escalation | None:
    """Return what a calendar's key `escalation` states, None without it, noting all faults.

    Parameters
    ----------
    section : Section
        The calendar.
    faults : Faults
        Where faults are noted.
    """
    if ESCALATION not in section.entries:
        return None
    reader = LocatedReader(faults)
    stated = reader.section(section.entries[ESCALATION], ESCALATION, _KEYS)
    indexes = reader.known(stated, "indexes", NO_INDEXES, (PUBLIC, NO_INDEXES))
    measure = reader.measured(stated, "yearly", unit("fraction"), required=True)
    if measure is None:
        return None
    exact = measure.in_unit(unit("fraction"))
    yearly = HOUSE.divide(Decimal(exact.numerator), Decimal(exact.denominator))
    if yearly > STEEPEST:
        where, text = stated.entries["yearly"].where, measure.text
        faults.add(where, f"yearly '{text}' is more than 50 %", "write 4 % a year as 4 %")
    return Escalation(yearly, indexes == PUBLIC)
