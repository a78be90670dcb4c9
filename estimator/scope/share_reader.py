"""Reading proportions of 0 to 100 %."""

from __future__ import annotations

from fractions import Fraction

from estimator.errors import quoted
from estimator.quantity.measures import refuse_bare_percent
from estimator.quantity.units import unit
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader

_FRACTION = unit("fraction")
_HUNDRED_PERCENT = Fraction(1)


class ShareReader(LocatedReader):
    """Reads proportions."""

    def share(self, section: Section, key: str, *, required: bool = False) -> float | None:
        """Return a proportion of 0 to 100 %, None if it is not there or has a fault."""
        measure = self.measured(section, key, _FRACTION, required=required)
        if measure is None:
            return None
        where, value = section.entries[key].where, measure.in_unit(_FRACTION)
        if value <= 1:
            return float(value)
        slip = (measure.text, value, _FRACTION, _HUNDRED_PERCENT)
        before = len(self.faults.entries)
        self.tried(where, key, refuse_bare_percent, *slip)
        if len(self.faults.entries) == before:
            self.faults.add(where, f"{key} {quoted(measure.text)} is not 0 to 100 %")
        return None
