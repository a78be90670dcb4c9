import csv
import io
import os
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import TablesFaulty
from estimator.money import rate_text
from estimator.rates.written_folder import table_text, write_folder

FILES = {"resources.csv": "code\n", "crews.csv": "crew\n"}


def test_a_new_folder_holds_the_files_and_nothing_else_stays_beside_it(tmp_path):
    write_folder(tmp_path / "mine", FILES)
    assert {path.name: path.read_text() for path in (tmp_path / "mine").iterdir()} == FILES
    assert [path.name for path in tmp_path.iterdir()] == ["mine"]


def test_an_empty_folder_may_be_filled(tmp_path):
    (tmp_path / "mine").mkdir()
    write_folder(tmp_path / "mine", FILES)
    assert len(list((tmp_path / "mine").iterdir())) == 2


def test_a_folder_that_holds_something_is_never_written_to(tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "notes.txt").write_text("keep")
    with pytest.raises(TablesFaulty, match="holds files already, and nothing is ever written over"):
        write_folder(tmp_path / "mine", FILES)
    assert [path.name for path in (tmp_path / "mine").iterdir()] == ["notes.txt"]


def test_a_file_in_its_place_is_refused(tmp_path):
    (tmp_path / "mine").write_text("keep")
    with pytest.raises(TablesFaulty, match="is not a folder; name a new one"):
        write_folder(tmp_path / "mine", FILES)


def test_a_link_in_its_place_is_refused(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "mine").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(TablesFaulty, match="is not a folder"):
        write_folder(tmp_path / "mine", FILES)


def test_a_folder_in_a_folder_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(TablesFaulty, match="cannot be written: no such file or directory; name"):
        write_folder(tmp_path / "no" / "mine", FILES)


def test_a_write_that_fails_leaves_nothing(tmp_path):
    too_long = "a" * (os.pathconf(tmp_path, "PC_NAME_MAX") + 1)
    with pytest.raises(TablesFaulty, match="cannot be written: file name too long"):
        write_folder(tmp_path / "mine", {**FILES, too_long: ""})
    assert list(tmp_path.iterdir()) == []


def test_a_name_without_a_folder_is_taken_from_here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    write_folder(Path("mine"), FILES)
    assert (tmp_path / "mine" / "crews.csv").read_text() == "crew\n"


@pytest.mark.parametrize(
    ("rate", "text"),
    [
        ("36", "36.00"),
        ("36.5000", "36.50"),
        ("0.0125", "0.0125"),
        ("0", "0.00"),
        ("1E+3", "1000.00"),
    ],
)
def test_a_rate_has_two_decimals_or_as_many_as_it_needs(rate, text):
    assert rate_text(Decimal(rate)) == text


@given(st.lists(st.tuples(st.text("ab,\"' ;=", max_size=8), st.text("é\t石", max_size=5))))
def test_a_table_reads_back_as_it_was_written(rows):
    cells = [{"code": code, "note": note} for code, note in rows]
    text = table_text(("code", "note"), cells)
    assert list(csv.DictReader(io.StringIO(text, newline=""), strict=True)) == cells
