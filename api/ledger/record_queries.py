"""Which record of the books a report goes by: happened by which day, entered by which time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated

from api.contract.fields import Day, MomentInQuery
from api.contract.services import services


@dataclass(frozen=True, kw_only=True)
class RecordQuery:
    """Of which record."""

    as_of: Annotated[date | None, Day(), "Through this date; today if left out."] = None
    known_on: Annotated[
        datetime | None, MomentInQuery(), "Counts what was entered by this time; now if left out."
    ] = None

    @property
    def dates(self) -> tuple[date, datetime]:
        """The day and the time [UTC]."""
        now = services().now
        return self.as_of or now.date(), self.known_on or now
