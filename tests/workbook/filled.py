"""Scope workbooks as a person fills them in, with a spreadsheet library of its own."""

import io
from collections.abc import Callable, Mapping, Sequence

from openpyxl import Workbook

Rows = Sequence[Sequence[object]]

HEADINGS = ["Phase", "Code", "Name", "Assembly", "Input 1", "Measure 1", "Input 2", "Measure 2"]
PHASES = [["Code", "Name"], ["20", "Pits"]]
CUT = ["20", "010", "Saw cut", "floor-cut", "length", "100 ft"]


def filled(
    items: Rows = (CUT,),
    phases: Rows = PHASES,
    project: Rows | None = None,
    headings: Sequence[object] = HEADINGS,
    change: Callable[[Workbook], None] | None = None,
) -> bytes:
    """Return a workbook with these rows; `change` may alter it before it is saved."""
    sheets: Mapping[str, Rows] = {"Phases": phases, "Items": [headings, *items]}
    if project is not None:
        sheets = {"Project": [["Key", "Value"], *project], **sheets}
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for title, rows in sheets.items():
        sheet = workbook.create_sheet(title)
        for row in rows:
            sheet.append(list(row))
    if change is not None:
        change(workbook)
    content = io.BytesIO()
    workbook.save(content)
    return content.getvalue()
