"""The sheets on which entries are typed in offline, with drop-down lists, still empty."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from estimator.rates.kinds import COSTS
from estimator.tracking.books import Books
from estimator.tracking.change_states import CHANGE_STATES
from estimator.tracking.hold_points import open_holds
from estimator.tracking.status import JobStatus
from estimator.workbook.entries.entry_layouts import (
    BILLS,
    CODES,
    ENTRY_SHEETS,
    HOLDS,
    KINDS,
    MACHINES,
    NO,
    PARTIES,
    PEOPLE,
    STATES,
    UNITS,
    YES,
    YES_NO,
    EntrySheet,
)
from estimator.workbook.entries.ledger_names import LedgerNames
from estimator.workbook.writing.answers import (
    add_answer_style,
    finish_answers,
    offer_list,
    write_headings,
    write_spare_rows,
)
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

LISTS = "Lists"
_FIRST_ROW = 2
_ROWS_OF_A_PAGE = 30  # printed for the clipboard; on the screen any number may be filled in
_NOT_ON_IT = "That is not on the sheet Lists."
_ORDER = (
    CODES, "work", KINDS, UNITS, PARTIES, PEOPLE, MACHINES, BILLS, HOLDS, STATES, YES_NO,
)  # fmt: skip
_WIDTHS = (14, 44, 14, 12, 32, 12, 24, 18, 28, 18, 12)
_MAY_BE_NEW = (PARTIES, PEOPLE, UNITS, MACHINES, BILLS, HOLDS)


def write_entry_sheets(
    book: Book, known: Books, names: LedgerNames, status: JobStatus, page: PageSetup
) -> None:
    """Write a sheet for each kind of entry that is typed in, and the lists that they offer.

    Parameters
    ----------
    book : Book
        With these sheets, still empty.
    known, names, status : Books, LedgerNames, JobStatus
        Whose codes, vendors and people are offered.
    page : PageSetup
        For the printer.
    """
    add_answer_style(book)
    ranges = _write_lists(book, _lists(known, names, status), page)
    for sheet in ENTRY_SHEETS:
        _write_sheet(book, sheet, ranges, page)


def _lists(known: Books, names: LedgerNames, status: JobStatus) -> dict[str, list[str]]:
    codes = [one for one in status.codes if one.phase]
    hired = [one.vendor for one in known.commitments] + [one.vendor for one in known.rents]
    machines = [one.machine for one in known.rents]
    machines += [one.machine for one in known.machine_hours]
    return {
        CODES: [one.code for one in status.codes],
        "work": [one.name for one in status.codes],
        KINDS: list(COSTS),
        UNITS: sorted({one.unit for one in codes if one.unit}),
        PARTIES: _known({*names.vendors, *hired}),
        PEOPLE: _known(names.people),
        MACHINES: _known(machines),
        BILLS: _known(names.open_bills()),
        HOLDS: _known(one.name for one in open_holds(known.holds, known.results)),
        STATES: list(CHANGE_STATES),
        YES_NO: [YES, NO],
    }


def _known(names: Iterable[str]) -> list[str]:
    return sorted(set(names), key=str.casefold)


def _write_lists(book: Book, lists: Mapping[str, list[str]], page: PageSetup) -> Mapping[str, str]:
    """Write the lists and return the range of each."""
    columns = [Column(name, width) for name, width in zip(_ORDER, _WIDTHS, strict=True)]
    pen = SheetPen(book, LISTS, columns)
    write_headings(pen)
    ranges = {}
    for column, name in enumerate(_ORDER, start=1):
        pen.go_to(_FIRST_ROW)
        for word in lists[name]:
            pen.text(column, word)
            pen.down()
        if lists[name]:
            ranges[name] = pen.column_from_elsewhere(column, _FIRST_ROW)
    pen.finish(page)
    return ranges


def _write_sheet(book: Book, sheet: EntrySheet, ranges: Mapping[str, str], page: PageSetup) -> None:
    columns = [Column(one.field, one.width) for one in sheet.columns]
    pen = SheetPen(book, sheet.title, columns)
    write_headings(pen)
    write_spare_rows(pen, _ROWS_OF_A_PAGE)
    for letter, column in zip(pen.letters, sheet.columns, strict=True):
        if column.offers in ranges:
            # A vendor or a person may be new: such lists offer, and do not warn.
            message = "" if column.offers in _MAY_BE_NEW else _NOT_ON_IT
            offer_list(pen.sheet, letter, ranges[column.offers], message)
    finish_answers(pen, page)
