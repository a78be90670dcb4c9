"""A scope written in a workbook, read as the same located text that a YAML scope gives."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import PurePath

from estimator.errors import Faults, ScopeFaulty, did_you_mean, fault, is_near, quoted
from estimator.scope.alternates_reader import ALTERNATE, ALTERNATES
from estimator.scope.calendar_reader import CALENDAR
from estimator.scope.job_crew import CREW
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.plan_reader import PLAN_KEYS
from estimator.scope.scope_reader import ITEM_KEYS, SCOPE_KEYS
from estimator.scope.stated_price import FORMS
from estimator.workbook.reading.headed_rows import HeadedRow, Layout, has_headings, headed_rows
from estimator.workbook.reading.limits import USUAL_LIMITS, ReadingLimits
from estimator.workbook.reading.measure_text import measure_cell
from estimator.workbook.reading.workbook_rows import Cell, Sheet, read_sheets
from estimator.workbook.scope.details import (
    DETAILS,
    DETAILS_LAYOUT,
    Details,
    read_details,
    refuse_strays,
    with_details,
)

PROJECT, PHASES, ITEMS = "Project", "Phases", "Items"
REFERENCE_SHEETS = ("Assemblies", "Lists", "How to")
ASSUMPTION = "assumption"
NO_MARKUPS = "none"
_NO_PHASE = "X"

PROJECT_LAYOUT = Layout(required=("key", "value"), optional=("meaning",))
PHASES_LAYOUT = Layout(required=("code", "name"))
# What is nested deeper than a row of cells stands in the sheet of details.
NO_PLACE = ("delays", "level", "opening", "methods", "risk", *PLAN_KEYS)
NOT_ON_A_ROW = ("phases", "assumptions", ALTERNATES, CALENDAR, CREW, *NO_PLACE)
ITEM_TEXTS = tuple(key for key in ITEM_KEYS if key not in ("inputs", *NO_PLACE, *FORMS, ALTERNATE))
ITEMS_LAYOUT = Layout(
    required=("phase", "code", "name", "assembly"),
    optional=("crew", "element", "note"),
    numbered=("input", "measure"),
)
PROJECT_KEYS = (
    *(key for key in SCOPE_KEYS if key not in NOT_ON_A_ROW),
    ASSUMPTION,
)  # fmt: skip

# By a sheet that each has, the other workbooks that the program writes.
_OTHER_WORKBOOKS = (
    ("Cost lines", "an estimate", "give the scope that it was priced from"),
    ("Methods", "a comparison of methods", "give the scope that it was made from"),
    ("resources", "a workbook of rates", "'groundsill rates import' reads it"),
)

_MAY_BE_A_DAY = ("name", "note", "value")


def read_scope_workbook(
    content: bytes,
    name: str,
    limits: ReadingLimits = USUAL_LIMITS,
    faults: Faults | None = None,
) -> Located:
    """Return the located text of a scope that is written in a workbook.

    Parameters
    ----------
    content : bytes
        An .xlsx file with the sheets `Phases` and `Items`, and `Project` if it likes.
    name : str
        What to call the file in messages; without its ending it names the project, unless the
        sheet `Project` does.
    limits : ReadingLimits
        Time and memory to read it in.
    faults : Faults, optional
        Where faults of headings and rows are noted, so that all that is wrong with the scope
        comes in one answer; whoever gives it raises them.

    Raises
    ------
    WorkbookRefused
        If the file is damaged, too large or built to do harm.
    ScopeFaulty
        With every fault of sheets, headings and rows at once.

    Notes
    -----
    Text is taken as it stands; a number as its digits, so that `20` may be a code and `12` is a
    measure without a unit. Formulas count with their stored results. Hidden rows count.
    """
    noted = Faults() if faults is None else faults
    read = read_sheets(content, name, (PROJECT, PHASES, ITEMS, DETAILS), limits)
    notes: list[str] = []
    sheets = _by_name(read, name, noted, notes)
    entries: dict[str, Located] = {"project": Text(PurePath(name).stem, name)}
    if PROJECT in sheets:
        entries |= _project(sheets[PROJECT], noted, notes)
    details = read_details(sheets[DETAILS], noted, notes) if DETAILS in sheets else {}
    entries["phases"] = _phases(sheets[PHASES], sheets[ITEMS], details, noted, notes)
    scope = with_details(Section(entries, name, tuple(notes)), details.get(""), noted)
    if faults is None or not _have_headings(sheets):
        noted.raise_if_any(ScopeFaulty)
    return scope


def _by_name(
    read: Sequence[Sheet], name: str, faults: Faults, notes: list[str]
) -> dict[str, Sheet]:
    """Return the sheets by the name that we know them by.

    Raises
    ------
    ScopeFaulty
        If the two that a scope needs are not both there.
    """
    _refuse_other_workbooks(read, name)
    known = {word.lower(): word for word in (PROJECT, PHASES, ITEMS, DETAILS, *REFERENCE_SHEETS)}
    sheets: dict[str, Sheet] = {}
    for sheet in read:
        word = known.get(sheet.name.strip().lower())
        if word is None and is_near(sheet.name.lower(), known):
            near = did_you_mean(sheet.name, known.values())
            faults.add(name, f"has the unknown sheet {quoted(sheet.name)}", near)
        elif word is None:
            notes.append(f"{name}: the sheet {quoted(sheet.name)} is not read")
        elif word in sheets:
            faults.add(name, f"has the sheet {quoted(word)} twice")
        else:
            sheets[word] = sheet
    for word in (PHASES, ITEMS):
        if word not in sheets:
            faults.add(name, f"has no sheet {quoted(word)}", "'--template FILE.xlsx' writes one")
    if not {PHASES, ITEMS} <= sheets.keys():
        faults.raise_if_any(ScopeFaulty)
    return sheets


def _have_headings(sheets: Mapping[str, Sheet]) -> bool:
    """Tell whether the rows can be read: without a heading, each row would lack the same."""
    layouts = {
        PROJECT: PROJECT_LAYOUT, PHASES: PHASES_LAYOUT, ITEMS: ITEMS_LAYOUT,
        DETAILS: DETAILS_LAYOUT,
    }  # fmt: skip
    return all(has_headings(sheets[word], one) for word, one in layouts.items() if word in sheets)


def _refuse_other_workbooks(read: Sequence[Sheet], name: str) -> None:
    """Raise if a workbook is one that the program writes for another purpose."""
    names = {sheet.name for sheet in read}
    for sheet, what, remedy in _OTHER_WORKBOOKS:
        if sheet in names and PHASES not in names:
            raise fault(ScopeFaulty, f"is {what}, not a scope", remedy, name)


def _project(sheet: Sheet, faults: Faults, notes: list[str]) -> dict[str, Located]:
    entries: dict[str, Located] = {}
    assumptions: list[Located] = []
    for row in headed_rows(sheet, PROJECT_LAYOUT, faults, notes):
        key, value = row.fields.get("key"), row.fields.get("value")
        if key is None and value is not None:
            faults.add(value.where, f"{quoted(value.text)} has no key", _known_keys())
        if key is None or value is None:
            continue
        word = key.text.strip().lower()
        if word in (ASSUMPTION, f"{ASSUMPTION}s"):
            assumptions.append(Text(value.text, value.where))
        elif word not in PROJECT_KEYS:
            remedy = did_you_mean(word, PROJECT_KEYS)
            faults.add(key.where, f"has the unknown key {quoted(key.text)}", remedy)
        elif word in entries:
            faults.add(key.where, f"repeats the key {quoted(word)}")
        else:
            entries[word] = _markups(value) if word == "markups" else Text(value.text, value.where)
    if assumptions:
        entries["assumptions"] = Listing(tuple(assumptions), sheet.where)
    return entries


def _known_keys() -> str:
    return "use one of " + ", ".join(PROJECT_KEYS)


def _markups(cell: Cell) -> Listing:
    """Return the codes of a cell; a comma between them is read like the semicolon it stands for."""
    codes = [code.strip() for code in re.split("[;,]", cell.text) if code.strip()]
    listed = [] if codes == [NO_MARKUPS] else codes
    return Listing(tuple(Text(code, cell.where) for code in listed), cell.where)


def _phases(
    phases: Sheet, items: Sheet, details: Details, faults: Faults, notes: list[str]
) -> Listing:
    heads: dict[str, HeadedRow] = {}
    for row in headed_rows(phases, PHASES_LAYOUT, faults, notes):
        code = _as_it_stands(row, "code")
        if code in heads:
            remedy = "list each phase once"
            faults.add(row.where, f"repeats phase {quoted(code)} of {heads[code].where}", remedy)
        elif code:
            heads[code] = row
        else:
            faults.add(row.where, "code is missing")
    if phases.rows and not heads:
        faults.add(phases.where, "lists no phase", "write one row for each stage of the job")
    of_phase: dict[str, list[Located]] = {code: [] for code in heads}
    known: set[str] = {"", *heads}
    filled: set[str] = set()
    strays: dict[str, list[Located]] = {}
    for row in headed_rows(items, ITEMS_LAYOUT, faults, notes):
        if row.fields:
            code, item = _phase_of(row, of_phase, faults), _item(row, faults)
            of = f"{code}.{_as_it_stands(row, 'code')}"
            filled.add(code)
            known.add(of)
            if item is not None:
                item = with_details(item, details.get(of), faults)
                of_phase.get(code, strays.setdefault(code, [])).append(item)
    refuse_strays(details, known, faults)
    for code, row in heads.items():
        if code not in filled:
            remedy = f"give it items in the sheet {ITEMS}, or remove it"
            faults.add(row.where, f"phase {quoted(code)} has no items", remedy)
    listed = [
        with_details(_phase(row, of_phase[code], faults), details.get(code), faults)
        for code, row in heads.items()
        if of_phase[code]
    ]
    return Listing((*listed, *_stray_phases(strays)), phases.where)


def _stray_phases(strays: Mapping[str, Sequence[Located]]) -> Iterator[Section]:
    """Yield the items whose phase is not there, so that their other faults come in one answer."""
    for code, items in strays.items():
        if items:
            where = items[0].where
            name = Text(code or _NO_PHASE, where)
            yield Section(
                {"code": name, "name": name, "items": Listing(tuple(items), where)}, where
            )


def _as_it_stands(row: HeadedRow, heading: str) -> str:
    cell = row.fields.get(heading)
    return cell.text.strip() if cell else ""


def _phase(row: HeadedRow, items: Sequence[Located], faults: Faults) -> Section:
    entries = dict(_texts(row, PHASES_LAYOUT.required, faults))
    return Section({**entries, "items": Listing(tuple(items), row.where)}, row.where)


def _phase_of(row: HeadedRow, known: Collection[str], faults: Faults) -> str:
    """Return the code of an item's phase, noting it where there is no such phase."""
    cell = row.fields.get("phase")
    code = _as_it_stands(row, "phase")
    if cell is None:
        faults.add(row.where, "phase is missing", f"name a phase of the sheet {PHASES}")
    elif code not in known and not _is_wrongly_a_day(cell, "phase", faults):
        what = f"phase {quoted(code)} is not in the sheet {PHASES}"
        faults.add(cell.where, what, did_you_mean(code, known))
    return code


