from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from estimator.errors import TablesFaulty
from estimator.rates.adjustment.escalation import index_on
from estimator.rates.adjustment.index_table import read_index_file
from estimator.rates.kinds import KINDS

HEAD = "index,base,kinds,period,value,source\n"


def index_file(folder: Path, *rows: str, head: str = HEAD) -> Path:
    path = folder / "prices.csv"
    path.write_text(head + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return path


def faults_of(path: Path) -> list[str]:
    with pytest.raises(TablesFaulty) as raised:
        read_index_file(path)
    return [str(fault) for fault in raised.value.faults]


def test_each_kind_has_the_index_that_names_it(tmp_path):
    path = index_file(
        tmp_path,
        "wages,2025 = 100,labor,2025Q4,100,survey",
        "wages,2025 = 100,labor,2026Q1,103.5,survey",
        "stuff,2025 = 100,material; consumable,2026-01,211.4,survey",
    )
    found = read_index_file(path)
    assert sorted(found) == ["consumable", "labor", "material"]
    assert index_on(found["labor"], date(2026, 3, 31)) == Decimal("103.5")
    assert found["material"] is found["consumable"]
    assert found["material"].source == "survey"


def test_all_stands_for_every_kind(tmp_path):
    found = read_index_file(index_file(tmp_path, "cpi,base,all,2026-01,100,me"))
    assert tuple(found) == KINDS


def test_quarters_may_be_written_with_a_hyphen(tmp_path):
    found = read_index_file(index_file(tmp_path, "cpi,base,labor,2026-Q2,100,me"))
    assert found["labor"].points[0].starts_on == date(2026, 4, 1)


def test_everything_wrong_with_a_file_is_reported_at_once(tmp_path):
    path = index_file(
        tmp_path,
        "wages,base,labour,2026-01,100,me",
        "wages,base,labour,2026-13,100,me",
        "wages,base,labour,January,100,me",
        "wages,base,labour,1900-01,100,me",
        "wages,base,labour,2026-02,NaN,me",
        "wages,base,labour,2026-03,-4,me",
        "wages,other,labour,2026-04,4,",
    )
    assert faults_of(path) == [
        "index file prices.csv row 3: period '2026-13' is not a month or quarter from 1950 to "
        "2199; write 2026-01 or 2026Q1",
        "index file prices.csv row 4: period 'January' is not a month or quarter from 1950 to "
        "2199; write 2026-01 or 2026Q1",
        "index file prices.csv row 5: period '1900-01' is not a month or quarter from 1950 to "
        "2199; write 2026-01 or 2026Q1",
        "index file prices.csv row 6: value 'NaN' is not a plain number; write it as 1234.50",
        "index file prices.csv row 7: value '-4' is negative; enter it without the minus sign",
        "index file prices.csv row 8: source is missing",
        "index file prices.csv row 8: base of index 'wages' is not that of row 2; give all its "
        "rows the same, or call it another index",
        "index file prices.csv row 8: source of index 'wages' is not that of row 2; give all its "
        "rows the same, or call it another index",
        "index file prices.csv row 2: kind 'labour' is not known; did you mean 'labor'?",
    ]


def test_zero_duplicate_and_unordered_months_are_reported_by_their_rows(tmp_path):
    path = index_file(
        tmp_path,
        "cpi,base,all,2026-02,0,me",
        "cpi,base,all,2026-02,3,me",
        "cpi,base,all,2026-01,3,me",
    )
    assert faults_of(path) == [
        "index file prices.csv row 2: the figure of index cpi for 2026-02 is 0, not a positive "
        "number; leave the row out where nothing was published",
        "index file prices.csv row 3: index cpi has two figures for 2026-02; keep one",
        "index file prices.csv row 4: index cpi has 2026-01 after 2026-02; sort the rows by month",
    ]


def test_months_and_quarters_do_not_mix(tmp_path):
    path = index_file(tmp_path, "cpi,b,all,2026-01,1,me", "cpi,b,all,2026Q2,3,me")
    assert faults_of(path) == [
        "index file prices.csv row 3: index 'cpi' mixes months and quarters; make two indexes of it"
    ]


def test_one_kind_follows_one_index(tmp_path):
    path = index_file(tmp_path, "cpi,b,all,2026-01,1,me", "wages,b,labor,2026-01,1,me")
    assert faults_of(path) == [
        "index file prices.csv row 3: labor is escalated by index 'cpi' already"
    ]


def test_a_file_without_figures_is_refused(tmp_path):
    assert faults_of(index_file(tmp_path)) == ["index file prices.csv: holds no figure"]


def test_a_file_with_other_columns_is_refused(tmp_path):
    found = faults_of(index_file(tmp_path, head="index,base,kinds,month,value,source\n"))
    assert found[0] == "index file prices.csv row 1: has no column 'period'"
    assert found[1].startswith("index file prices.csv row 1: has an unknown column 'month'")


def test_a_file_that_is_not_there_is_refused(tmp_path):
    assert faults_of(tmp_path / "no.csv") == ["index file no.csv: is not there"]


def test_a_file_that_is_not_utf8_or_not_csv_is_refused(tmp_path):
    path = index_file(tmp_path, 'cpi,b,all,2026-01,"1,me')
    assert faults_of(path) == [
        "index file prices.csv after row 1: is not CSV: unexpected end of data"
    ]
    path.write_bytes(HEAD.encode() + b"cpi,caf\xe9,all,2026-01,1,me\n")
    assert faults_of(path)[0].startswith("index file prices.csv: is not UTF-8 text at byte 44")


def test_words_of_any_script_are_kept(tmp_path):
    found = read_index_file(index_file(tmp_path, "建設物価,ø = 100,all,2026-01,1,Büro"))
    assert found["labor"].name == "建設物価"
    assert found["labor"].source == "Büro"
