"""A file that the program made is known as its own until one byte of it is changed."""

import shutil
import zipfile
from datetime import date
from functools import cache, partial
from pathlib import Path

import pytest
from matplotlib.figure import Figure
from openpyxl import Workbook, load_workbook

from estimator.charts.drawing import drawn
from estimator.own_mark import is_unchanged_own, marked_ics
from estimator.workbook.writing.workbook_bytes import workbook_bytes

SPRING = date(2026, 3, 2)


def workbook() -> bytes:
    book = Workbook()
    book.worksheets[0]["A1"] = "stone"
    return workbook_bytes(book, SPRING)


CALENDAR = b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID:1\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
MAKERS = {
    ".xlsx": workbook,
    ".svg": partial(drawn, Figure(), "svg"),
    ".png": partial(drawn, Figure(), "png"),
    ".ics": partial(marked_ics, CALENDAR),
}


@cache
def made(ending: str) -> bytes:
    """Return what a file with that ending holds when the program has made it."""
    return MAKERS[ending]()


@pytest.mark.parametrize("ending", MAKERS)
def test_a_file_that_the_program_made_is_known(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"made{ending}"
    path.write_bytes(made(ending))
    assert is_unchanged_own(path)


@pytest.mark.parametrize("ending", [".svg", ".png", ".ics"])
def test_a_changed_byte_makes_it_somebody_elses(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"made{ending}"
    content = made(ending)
    for place in range(0, len(content), max(1, len(content) // 60)):
        path.write_bytes(content[:place] + bytes([content[place] ^ 1]) + content[place + 1 :])
        assert not is_unchanged_own(path)


def test_a_workbook_that_was_filled_in_is_somebody_elses(tmp_path: Path) -> None:
    path = tmp_path / "made.xlsx"
    path.write_bytes(made(".xlsx"))
    book = load_workbook(path)
    book.worksheets[0]["A1"] = "brick"
    book.save(path)
    assert book.properties.identifier.startswith("Groundsill ")
    assert not is_unchanged_own(path)


def test_a_workbook_with_a_part_more_is_somebody_elses(tmp_path: Path) -> None:
    path = tmp_path / "made.xlsx"
    path.write_bytes(made(".xlsx"))
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/comments1.xml", "<comments/>")
    assert not is_unchanged_own(path)


@pytest.mark.parametrize("content", [b"", b"PK", b"<?xml", b"\x89PNG", b"{}", b"x" * 500])
@pytest.mark.parametrize("ending", [".xlsx", ".svg", ".png", ".json", ".csv", ""])
def test_any_other_file_is_somebody_elses(tmp_path: Path, ending: str, content: bytes) -> None:
    path = tmp_path / f"other{ending}"
    path.write_bytes(content)
    assert not is_unchanged_own(path)


def test_the_ending_is_read_in_any_case(tmp_path: Path) -> None:
    path = tmp_path / "MADE.XLSX"
    path.write_bytes(made(".xlsx"))
    assert is_unchanged_own(Path(shutil.move(path, tmp_path / "Made.Xlsx")))
