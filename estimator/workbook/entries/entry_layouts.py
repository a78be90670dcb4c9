"""The sheets on which entries are typed in: their columns, and which lists they offer."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.workbook.reading.headed_rows import Layout

CODES, KINDS, UNITS, PARTIES, PEOPLE, YES_NO = (
    "codes", "kinds", "units", "vendors", "people", "yes or no",
)  # fmt: skip
YES = "yes"


@dataclass(frozen=True)
class EntryColumn:
    """A column: its heading, which is the field of the entry, its width, the list it offers."""

    field: str
    width: float
    offers: str = ""
    is_required: bool = False


@dataclass(frozen=True)
class EntrySheet:
    """A sheet of entries of one kind.

    Parameters
    ----------
    title : str
        Of the sheet.
    kind : str
        Name of its list in `Books`.
    columns : tuple of EntryColumn
        From the left.
    """

    title: str
    kind: str
    columns: tuple[EntryColumn, ...]

    @property
    def layout(self) -> Layout:
        """The headings as they are read."""
        return Layout(
            tuple(one.field for one in self.columns if one.is_required),
            tuple(one.field for one in self.columns if not one.is_required),
        )

    @property
    def yes_no_fields(self) -> set[str]:
        """The fields that say yes or no."""
        return {one.field for one in self.columns if one.offers == YES_NO}


def _must(field: str, width: float, offers: str = "") -> EntryColumn:
    return EntryColumn(field, width, offers, is_required=True)


_HAPPENED = _must("happened", 12)
_CODE = _must("code", 12, CODES)
ENTRY_SHEETS = (
    EntrySheet("Costs", "costs", (
        _HAPPENED, _must("vendor", 26, PARTIES), EntryColumn("document", 16), _CODE,
        _must("kind", 13, KINDS), _must("net", 12), EntryColumn("tax", 11),
        EntryColumn("quantity", 11), EntryColumn("unit", 9, UNITS), EntryColumn("order", 11),
        EntryColumn("once", 8, YES_NO), EntryColumn("credit", 8, YES_NO), EntryColumn("note", 30),
    )),
    EntrySheet("Tickets", "tickets", (
        _HAPPENED, _must("number", 13), _must("vendor", 26, PARTIES), EntryColumn("truck", 9),
        _CODE, _must("kind", 13, KINDS), _must("quantity", 11), _must("unit", 9, UNITS),
        _must("amount", 12), EntryColumn("came", 9), EntryColumn("left", 9),
        EntryColumn("placed", 8, YES_NO),
    )),
    EntrySheet("Hours", "hours", (
        _HAPPENED, _must("person", 10, PEOPLE), _must("trade", 20), _CODE, _must("hours", 9),
        _must("rate", 10), EntryColumn("unpaid", 9, YES_NO),
    )),
    EntrySheet("Progress", "progress", (
        _HAPPENED, _CODE, _must("in place", 12), EntryColumn("unit", 9, UNITS),
        EntryColumn("expected", 12), EntryColumn("percent", 9, YES_NO), EntryColumn("reason", 40),
    )),
)  # fmt: skip
