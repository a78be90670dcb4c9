"""What does not fit into a row of a scope's other sheets: one row a value, found by its path.

`30.020 | methods / 1 / name | by hand` is the name of the first method of item 30.020; a path that
ends in `[]` has a list in its cell, `90 %; 115 %`. So whatever a scope may hold has its place.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from estimator.errors import Faults, WorkbookRefused, did_you_mean, fault, quoted
from estimator.scope.located import Listing, Located, Section, Text
from estimator.workbook.reading.headed_rows import HeadedRow, Layout, headed_rows
from estimator.workbook.reading.workbook_rows import Sheet

DETAILS = "Details"
DETAILS_LAYOUT = Layout(required=("of", "key", "value"), optional=("meaning",))
EMPTY_LIST = "none"
DEEPEST = 12

_LIST = "[]"
_STEP = re.compile(r"\s*/\s*")

# Values by key and number, each with where it stands, before lists and sections are separated.
_Tree = dict[str, Any]
Details = Mapping[str, Section]


def detail_rows(of: str, section: Section, placed: Collection[str]) -> Iterator[tuple[str, ...]]:
    """Yield the rows of what a project, phase or item says outside of the other sheets.

    Parameters
    ----------
    of : str
        Code of the phase or item, empty for the project.
    section : Section
        What it says.
    placed : collection of str
        Its keys that stand in other sheets.

    Raises
    ------
    WorkbookRefused
        If a key cannot be a step of a path.
    """
    for key, written in section.entries.items():
        if key not in placed:
            yield from ((of, path, value) for path, value in _flat(_step(key), written))


def _flat(path: str, written: Located) -> Iterator[tuple[str, str]]:
    if isinstance(written, Text):
        if written.value.strip():
            yield path, " ".join(written.value.split())
    elif isinstance(written, Section):
        for key, one in written.entries.items():
            yield from _flat(f"{path} / {_step(key)}", one)
    elif _fits_a_cell(written):
        texts = [" ".join(part.value.split()) for part in written.parts if isinstance(part, Text)]
        yield f"{path} {_LIST}", "; ".join(texts) or EMPTY_LIST
    else:
        for number, part in enumerate(written.parts, start=1):
            yield from _flat(f"{path} / {number}", part)


def _fits_a_cell(written: Listing) -> bool:
    texts = [part.value.strip() for part in written.parts if isinstance(part, Text)]
    is_plain = all(text and ";" not in text for text in texts)
    return is_plain and len(texts) == len(written.parts) and texts != [EMPTY_LIST]


def _step(key: str) -> str:
    if "/" in key or _LIST in key or key.isdigit() or key != key.strip():
        raise fault(WorkbookRefused, f"the key {quoted(key)} cannot stand in a workbook")
    return key


def read_details(sheet: Sheet, faults: Faults, notes: list[str]) -> dict[str, Section]:
    """Return what the sheet says by code of phase or item, under the empty code of the project."""
    trees: dict[str, _Tree] = {}
    for row in headed_rows(sheet, DETAILS_LAYOUT, faults, notes):
        cells = {heading: cell.text.strip() for heading, cell in row.fields.items()}
        if "key" in cells and "value" in cells:
            _place(trees.setdefault(cells.get("of", ""), {}), row, cells["key"], faults)
        elif cells:
            missing = "value" if "key" in cells else "key"
            faults.add(row.where, f"has no {missing}", "fill it in, or remove the row")
    return {of: _section(tree, sheet.where) for of, tree in trees.items() if tree}


def _place(tree: _Tree, row: HeadedRow, path: str, faults: Faults) -> None:
    cell = row.fields["value"]
    is_list = path.endswith(_LIST)
    *steps, last = _STEP.split(path.removesuffix(_LIST).strip())
    fits = all((*steps, last)) and len(steps) < DEEPEST
    at: Any = tree
    for step in steps if fits else ():
        at = at.setdefault(step, {}) if isinstance(at, dict) else None
    if not fits or not isinstance(at, dict) or last in at:
        what = f"the key {quoted(path)} does not fit"
        faults.add(row.where, what, "each value has a key of its own")
    else:
        at[last] = _texts(cell.text, cell.where) if is_list else Text(cell.text.strip(), cell.where)


def _texts(text: str, where: str) -> Listing:
    parts = [part.strip() for part in text.split(";") if part.strip()]
    listed = [] if parts == [EMPTY_LIST] else parts
    return Listing(tuple(Text(part, where) for part in listed), where)


def _section(tree: _Tree, where: str) -> Section:
    return Section({key: _located(one) for key, one in tree.items()}, where)


def _located(node: Any) -> Located:
    """Return a part of the tree: a list where all its keys are numbers, in their order."""
    if not isinstance(node, dict):
        return node  # type: ignore[no-any-return]
    where = _first_place(node)
    if all(key.isascii() and key.isdigit() and len(key) < 6 for key in node):
        numbered = sorted(node.items(), key=lambda entry: int(entry[0]))
        return Listing(tuple(_located(one) for _, one in numbered), where)
    return _section(node, where)


def _first_place(node: Any) -> str:
    while isinstance(node, dict):
        node = next(iter(node.values()))
    return str(node.where)


def with_details(section: Section, details: Section | None, faults: Faults) -> Section:
    """Return what a project, phase or item says, with its details."""
    if details is None:
        return section
    for key in details.entries.keys() & section.entries.keys():
        what = f"{quoted(key)} is on another sheet already"
        faults.add(details.entries[key].where, what, "remove one of them")
    return Section({**section.entries, **details.entries}, section.where, section.notes)


def refuse_strays(details: Details, known: Collection[str], faults: Faults) -> None:
    """Note details of a phase or an item that is not there."""
    for of, section in details.items():
        if of not in known:
            where = next(iter(section.entries.values())).where
            what = f"there is no phase or item {quoted(of)}"
            faults.add(where, what, did_you_mean(of, known))
