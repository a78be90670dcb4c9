import contextlib
import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import estimator
from estimator.errors import WorkbookRefused
from estimator.workbook.reading.guard import refuse_hostile
from estimator.workbook.reading.part_search import refuse_hostile_part
from estimator.workbook.reading.workbook_rows import read_sheets
from tests.workbook.hostile import (
    HOSTILE,
    SHEET,
    SHEET_LINKS,
    good_parts,
    link,
    links_xml,
    packed,
    rows_of,
    sheet_xml,
    text_cell,
    with_part,
    with_sheet,
)

MOST_CPU_SECONDS = 2.0
MOST_GROWTH_MB = 200.0

# Reads each file as a scope in a fresh process, and tells what it cost there and in its children.
_MEASURE = """
import json, resource, sys
from pathlib import Path
from estimator.errors import InputFaulty
from estimator.workbook.scope.scope_reader import read_scope_workbook

def used():
    return [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]

def seconds():
    return sum(one.ru_utime + one.ru_stime for one in used())

peak_before_kb = used()[0].ru_maxrss
cost = {}
for path in sorted(Path(sys.argv[1]).iterdir()):
    content, start = path.read_bytes(), seconds()
    try:
        read_scope_workbook(content, "x.xlsx")
        answer = ""
    except InputFaulty as error:
        answer = str(error)
    cost[path.stem] = [seconds() - start, answer]
own, children = used()
growth_mb = (own.ru_maxrss - peak_before_kb + children.ru_maxrss) / 1024
print(json.dumps([cost, growth_mb]))
"""


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_workbook_is_refused_in_one_sentence(kind: str) -> None:
    build, words = HOSTILE[kind]
    with pytest.raises(WorkbookRefused) as refused:
        read_sheets(build(), "x.xlsx", ("items",))
    assert len(refused.value.faults) == 1
    assert str(refused.value).startswith("x.xlsx: ")
    assert "\n" not in str(refused.value)
    assert words in str(refused.value)


def test_no_hostile_workbook_costs_2_seconds_or_200_mb(tmp_path: Path) -> None:
    for kind, (build, _) in HOSTILE.items():
        (tmp_path / f"{kind}.xlsx").write_bytes(build())
    told = subprocess.run(
        [sys.executable, "-c", _MEASURE, str(tmp_path)],
        capture_output=True,
        check=True,
        cwd=Path(estimator.__file__).parents[1],
    )
    cost, growth_mb = json.loads(told.stdout)
    assert len(cost) == len(HOSTILE) >= 15
    assert all(answer for _, answer in cost.values())
    assert {kind: s for kind, (s, _) in cost.items() if s > MOST_CPU_SECONDS} == {}
    assert growth_mb < MOST_GROWTH_MB


def test_a_good_workbook_passes() -> None:
    refuse_hostile(packed(good_parts()), "barn.xlsx")
    refuse_hostile(packed(good_parts(), zipfile.ZIP_STORED), "barn.xlsx")


def test_a_web_address_that_somebody_typed_is_only_text() -> None:
    links = links_xml(link(1, "hyperlink", "https://invented.example", "External"))
    refuse_hostile(with_part(SHEET_LINKS, links), "barn.xlsx")


def test_a_far_row_without_cells_is_harmless() -> None:
    empty = '<row r="1048576" ht="12.8" customHeight="false"></row>'
    refuse_hostile(with_sheet(rows_of(text_cell("A1", "x")) + empty), "barn.xlsx")


LONG = {
    "rows": "<row/>" * 25_001,
    "a far cell": '<row r="60000"><c r="BI60000"><v>1</v></c></row>',
    "tags": "<row>" + "<x/>" * 1_000_001 + "</row>",
}


@pytest.mark.parametrize("rows", LONG.values(), ids=LONG)
def test_a_sheet_that_nobody_reads_may_be_as_long_as_it_likes(rows: str) -> None:
    """As the ledger of large books: it comes back with the sheets that were filled in."""
    phases, items = read_sheets(with_sheet(rows), "barn.xlsx", ["phases"])
    assert [len(one.rows) for one in (phases, items)] == [2, 0]


def test_a_sheet_that_nobody_reads_holds_nothing_harmful_either() -> None:
    entities = sheet_xml("").replace(b"<worksheet", b'<!DOCTYPE x [<!ENTITY a "b">]><worksheet')
    with pytest.raises(WorkbookRefused, match="declares XML entities"):
        read_sheets(with_part(SHEET, entities), "barn.xlsx", ["phases"])


def test_a_part_that_is_two_sheets_is_read_if_one_of_them_is() -> None:
    book = good_parts()["xl/workbook.xml"].replace(b'"rId1"', b'"rId2"')
    parts = good_parts() | {"xl/workbook.xml": book, SHEET: sheet_xml("<row/>" * 25_001)}
    with pytest.raises(WorkbookRefused, match="more than 25,000 rows"):
        read_sheets(packed(parts), "barn.xlsx", ["phases"])


@pytest.mark.parametrize("cell", ["A1", "Z9", "AA10", "AZ999", "BH25000", "A19999", "B24999"])
def test_cells_within_reach_pass(cell: str) -> None:
    part = sheet_xml(f'<row><c r="{cell}"/></row>', before=f'<dimension ref="A1:{cell}"/>')
    refuse_hostile_part("xl/worksheets/sheet1.xml", part)


@pytest.mark.parametrize(
    "cell", ["BI1", "BZ1", "CA1", "AAA1", "A25001", "A30000", "A0", "a1", "1A"]
)
def test_cells_out_of_reach_are_refused(cell: str) -> None:
    part = sheet_xml(f'<row><c r="{cell}"/></row>')
    with pytest.raises(WorkbookRefused, match="as far as"):
        refuse_hostile_part("xl/worksheets/sheet1.xml", part)


@given(place=st.integers(0, 10**6), byte=st.integers(0, 255))
def test_a_changed_byte_gives_a_sentence_or_changes_nothing(place: int, byte: int) -> None:
    content = bytearray(packed(good_parts()))
    content[place % len(content)] = byte
    with contextlib.suppress(WorkbookRefused):
        refuse_hostile(bytes(content), "barn.xlsx")


@given(content=st.binary(max_size=300), with_start=st.booleans())
def test_random_bytes_give_a_sentence(content: bytes, with_start: bool) -> None:
    with pytest.raises(WorkbookRefused):
        refuse_hostile(b"PK\x03\x04" * with_start + content, "barn.xlsx")
