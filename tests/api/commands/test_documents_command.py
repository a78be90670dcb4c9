"""`groundsill documents`: pictures and PDFs added, listed and written back at the machine."""

from __future__ import annotations

import json
import shutil

import pytest

from tests.commands.running import groundsill

BILL = b"%PDF-1.4\n%%EOF\n"


@pytest.fixture
def folder(tmp_path, sample_books, monkeypatch):
    """A folder with a bill, beside the books of the sample."""
    shutil.copytree(sample_books[0], tmp_path / "data")
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    monkeypatch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
    (tmp_path / "bill.pdf").write_bytes(BILL)
    return tmp_path


def documents(folder, *words):
    return groundsill("documents", *words, folder=folder)


def test_a_bill_is_added_to_its_row_found_by_it_and_written_back(folder):
    added = documents(folder, "add", "bill.pdf", "--to", "667", "--note", "=scan")
    assert (added.exit_code, added.out[:31]) == (0, "Document 4 is added: bill.pdf o")
    (listed,) = json.loads(documents(folder, "list", "--to", "667", "--json").out)["documents"]
    assert (listed["entry"], listed["note"], listed["size"]) == (667, "=scan", 15)
    assert documents(folder, "list", "--spot", "yard").out == "There are no documents.\n"
    assert documents(folder, "get", "4", "copy.pdf").exit_code == 0
    assert (folder / "copy.pdf").read_bytes() == BILL
    assert documents(folder, "get", "4", "copy.txt").exit_code == 2
    (folder / "mine.pdf").write_bytes(b"mine")
    assert documents(folder, "get", "4", "mine.pdf").exit_code == 1
    assert (folder / "mine.pdf").read_bytes() == b"mine"
    assert groundsill("database", "verify").exit_code == 0
    traced = groundsill("trace", "30.020", "--as-of", "2026-06-14")
    assert "to row 667" in traced.out


def test_what_cannot_be_added_is_reported_and_nothing_is_added(folder, monkeypatch):
    for words, what in (
        (("bill.pdf", "--to", "9999"), "entry: there is no row 9999"),
        (("bill.pdf", "--to", "x"), "entry: is not right"),
        (("bill.pdf", "--taken", "2999-01-01"), "taken: is not a date"),
        (("data/groundsill.sqlite3",), "neither a JPEG or PNG picture nor a PDF"),
    ):
        refused = documents(folder, "add", *words)
        assert refused.exit_code == 1
        assert what in refused.err
    monkeypatch.setenv("GROUNDSILL_LARGEST_UPLOAD_BYTES", "10000")
    (folder / "long.pdf").write_bytes(BILL + b" " * 10_000)
    assert "longer than 10,000 bytes" in documents(folder, "add", "long.pdf").err
    assert "there is no document 4" in documents(folder, "get", "4", "x.pdf").err