def _item(row: HeadedRow, faults: Faults) -> Section | None:
    """Return an item; None if a cell cannot be read, since more would seem to be missing."""
    before = faults.count
    entries: dict[str, Located] = dict(_texts(row, ITEM_TEXTS, faults))
    inputs = dict(_inputs(row, faults))
    if inputs or "assembly" in entries:
        entries["inputs"] = Section(inputs, row.where)
    is_whole = row.is_whole and faults.count == before
    return Section(entries, row.where) if is_whole else None


def _texts(row: HeadedRow, headings: Sequence[str], faults: Faults) -> Iterator[tuple[str, Text]]:
    for heading in headings:
        cell = row.fields.get(heading)
        if cell is not None and not _is_wrongly_a_day(cell, heading, faults):
            yield heading, Text(cell.text.strip(), cell.where)


def _is_wrongly_a_day(cell: Cell, heading: str, faults: Faults) -> bool:
    """Note it where a spreadsheet has made a date of what was typed: 1-2, or 3/8."""
    if cell.kind != "date" or heading in _MAY_BE_A_DAY:
        return False
    remedy = "format the cell as text and type it again"
    faults.add(cell.where, f"holds the date {quoted(cell.text)} under {quoted(heading)}", remedy)
    return True


def _inputs(row: HeadedRow, faults: Faults) -> Iterator[tuple[str, Located]]:
    seen: set[str] = set()
    for heading, cell in row.fields.items():
        word, _, number = heading.rpartition(" ")
        partner = {"input": f"measure {number}", "measure": f"input {number}"}.get(word)
        if partner is None:
            continue
        if partner not in row.fields:
            faults.add(cell.where, f"{quoted(cell.text)} has no {partner} beside it")
        elif word == "input" and not _is_wrongly_a_day(cell, heading, faults):
            name, measure = cell.text.strip(), row.fields[partner]
            if name in seen:
                faults.add(cell.where, f"repeats the input {quoted(name)}")
            elif not _is_wrongly_a_day(measure, partner, faults):
                yield name, measure_cell(measure.text, measure.where)
            seen.add(name)
