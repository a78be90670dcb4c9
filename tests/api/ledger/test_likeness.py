"""What an imported row says otherwise than the books is never taken for a row that is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, time, timedelta
from typing import Any, get_type_hints

from api.contract.commands import loaded
from api.ledger.entry_kinds import ENTRY_KINDS
from api.ledger.likeness import LIKENESS
from estimator.workbook.entries.entry_layouts import ENTRY_SHEETS

# Both are noted when a row is posted, and are in no row of the library.
NOTED = {"written", "loads"}
# What is in no column: shares and rates are sent over HTTP only.
NO_COLUMN = {"share", "rate"}
SPLITS = [
    {"code": "30.020", "kind": "material", "amount": "1000.00"},
    {"code": "30.010", "kind": "haul", "amount": "440.00"},
]
MORE = {"changes": {"number": "CO-3", "state": "draft"}, "costs": {"splits": SPLITS}}


def another(value: Any, of: str) -> Any:
    """Return another value of the same type, as its annotation has it."""
    if "bool" in of:
        return not value
    if "datetime.date" in of:
        return (value or date(2026, 2, 2)) + timedelta(1)
    if "datetime.time" in of:
        return time(11, 11)
    if "Decimal" in of or "int" in of:
        return (value or 0) + 7
    return f"{value or ''}x"


def others(body: Any) -> Iterator[tuple[str, Any]]:
    """Yield the body with each of its fields changed, and each field of the first of its parts."""
    for name, of in get_type_hints(type(body)).items():
        value = getattr(body, name)
        if "Sequence" not in str(of):
            yield name, replace(body, **{name: another(value, str(of))})
        elif not value or isinstance(value[0], str):
            yield name, replace(body, **{name: [*value, 7]})
        else:
            for part_name, part in others(value[0]):
                if part_name not in NO_COLUMN and getattr(value[0], part_name) is not None:
                    yield f"{name} {part_name}", replace(body, **{name: [part, *value[1:]]})


def test_no_column_of_a_sheet_of_entries_changes_without_being_seen():
    unseen, seen = [], set()
    for kind in (ENTRY_KINDS[sheet.kind] for sheet in ENTRY_SHEETS):
        like = LIKENESS[kind.name]
        for example in (kind.example, kind.example | MORE.get(kind.name, {})):
            body = loaded(kind.body, example)
            before = like.key_of_body(body), like.stated_by_body(body)
            for name, other in others(body):
                seen.add(f"{kind.name}: {name}")
                if before == (like.key_of_body(other), like.stated_by_body(other)):
                    unseen.append(f"{kind.name}: {name}")
    assert [one for one in unseen if one.split()[-1] not in NOTED] == []
    assert {"costs: splits amount", "days: lost reason", "changes: parts days"} < seen
