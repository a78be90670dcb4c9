"""Reading how a scope says that costs move together: by kinds, or by a matrix of items."""

from __future__ import annotations

from estimator.ranges.correlation import DEFAULT_CORRELATION, ByGroups
from estimator.ranges.item_correlation import ByItems
from estimator.rates.kinds import KINDS
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.share_reader import ShareReader

CORRELATION = "correlation"
BETWEEN, ITEMS, MATRIX = "between", "items", "matrix"
MOST_NAMED = 100


class CorrelationReader(ShareReader):
    """Reads the key `correlation` of a scope's risk."""

    def correlation(self, section: Section) -> ByGroups | ByItems:
        """Return how costs move together, the default where nothing or a fault is stated."""
        written = section.entries.get(CORRELATION)
        if written is None:
            return DEFAULT_CORRELATION
        if isinstance(written, Text):
            written = Section({BETWEEN: written}, written.where)
        if isinstance(written, Section) and {ITEMS, MATRIX} & written.entries.keys():
            return self.by_items(self.section(written, CORRELATION, (BETWEEN, ITEMS, MATRIX)))
        return self.by_kinds(self.section(written, CORRELATION, (BETWEEN, *KINDS, ITEMS, MATRIX)))

    def by_kinds(self, groups: Section) -> ByGroups | ByItems:
        """Return one coefficient between all lines, larger ones within kinds."""
        shares = {
            key: share
            for key in (BETWEEN, *KINDS)  # in one order, whatever that of the scope
            if key in groups.entries and (share := self.share(groups, key)) is not None
        }
        between = shares.pop(BETWEEN, DEFAULT_CORRELATION.between)
        result = self.tried(groups.where, CORRELATION, ByGroups, between, shares)
        return result or DEFAULT_CORRELATION

    def by_items(self, section: Section) -> ByGroups | ByItems:
        """Return a matrix with a row for each named item."""
        before = len(self.faults.entries)
        between = self.share(section, BETWEEN)
        items = self.texts(section, ITEMS)
        rows = tuple(self.row(one) for one in self.parts(section, MATRIX))
        if len(items) > MOST_NAMED:
            self.faults.add(section.where, f"{CORRELATION} names more than {MOST_NAMED} items")
        if len(self.faults.entries) > before:
            return DEFAULT_CORRELATION
        usual = DEFAULT_CORRELATION.between if between is None else between
        result = self.tried(section.where, "", ByItems, usual, items, rows)
        return result or DEFAULT_CORRELATION

    def row(self, written: Located) -> tuple[float, ...]:
        """Return the coefficients of one item."""
        if not isinstance(written, Listing):
            self.faults.add(written.where, f"a row of {MATRIX} is not a list", "write [1, 0.6]")
            return ()
        return tuple(self.coefficient(one) for one in written.parts)

    def coefficient(self, written: Located) -> float:
        """Return a share of -1 to 1; 0 where a fault is noted."""
        name = "coefficient"
        text = written.value.strip() if isinstance(written, Text) else ""
        is_negative = text.startswith("-")
        value = Text(text.removeprefix("-"), written.where)
        share = self.share(Section({name: value}, written.where), name, required=True)
        return (-1.0 if is_negative else 1.0) * (share or 0.0)
