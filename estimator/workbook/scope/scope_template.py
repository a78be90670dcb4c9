"""The empty scope workbook, and any scope as a workbook, to be filled in with drop-down lists."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import ROUND_CEILING, Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.assemblies.assembly import Assembly, AssemblyInput
from estimator.assemblies.tables import Tables
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.scope_reader import read_scope
from estimator.workbook.reading.measure_text import measure_cell
from estimator.workbook.reading.workbook_rows import column_letters
from estimator.workbook.scope.details import DETAILS
from estimator.workbook.scope.reference_sheets import (
    ASSEMBLIES,
    FIRST_LIST_ROW,
    HOW_TO,
    LISTS,
    write_assemblies,
    write_how_to,
    write_lists,
)
from estimator.workbook.scope.scope_reader import ITEMS, ITEMS_LAYOUT, PHASES, PROJECT
from estimator.workbook.scope.scope_sheets import PROJECT_ROWS, write_scope_sheets
from estimator.workbook.writing.answers import LAST_ROW, offer_list
from estimator.workbook.writing.book import Book
from estimator.written_files import write_files

if TYPE_CHECKING:
    from openpyxl.worksheet.datavalidation import DataValidation
    from openpyxl.worksheet.worksheet import Worksheet

# The file must not depend on the clock, and an empty form is of no day.
_DAY_OF_THE_FORM = date(2000, 1, 1)
_SHEETS = (PROJECT, PHASES, ITEMS, DETAILS, HOW_TO, ASSEMBLIES, LISTS)
_PHASE_CODES, _ASSEMBLY_CODES, _CREW_CODES, _MARKUP_CODES = (
    "phase_codes", "assembly_codes", "crew_codes", "markup_codes",
)  # fmt: skip
_EXAMPLE = "example"
_EXAMPLE_ASSEMBLY = "stone-fill-skid-steer"
_EXAMPLE_MEASURES = {"length": "62 ft 6 in", "width": "22'-4\"", "depth": "2 ft; 6 ft 3 in"}
_MEASURE_PROMPT = (
    "A number with its unit: 62 ft 6 in, 12'-6 1/2\", 1,900 sf, 18 cy, 3 ea, 70 %. "
    "Depths at two ends: 2 ft; 6 ft 3 in. The sheet How to shows more."
)


def write_template(tables: Tables, path: Path, *, force: bool = False) -> None:
    """Write an empty scope workbook with drop-down lists and an invented row that prices.

    Parameters
    ----------
    tables : Tables
        The rate tables whose assemblies, crews and markups it offers.
    path : Path
        The file; its folder must exist. One that the program wrote before, and that is still
        empty, is replaced.
    force : bool
        Whether to write over a file that the program did not make, or that was changed since.

    Raises
    ------
    FileNotWritten
        If the file cannot or may not be written.
    """
    write_files({path: template_bytes(tables)}, force=force)


def template_bytes(tables: Tables) -> bytes:
    """Return the empty scope workbook as the bytes of a file."""
    return scope_bytes(example_scope(tables), tables)


def write_scope(written: Located, tables: Tables, path: Path, *, force: bool = False) -> None:
    """Write a scope, from YAML or anywhere else, as a workbook that can be filled in further.

    Parameters
    ----------
    written, tables
        As of `scope_bytes`.
    path, force
        As of `write_template`.

    Raises
    ------
    FileNotWritten
        If the file cannot or may not be written.
    """
    write_files({path: scope_bytes(written, tables)}, force=force)


def scope_bytes(written: Located, tables: Tables) -> bytes:
    """Return a scope, from YAML or anywhere else, as the bytes of a workbook.

    Parameters
    ----------
    written : Text, Listing or Section
        From `read_yaml`, `read_scope_workbook` or `example_scope`.
    tables : Tables
        The rate tables that it is priced with.

    Raises
    ------
    ScopeFaulty
        If it is not a scope that can be priced.
    WorkbookRefused
        If an item gives more inputs than a sheet has columns for.
    """
    scope = read_scope(written, tables)
    sections = written if isinstance(written, Section) else Section({}, "")
    footer = f"Scope for the rates {', '.join(tables.sets)}"
    book = Book(_SHEETS)
    pairs = write_scope_sheets(book, sections, footer)
    write_how_to(book, footer)
    last_assembly_row = write_assemblies(book, tables.catalogue.assemblies, footer)
    write_lists(book, tables, footer)
    _name_lists(book, tables)
    _offer_lists(book, pairs, last_assembly_row)
    book.workbook.properties.title = f"Scope of {scope.project}"
    return book.content(_DAY_OF_THE_FORM)


def example_scope(tables: Tables) -> Section:
    """Return a scope of one invented item, from the assembly that asks for least.

    The shipped assembly for stone fill is taken where the tables have it.
    """
    assemblies = tables.catalogue.assemblies
    assembly = assemblies.get(_EXAMPLE_ASSEMBLY) or min(assemblies.values(), key=_required_inputs)
    item = _section(
        code="010",
        name=f"Example, invented: {assembly.name}",
        assembly=assembly.code,
        note="Invented. Write over this row.",
        inputs=Section(dict(_example_inputs(assembly)), _EXAMPLE),
    )
    phase = _section(code="20", name="Example phase, invented", items=_listing(item))
    return _section(
        project="Example barn (invented)",
        shift="8 hr/day",
        assumptions=_listing(Text("This scope is an invented example.", _EXAMPLE)),
        phases=_listing(phase),
    )


def _section(**entries: str | Located) -> Section:
    named = {
        key: Text(value, _EXAMPLE) if isinstance(value, str) else value
        for key, value in entries.items()
    }
    return Section(named, _EXAMPLE)


def _listing(part: Located) -> Listing:
    return Listing((part,), _EXAMPLE)


def _required_inputs(assembly: Assembly) -> int:
    return sum(one.is_required for one in assembly.inputs)


def _example_inputs(assembly: Assembly) -> Iterator[tuple[str, Located]]:
    measures = _EXAMPLE_MEASURES if assembly.code == _EXAMPLE_ASSEMBLY else {}
    for one in assembly.inputs:
        if one.is_required:
            yield one.name, measure_cell(measures.get(one.name) or _within_range(one), _EXAMPLE)


def _within_range(one: AssemblyInput) -> str:
    """Return a measure within the range that makes sense, a whole number where it can be."""
    least = one.least or Decimal(0)
    most = one.most if one.most is not None else least + 4
    value = least + (most - least) / 4
    whole = value.to_integral_value(rounding=ROUND_CEILING)
    return f"{whole if whole <= most else value:f} {one.unit.name}"


def _name_lists(book: Book, tables: Tables) -> None:
    from openpyxl.workbook.defined_name import DefinedName

    lists = (
        (_ASSEMBLY_CODES, "A", len(tables.catalogue.assemblies)),
        (_CREW_CODES, "D", len(tables.crews)),
        (_MARKUP_CODES, "F", len(tables.markups)),
    )
    for name, column, count in lists:
        last_row = FIRST_LIST_ROW + max(count, 1) - 1
        cells = f"'{LISTS}'!${column}${FIRST_LIST_ROW}:${column}${last_row}"
        book.workbook.defined_names[name] = DefinedName(name, attr_text=cells)
    cells = f"'{PHASES}'!$A$2:$A${LAST_ROW}"
    book.workbook.defined_names[_PHASE_CODES] = DefinedName(_PHASE_CODES, attr_text=cells)


def _offer_lists(book: Book, pairs: int, last_assembly_row: int) -> None:
    """Offer the codes that are known; other values get a warning but are allowed."""
    items, project = book.workbook[ITEMS], book.workbook[PROJECT]
    texts = (*ITEMS_LAYOUT.required, *ITEMS_LAYOUT.optional)
    _offer(items, texts.index("phase") + 1, _PHASE_CODES, "Phases have codes on the sheet Phases.")
    _offer(
        items,
        texts.index("assembly") + 1,
        _ASSEMBLY_CODES,
        "See the sheet Assemblies.",
    )
    _offer(items, texts.index("crew") + 1, _CREW_CODES, "Crews are on the sheet Lists.")
    assembly = column_letters(texts.index("assembly") + 1)
    names = f"'{ASSEMBLIES}'!$A$1:$A${last_assembly_row}"
    first = f"MATCH(${assembly}2,{names},0)-1"
    rows = f"COUNTIF({names},${assembly}2)"
    inputs = f"OFFSET('{ASSEMBLIES}'!$D$1,{first},0,{rows},1)"
    for pair in range(pairs):
        column = len(texts) + 1 + 2 * pair
        _offer(items, column, inputs, "Not an input of this assembly: see the sheet Assemblies.")
        _prompt(items, column + 1)
    markups_row = PROJECT_ROWS.index("markups") + 2
    _offer(project, 2, _MARKUP_CODES, "", rows=(markups_row, markups_row))


def _offer(
    sheet: Worksheet, column: int, formula: str, message: str, rows: tuple[int, int] = (2, LAST_ROW)
) -> None:
    offer_list(sheet, column_letters(column), formula, message, rows)


def _prompt(sheet: Worksheet, column: int) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    prompt = DataValidation(promptTitle="Measure", prompt=_MEASURE_PROMPT, showInputMessage=True)
    _place(sheet, prompt, column, (2, LAST_ROW))


def _place(sheet: Worksheet, rule: DataValidation, column: int, rows: tuple[int, int]) -> None:
    letter = column_letters(column)
    rule.add(f"{letter}{rows[0]}:{letter}{rows[1]}")
    sheet.add_data_validation(rule)
