"""The sheets of a scope workbook that are filled in: project, phases, items and details."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimator.errors import WorkbookRefused, fault
from estimator.scope.input_reader import SPOTS
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.title_block import TITLE_KEYS
from estimator.workbook.scope.details import DETAILS, detail_rows
from estimator.workbook.scope.scope_reader import (
    ASSUMPTION,
    ITEMS,
    ITEMS_LAYOUT,
    NO_MARKUPS,
    PHASES,
    PHASES_LAYOUT,
    PROJECT,
)
from estimator.workbook.writing.answers import (
    add_answer_style,
    finish_answers,
    write_answer,
    write_answers,
    write_headings,
    write_spare_rows,
)
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

USUAL_PAIRS = 8
MOST_PAIRS = 26

PROJECT_ROWS = ("project", *TITLE_KEYS, "on", "shift", "rates", "quotes", "markups", "day_worth")

ITEM_TEXTS_PLACED = (*ITEMS_LAYOUT.required[1:], *ITEMS_LAYOUT.optional)

_MEANINGS = {
    "project": "What the building or the job is called.",
    "address": "Address of the building, for the printed estimate. May be empty.",
    "prepared_for": "Who the estimate is for, for its title. May be empty.",
    "prepared_by": "Who made the estimate, for its title. May be empty.",
    "revision": "Which issue of the estimate this is, such as B of 2026-03-02. May be empty.",
    "on": "Pricing date, such as 2026-03-02. If empty: the date given to the command, or today.",
    "shift": "Length of the working day.",
    "rates": "Folder of your own rate tables beside this file, over the shipped ones; or empty.",
    "quotes": "Folder of this project's rate tables beside this file, over all others; or empty.",
    "markups": "Codes from the sheet Lists, separated by ; or the word none. Empty: all of them.",
    "day_worth": "What a day sooner is worth, such as $310/day, for comparing methods.",
    ASSUMPTION: "A sentence for the printed estimate; as many rows as there are sentences.",
}
_ITEM_WIDTHS = {
    "phase": 7, "code": 7, "name": 34, "assembly": 24, "crew": 15, "element": 9, "note": 26,
}  # fmt: skip
_PAIR_WIDTHS = (16, 14)


def write_scope_sheets(book: Book, written: Section, footer: str) -> int:
    """Write a scope into the sheets `Project`, `Phases` and `Items`; return the pairs of inputs.

    Parameters
    ----------
    book : Book
        With these three sheets, still empty.
    written : Section
        A scope that `read_scope` takes.
    footer : str
        The middle of the footer.

    Raises
    ------
    WorkbookRefused
        If an item gives more inputs than the sheet has columns for.
    """
    add_answer_style(book)
    page = PageSetup(True, _text(written, "project"), footer)
    _write_project(book, written, page)
    phases = [phase for phase in _parts(written, "phases") if isinstance(phase, Section)]
    _write_phases(book, phases, page)
    _write_details(book, written, phases, page)
    return _write_items(book, phases, page)


def _write_project(book: Book, written: Section, page: PageSetup) -> None:
    pen = SheetPen(book, PROJECT, (Column("key", 14), Column("value", 60), Column("meaning", 62)))
    write_headings(pen)
    for key in PROJECT_ROWS:
        _write_key(pen, key, _joined(written.entries.get(key), NO_MARKUPS))
    sentences = [_joined(part) for part in _parts(written, "assumptions")]
    for sentence in (*sentences, "", ""):
        _write_key(pen, ASSUMPTION, sentence)
    finish_answers(pen, page)


def _write_key(pen: SheetPen, key: str, value: str) -> None:
    pen.text(1, key, "strong")
    write_answer(pen, 2, value)
    pen.text(3, _MEANINGS[key])
    pen.down()


def _write_phases(book: Book, phases: Sequence[Section], page: PageSetup) -> None:
    pen = SheetPen(book, PHASES, (Column("code", 10), Column("name", 60)))
    write_headings(pen)
    for phase in phases:
        write_answers(pen, [_text(phase, key) for key in PHASES_LAYOUT.required])
    write_spare_rows(pen)
    finish_answers(pen, PageSetup(False, page.left, page.middle))


def _write_details(
    book: Book, written: Section, phases: Sequence[Section], page: PageSetup
) -> None:
    """Write what does not fit into a row of the other sheets: methods, ranges, what waits."""
    columns = (Column("of", 12), Column("key", 46), Column("value", 62))
    pen = SheetPen(book, DETAILS, columns)
    write_headings(pen)
    for row in _all_details(written, phases):
        write_answers(pen, row)
    write_spare_rows(pen)
    finish_answers(pen, page)


def _all_details(written: Section, phases: Sequence[Section]) -> Iterator[tuple[str, ...]]:
    yield from detail_rows("", written, (*PROJECT_ROWS, "assumptions", "phases"))
    for phase in phases:
        code = _text(phase, "code")
        yield from detail_rows(code, phase, (*PHASES_LAYOUT.required, "items"))
        for item in _parts(phase, "items"):
            if isinstance(item, Section):
                of = f"{code}.{_text(item, 'code')}"
                yield from detail_rows(of, item, (*ITEM_TEXTS_PLACED, "inputs"))


def _write_items(book: Book, phases: Sequence[Section], page: PageSetup) -> int:
    rows = [row for phase in phases for row in _item_rows(phase)]
    texts = (*ITEMS_LAYOUT.required, *ITEMS_LAYOUT.optional)
    pairs = max([USUAL_PAIRS, *((len(row) - len(texts)) // 2 for row in rows)])
    if pairs > MOST_PAIRS:
        raise fault(WorkbookRefused, f"an item gives more than {MOST_PAIRS} inputs")
    columns = [Column(heading, _ITEM_WIDTHS[heading]) for heading in texts]
    for number in range(1, pairs + 1):
        for word, width in zip(ITEMS_LAYOUT.numbered, _PAIR_WIDTHS, strict=True):
            columns.append(Column(f"{word} {number}", width))
    pen = SheetPen(book, ITEMS, columns)
    write_headings(pen)
    for row in rows:
        write_answers(pen, row)
    write_spare_rows(pen)
    finish_answers(pen, page)
    pen.sheet.freeze_panes = "D2"
    pen.sheet.print_title_cols = "A:C"
    pen.sheet.page_setup.fitToWidth = 2
    return pairs


def _item_rows(phase: Section) -> Iterator[list[str]]:
    for item in _parts(phase, "items"):
        if isinstance(item, Section):
            row = [_text(phase, "code"), *(_text(item, key) for key in ITEM_TEXTS_PLACED)]
            inputs = item.entries.get("inputs")
            for name, measure in inputs.entries.items() if isinstance(inputs, Section) else ():
                row += [name, _measure(measure)]
            yield row


def _parts(section: Section, key: str) -> tuple[Located, ...]:
    written = section.entries.get(key)
    return written.parts if isinstance(written, Listing) else ()


def _text(section: Section, key: str) -> str:
    return _joined(section.entries.get(key))


def _joined(written: Located | None, if_none: str = "") -> str:
    """Return a text, or the texts of a list as they stand in one cell."""
    if isinstance(written, Text):
        return " ".join(written.value.split())
    if isinstance(written, Listing):
        return "; ".join(_joined(part) for part in written.parts) or if_none
    return ""


def _measure(written: Located) -> str:
    if not isinstance(written, Section):
        return _joined(written)
    spots = (part for part in _parts(written, SPOTS) if isinstance(part, Listing))
    return "; ".join(", ".join(_joined(value) for value in spot.parts) for spot in spots)
