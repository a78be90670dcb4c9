"""The sheets on which entries are typed in: their columns, and which lists they offer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from estimator.workbook.reading.headed_rows import Layout

CODES, KINDS, UNITS, PARTIES, PEOPLE, MACHINES, BILLS, HOLDS, STATES, YES_NO = (
    "codes", "kinds", "units", "vendors", "people", "machines", "open bills", "open holds",
    "states of a change", "yes or no",
)  # fmt: skip
WHOLE, SEVERAL = "a whole number", "several, with commas between them"
YES, NO = "yes", "no"


@dataclass(frozen=True)
class EntryColumn:
    """A column: its heading, which is the field of the entry, its width, the list it offers.

    `reads` is `WHOLE` or `SEVERAL` where a cell is no plain text.
    """

    field: str
    width: float
    offers: str = ""
    is_required: bool = False
    reads: str = ""


@dataclass(frozen=True)
class Joins:
    """Which rows of a sheet are one entry, and what each of them adds to it.

    Parameters
    ----------
    by : tuple of str
        Rows that agree in these fields are one entry.
    into : str
        Field of the entry that lists a part for each row.
    parts : mapping of str to str
        Fields of a row that make its part, by their name in the part.
    needs : str
        Field without which a row is an entry by itself; empty where none is needed.
    """

    by: tuple[str, ...]
    into: str
    parts: Mapping[str, str]
    needs: str = ""


@dataclass(frozen=True)
class EntrySheet:
    """A sheet of entries of one kind.

    Parameters
    ----------
    title : str
        Of the sheet.
    kind : str
        Name of its list in `Books`.
    turn : int
        In which turn it is posted: a cost after the change that brings its code, progress after
        what its holds waited for, a bill after its tickets, a payment after its bill.
    columns : tuple of EntryColumn
        From the left.
    joins : Joins or None
        Where several rows may be one entry.
    """

    title: str
    kind: str
    turn: int
    columns: tuple[EntryColumn, ...]
    joins: Joins | None = None

    @property
    def layout(self) -> Layout:
        """The headings as they are read."""
        return Layout(
            tuple(one.field for one in self.columns if one.is_required),
            tuple(one.field for one in self.columns if not one.is_required),
        )

    def column(self, heading: str) -> EntryColumn:
        """Return the column of a heading."""
        return next(one for one in self.columns if one.field == heading)


def _must(field: str, width: float, offers: str = "") -> EntryColumn:
    return EntryColumn(field, width, offers, is_required=True)


def _may(field: str, width: float, offers: str = "", reads: str = "") -> EntryColumn:
    return EntryColumn(field, width, offers, reads=reads)


_HAPPENED = _must("happened", 12)
_WRITTEN = _may("written", 12)
_CODE = _must("code", 12, CODES)
_VENDOR = _must("vendor", 26, PARTIES)
_MACHINE = _must("machine", 22, MACHINES)
ENTRY_SHEETS = (
    EntrySheet("Costs", "costs", 4, (
        _HAPPENED, _VENDOR, _may("document", 16), _CODE, _must("kind", 13, KINDS),
        _must("net", 12), _may("tax", 11), _may("quantity", 11), _may("unit", 9, UNITS),
        _may("tickets", 20, reads=SEVERAL), _may("loads", 7, reads=WHOLE),
        _may("rents", 20, reads=SEVERAL), _may("rent through", 13), _may("order", 11),
        _may("once", 8, YES_NO), _may("credit", 8, YES_NO), _may("note", 30), _WRITTEN,
    ), Joins(
        ("happened", "vendor", "document"), "splits", {"code": "code", "kind": "kind"}, "document"
    )),
    EntrySheet("Payments", "payments", 6, (
        _HAPPENED, _VENDOR, _may("document", 16, BILLS), _may("cost row", 10, reads=WHOLE),
        _must("amount", 12), _must("means", 18), _WRITTEN,
    )),
    EntrySheet("Receipts", "receipts", 6, (
        _HAPPENED, _must("payer", 26), _must("reason", 30), _must("amount", 12), _WRITTEN,
    )),
    EntrySheet("Tickets", "tickets", 3, (
        _HAPPENED, _must("number", 13), _VENDOR, _may("truck", 9), _CODE,
        _must("kind", 13, KINDS), _must("quantity", 11), _must("unit", 9, UNITS),
        _must("amount", 12), _may("came", 9), _may("left", 9),
        _may("waited minutes", 9, reads=WHOLE), _may("placed", 8, YES_NO), _WRITTEN,
    )),
    EntrySheet("Hours", "hours", 3, (
        _HAPPENED, _must("person", 10, PEOPLE), _must("trade", 20), _CODE, _must("hours", 9),
        _must("rate", 10), _may("unpaid", 9, YES_NO), _WRITTEN,
    )),
    EntrySheet("On rent", "rents", 3, (
        _HAPPENED, _MACHINE, _VENDOR, _CODE, _may("day", 11), _may("week", 11), _may("month", 11),
        _WRITTEN,
    )),
    EntrySheet("Called off", "called_off", 5, (_HAPPENED, _MACHINE, _VENDOR, _WRITTEN)),
    EntrySheet("Machine hours", "machine_hours", 3, (
        _HAPPENED, _MACHINE, _CODE, _must("run", 9), _may("standing", 10), _may("note", 40),
        _WRITTEN,
    )),
    EntrySheet("Progress", "progress", 3, (
        _HAPPENED, _CODE, _must("in place", 12), _may("unit", 9, UNITS), _may("expected", 12),
        _may("percent", 9, YES_NO), _may("inspector", 11, YES_NO), _may("reason", 40), _WRITTEN,
    )),
    EntrySheet("Orders", "commitments", 1, (
        _HAPPENED, _must("number", 13), _VENDOR, _CODE, _must("kind", 13, KINDS),
        _must("amount", 12), _may("retainage", 11), _WRITTEN,
    )),
    EntrySheet("Changes", "changes", 0, (
        _HAPPENED, _may("number", 11), _must("reason", 36), _CODE, _may("kind", 13, KINDS),
        _must("amount", 12), _may("quantity", 11), _may("days", 7, reads=WHOLE),
        _may("state", 11, STATES), _WRITTEN,
    ), Joins(
        ("happened", "number", "reason", "state"), "parts",
        {name: name for name in ("code", "kind", "amount", "quantity", "days")},
    )),
    EntrySheet("Hold points", "holds", 1, (
        _HAPPENED, _CODE, _must("name", 26, HOLDS), _must("needs", 36), _must("decides", 20),
        _may("allowed", 11), _may("notice days", 9, reads=WHOLE), _WRITTEN,
    )),
    EntrySheet("Hold results", "results", 2, (
        _HAPPENED, _CODE, _must("name", 26, HOLDS), _must("passed", 9, YES_NO), _may("note", 40),
        _WRITTEN,
    )),
    EntrySheet("Day sheets", "days", 3, (
        _HAPPENED, _may("weather", 22), _may("temperature f", 14),
        _may("people", 18, reads=SEVERAL), _may("visitors", 24), _may("found", 40),
        _may("incidents", 30), _may("lost hours", 11), _may("lost why", 26), _WRITTEN,
    ), Joins(("happened",), "lost", {"lost_hours": "hours", "lost_why": "reason"})),
)  # fmt: skip
