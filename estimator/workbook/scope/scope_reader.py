"""A scope written in a workbook, read as the same located text that a YAML scope gives."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import PurePath

from estimator.errors import Faults, ScopeFaulty, did_you_mean, quoted
from estimator.scope.located import Listing, Located, Section, Text
from estimator.scope.scope_reader import ITEM_KEYS, SCOPE_KEYS
from estimator.workbook.reading.headed_rows import HeadedRow, Layout, headed_rows
from estimator.workbook.reading.limits import USUAL_LIMITS, ReadingLimits
from estimator.workbook.reading.measure_text import measure_cell
from estimator.workbook.reading.workbook_rows import Cell, Sheet, read_sheets

PROJECT, PHASES, ITEMS = "Project", "Phases", "Items"
REFERENCE_SHEETS = ("Assemblies", "Lists", "How to")
ASSUMPTION = "assumption"
NO_MARKUPS = "none"

PROJECT_LAYOUT = Layout(required=("key", "value"), optional=("meaning",))
PHASES_LAYOUT = Layout(required=("code", "name"))
# What is nested deeper than a row of cells stands in YAML only.
NO_PLACE = ("methods", "risk", "after", "duration")
ITEM_TEXTS = tuple(key for key in ITEM_KEYS if key not in ("inputs", *NO_PLACE))
ITEMS_LAYOUT = Layout(
    required=("phase", "code", "name", "assembly"),
    optional=("crew", "element", "note"),
    numbered=("input", "measure"),
)
PROJECT_KEYS = (
    *(key for key in SCOPE_KEYS if key not in ("phases", "assumptions", *NO_PLACE)), ASSUMPTION
)  # fmt: skip

_MAY_BE_A_DAY = ("name", "note", "value")


def read_scope_workbook(content: bytes, name: str, limits: ReadingLimits = USUAL_LIMITS) -> Located:
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
    faults = Faults()
    read = read_sheets(content, name, (PROJECT, PHASES, ITEMS), limits)
    sheets = _by_name(read, name, faults)
    entries: dict[str, Located] = {"project": Text(PurePath(name).stem, name)}
    if PROJECT in sheets:
        entries |= _project(sheets[PROJECT], faults)
    if PHASES in sheets and ITEMS in sheets:
        entries["phases"] = _phases(sheets[PHASES], sheets[ITEMS], faults)
    faults.raise_if_any(ScopeFaulty)
    return Section(entries, name)


def _by_name(read: Sequence[Sheet], name: str, faults: Faults) -> dict[str, Sheet]:
    """Return the sheets by the name that we know them by."""
    known = {word.lower(): word for word in (PROJECT, PHASES, ITEMS, *REFERENCE_SHEETS)}
    sheets: dict[str, Sheet] = {}
    for sheet in read:
        word = known.get(sheet.name.strip().lower())
        if word is None:
            near = did_you_mean(sheet.name, known.values())
            faults.add(name, f"has the unknown sheet {quoted(sheet.name)}", near)
        elif word in sheets:
            faults.add(name, f"has the sheet {quoted(word)} twice")
        else:
            sheets[word] = sheet
    for word in (PHASES, ITEMS):
        if word not in sheets:
            faults.add(name, f"has no sheet {quoted(word)}", "'--template FILE.xlsx' writes one")
    return sheets


def _project(sheet: Sheet, faults: Faults) -> dict[str, Located]:
    entries: dict[str, Located] = {}
    assumptions: list[Located] = []
    for row in headed_rows(sheet, PROJECT_LAYOUT, faults):
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
    return "known are " + ", ".join(PROJECT_KEYS)


def _markups(cell: Cell) -> Listing:
    codes = [code.strip() for code in cell.text.split(";") if code.strip()]
    listed = [] if codes == [NO_MARKUPS] else codes
    return Listing(tuple(Text(code, cell.where) for code in listed), cell.where)


def _phases(phases: Sheet, items: Sheet, faults: Faults) -> Listing:
    heads: dict[str, HeadedRow] = {}
    for row in headed_rows(phases, PHASES_LAYOUT, faults):
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
    for row in headed_rows(items, ITEMS_LAYOUT, faults):
        if row.fields:
            _place_item(row, of_phase, faults)
    listed = (_phase(code, row, of_phase[code], faults) for code, row in heads.items())
    return Listing(tuple(listed), phases.where)


def _as_it_stands(row: HeadedRow, heading: str) -> str:
    cell = row.fields.get(heading)
    return cell.text.strip() if cell else ""


def _phase(code: str, row: HeadedRow, items: Sequence[Located], faults: Faults) -> Section:
    if not items:
        remedy = f"give it items in the sheet {ITEMS}, or remove it"
        faults.add(row.where, f"phase {quoted(code)} has no items", remedy)
    entries = dict(_texts(row, PHASES_LAYOUT.required, faults))
    return Section({**entries, "items": Listing(tuple(items), row.where)}, row.where)


def _place_item(row: HeadedRow, of_phase: Mapping[str, list[Located]], faults: Faults) -> None:
    item = _item(row, faults)
    cell = row.fields.get("phase")
    code = _as_it_stands(row, "phase")
    if cell is None:
        faults.add(row.where, "phase is missing", f"name a phase of the sheet {PHASES}")
    elif code in of_phase:
        of_phase[code].append(item)
    elif not _is_wrongly_a_day(cell, "phase", faults):
        what = f"phase {quoted(code)} is not in the sheet {PHASES}"
        faults.add(cell.where, what, did_you_mean(code, of_phase))


def _item(row: HeadedRow, faults: Faults) -> Section:
    entries: dict[str, Located] = dict(_texts(row, ITEM_TEXTS, faults))
    entries["inputs"] = Section(dict(_inputs(row, faults)), row.where)
    return Section(entries, row.where)


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
