"""What the lists of the entry sheets offer of a ledger that is read once, row by row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from estimator.tracking.ledger_lines import SettledRow
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.payroll_week import HoursRow


@dataclass
class LedgerNames:
    """Vendors, people and bills of a ledger.

    Parameters
    ----------
    vendors, people : set of str
        Who billed or delivered, and who worked.
    unpaid : dict of int to str
        Documents of bills that are not paid in full, by their row.
    reversed_rows : set of int
        Rows that were taken back.
    """

    vendors: set[str] = field(default_factory=set)
    people: set[str] = field(default_factory=set)
    unpaid: dict[int, str] = field(default_factory=dict)
    reversed_rows: set[int] = field(default_factory=set)

    def noted(self, ledger: Iterable[SettledRow]) -> Iterator[SettledRow]:
        """Yield rows as they come, noting whose they are.

        Parameters
        ----------
        ledger : iterable of rows, each with what is known of it
            See `settled_rows`.
        """
        for row, spent in ledger:
            if isinstance(row, HoursRow):
                self.people.add(row.person)
            elif not isinstance(row, Cost):
                self.vendors.add(row.vendor)
            elif row.payroll is None:
                self.vendors.add(row.vendor)
                self._note_bill(row, sum(one.paid_cents for one in spent.values()))
            yield row, spent

    def _note_bill(self, bill: Cost, paid_cents: int) -> None:
        if bill.reverses is not None:
            self.reversed_rows.add(bill.reverses)
        elif bill.document and paid_cents != bill.cents:
            self.unpaid[bill.row] = bill.document

    def open_bills(self) -> set[str]:
        """Return the documents of the bills on which something is to pay."""
        return {one for row, one in self.unpaid.items() if row not in self.reversed_rows}
