"""The demo runs the whole job of the sample, and its summary fits two screens."""

import re
from pathlib import Path

from openpyxl import load_workbook
from pypdf import PdfReader

SCREEN_ROWS, SCREEN_COLUMNS = 24, 80
DRAWN = re.compile(r"^(\d) +\S+ +\S+ +\S+ +(\S+) +(\S+)  funded$", re.MULTILINE)


def printed(demo: Path) -> str:
    return (demo / "printed.txt").read_text(encoding="utf-8")


def test_it_fits_two_screens(demo: Path) -> None:
    lines = printed(demo).splitlines()
    assert len(lines) <= 2 * SCREEN_ROWS
    assert max(map(len, lines)) <= SCREEN_COLUMNS


def test_it_is_priced_scheduled_tracked_drawn_twice_with_the_credit(demo: Path) -> None:
    said = printed(demo)
    assert re.search(r"The whole job( +\d{3},\d{3}\.\d\d){3}$", said, re.MULTILINE)
    assert "scheduled 2026-04-06 to 2026-" in said
    assert "tracked as of 2026-06-14" in said
    assert "(P80); the chance that the budget" in said
    first, second = DRAWN.findall(said)
    assert (first[:2], second[:2]) == (("1", "51,000.00"), ("2", "0.00"))
    assert "over five years: ask a tax adviser" in said


def test_the_draw_that_it_writes_is_the_one_that_it_prints(demo: Path) -> None:
    loan = DRAWN.findall(printed(demo))[1][2]
    cover = PdfReader(demo / "out" / "draw-02.pdf").pages[0].extract_text()
    assert f"Requested {loan}" in cover
    assert "INVENTED SAMPLE" in cover
    lines = load_workbook(demo / "out" / "draw-02.xlsx", data_only=True)["Cover"]
    asked = [row[1] for row in lines.iter_rows(values_only=True) if row[0] == "Requested"]
    assert [f"{one:,.2f}" for one in asked] == [loan]
    assert load_workbook(demo / "out" / "draw-02.xlsx").sheetnames[-1] == "Balance"
    assert load_workbook(demo / "out" / "tracking.xlsx").sheetnames[0] == "Attention"


def test_it_leaves_no_database_behind(demo: Path) -> None:
    assert not list((demo / "out").glob("*.sqlite3*"))
