"""Sheets of entries as a large job has them, typed in by the thousand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from estimator.workbook.entries.entry_reader import TypedEntry

_VENDORS, _PEOPLE, _DAYS = 50, 2_000, 25


def entries_of(codes: Sequence[str], count: int) -> list[TypedEntry]:
    """Return so many entries in their turn: of ten, four bills, three payments, a ticket, hours.

    A bill in four is over a ticket, and each payment is on a bill of its own.
    """
    sheets = (_tickets, _hours, _progress, _bills, _payments)
    return list(chain.from_iterable(sheet(codes, count) for sheet in sheets))


def _typed(kind: str, row: int, count: int, /, **body: object) -> TypedEntry:
    day = f"2026-03-{2 + row * _DAYS // count:02}"
    return TypedEntry(kind, {"happened": day, **body}, f"row {row}", {})


def _vendor(row: int) -> str:
    return f"Vendor {row // 10 % _VENDORS}"


def _code(codes: Sequence[str], row: int) -> str:
    return codes[(row // 10 * 7 + row % 10) % len(codes)]


def _tickets(codes: Sequence[str], count: int) -> Iterator[TypedEntry]:
    for row in range(0, count, 10):
        yield _typed(
            "tickets", row, count, number=f"T-{row}", vendor=_vendor(row), kind="material",
            code=_code(codes, row), quantity="20", unit="ton", amount="520.00",
        )  # fmt: skip


def _hours(codes: Sequence[str], count: int) -> Iterator[TypedEntry]:
    for row in range(1, count, 10):
        yield _typed(
            "hours", row, count, person=f"P{row % _PEOPLE}", trade="laborer", rate="20.00",
            code=_code(codes, row), hours="1",
        )  # fmt: skip


def _progress(codes: Sequence[str], count: int) -> Iterator[TypedEntry]:
    for row in range(2, count, 10):
        done = f"{100 + row * 500 // count}"
        yield _typed("progress", row, count, code=_code(codes, row), in_place=done, unit="sf")


def _bills(codes: Sequence[str], count: int) -> Iterator[TypedEntry]:
    for row in range(count):
        if row % 10 in (3, 4, 5, 6):
            over = {"tickets": [f"T-{row - 3}"]} if row % 10 == 3 else {}
            yield _typed(
                "costs", row, count, vendor=_vendor(row), document=f"D-{row}", tax="7.00",
                net=f"{100 + row % 997}.00",
                splits=[{"code": _code(codes, row), "kind": "material"}], **over,
            )  # fmt: skip


def _payments(_: Sequence[str], count: int) -> Iterator[TypedEntry]:
    for row in range(count):
        if row % 10 in (7, 8, 9):
            paid = {"vendor": _vendor(row), "document": f"D-{row - 3}"}
            yield _typed("payments", row, count, **paid, amount="50.00", means="check")
