"""The sheets of a scope workbook that are read by people only: how to, assemblies and lists."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from estimator.assemblies.assembly import Assembly, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.production.crews import Crew
from estimator.workbook.scope.scope_reader import REFERENCE_SHEETS
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

ASSEMBLIES, LISTS, HOW_TO = REFERENCE_SHEETS
FIRST_LIST_ROW = 2

_ASSEMBLIES_NOTE = (
    "One row for each input that a scope may give. A value under Default holds unless an item "
    "says otherwise; required inputs have none. A value outside the range is refused as a slip. "
    "This sheet is for reading only: changes to it have no effect."
)
_GUIDE = (
    ("The sheets", (
        ("Project", "What the job is called, and what holds for all of it."),
        ("Phases", "The stages of the job, in order, each with a short code: 20 Pits filled."),
        ("Items", "One row for each piece of work: the code of its phase, a code of its own, a "
            "name, the assembly that prices it, then pairs of input and measure. The "
            "cost code is phase.item: 20.010. Blank rows are passed over; hidden rows count."),
        ("Details", "What does not fit into a row: methods, ranges, what a phase waits for. Of: "
            "the code of a phase or 30.020 of an item, empty for the project. Key: the path to "
            "the value, methods / 1 / name; one that ends in [] takes a list: 90 %; 115 %."),
        ("Assemblies", "The inputs that each assembly asks for, their units and their defaults."),
        ("Lists", "Codes for the drop-down lists: assemblies, crews, markups."),
    )),
    ("One measure", (
        ("62 ft 6 in", "feet and inches"),
        ("12'-6 1/2\"", "the same with marks and a fraction; an inch mark alone is inches: 4\""),
        ("7.5 ft, 0.5 m", "decimals; metric units are converted exactly"),
        ("1,900 sf", "areas; also sq ft, sy, sq m"),
        ("18 cy", "volumes; also cf, gal, cu m"),
        ("3 ea, 2 visit", "counts, whole numbers"),
        ("70 %", "proportions; also 0.7"),
        ("1.35 ton/cy", "densities and rates, with a slash"),
    )),
    ("Depths that vary, in one cell", (
        ("2 ft; 6 ft 3 in", "depths at the two ends: the average, 4 ft 1 1/2 in, is used"),
        ("9 in; 11 in; 1 ft 2 in; 10 in", "depths at the four corners: the average is used"),
        ("0 ft, 0 ft, 1 ft; 62 ft 6 in, 0 ft, 5 ft; 0 ft, 22 ft, 2 ft",
            "spots, each x, y and depth, three or more: the average over the surface that is "
            "stretched between them is used"),
    )),
    ("When something is wrong", (
        ("Every problem is listed", "Pricing names the sheet, the cell, what is wrong and what "
            "would be right, all of them at once, and prices nothing until they are fixed."),
        ("A bare number", "12 is refused, because it may be feet or inches: write 12 ft."),
        ("A date where a size belongs", "A spreadsheet may turn 3/8 or 1-2 into a date. The cells "
            "here are formatted as text to prevent that; pasting can undo it."),
    )),
)  # fmt: skip


def write_how_to(book: Book, footer: str) -> None:
    """Write what goes where and how measures are written."""
    pen = SheetPen(book, HOW_TO, (Column("Write", 40), Column("Meaning", 76)))
    pen.across("How to fill in this scope", "title")
    pen.across(
        "Fill in the sheets Project, Phases and Items. The row that is there is an invented "
        "example that prices as it stands: write over it."
    )
    for title, rows in _GUIDE:
        pen.down()
        pen.across(title, "section")
        for written, meaning in rows:
            pen.text(1, written, "strong")
            pen.text(2, meaning)
            pen.down()
    pen.finish(PageSetup(False, HOW_TO, footer))


def write_assemblies(book: Book, assemblies: Mapping[str, Assembly], footer: str) -> int:
    """Write what each assembly asks for; return the last row."""
    columns = (
        Column("Assembly", 26), Column("Work", 46), Column("Per", 9), Column("Input", 23),
        Column("Unit", 12), Column("Default", 12), Column("Range", 21), Column("Meaning", 58),
    )  # fmt: skip
    pen = SheetPen(book, ASSEMBLIES, columns)
    pen.top(ASSEMBLIES, _ASSEMBLIES_NOTE)
    heading_row = pen.row - 1
    for assembly in assemblies.values():
        head: tuple[str, ...] = (assembly.name, assembly.unit.name)
        for one in assembly.inputs:
            if not one.is_derived:
                _write_assembly_input(pen, assembly.code, head, one)
                head = ("", "")
    last_row = pen.row - 1
    pen.sheet.auto_filter.ref = f"A{heading_row}:{pen.letters[-1]}{last_row}"
    pen.finish(PageSetup(True, ASSEMBLIES, footer))
    return last_row


def _write_assembly_input(
    pen: SheetPen, code: str, head: tuple[str, ...], one: AssemblyInput
) -> None:
    """Write one input; its assembly is named again, for the filter and the drop-down lists."""
    style = "strong" if one.is_required else "plain"
    pen.text(1, code, "strong" if any(head) else "plain")
    texts = (*head, one.name, one.unit.name, _default(one), _range(one), one.meaning)
    for column, text in enumerate(texts, start=2):
        pen.text(column, text, style if column in (4, 6) else "plain")
    pen.down()


def _default(one: AssemblyInput) -> str:
    return "required" if one.default is None else f"{one.default:f}"


def _range(one: AssemblyInput) -> str:
    if one.least is None and one.most is None:
        return ""
    if one.least is None:
        return f"at most {one.most:,f}"
    if one.most is None:
        return f"at least {one.least:,f}"
    return f"{one.least:,f} to {one.most:,f}"


def write_lists(book: Book, tables: Tables, footer: str) -> None:
    """Write the codes that the drop-down lists show, from the second row down."""
    columns = (
        Column("Assembly", 26), Column("Work", 44), Column("Per", 9), Column("Crew", 18),
        Column("Who and what", 52), Column("Markup", 22), Column("In print", 30),
    )  # fmt: skip
    pen = SheetPen(book, LISTS, columns)
    pen.heading()
    pen.sheet.freeze_panes = "A2"
    pen.sheet.print_title_rows = "1:1"
    all_assemblies = tables.catalogue.assemblies.values()
    assemblies = [(one.code, one.name, one.unit.name) for one in all_assemblies]
    crews = [(crew.code, _members(crew)) for crew in tables.crews.values()]
    markups = [(markup.code, markup.name) for markup in tables.markups.values()]
    for first_column, rows in ((1, assemblies), (4, crews), (6, markups)):
        pen.go_to(FIRST_LIST_ROW)
        _write_list(pen, first_column, rows)
    pen.finish(PageSetup(True, LISTS, footer))


def _write_list(pen: SheetPen, first_column: int, rows: Sequence[tuple[str, ...]]) -> None:
    for row in rows:
        for column, text in enumerate(row, start=first_column):
            pen.text(column, text, "strong" if column == first_column else "plain")
        pen.down()


def _members(crew: Crew) -> str:
    return ", ".join(f"{member.number:f} {member.resource}" for member in crew.members)
