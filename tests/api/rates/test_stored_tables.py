"""Versions of rate tables: one draft a set, published once, read back as the library reads."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from api.rates.rows import RateRow, RateSet, RateVersion
from api.rates.stored_tables import (
    delete_draft,
    file_texts,
    publish,
    quotes_of,
    recount,
    replace_rows,
    rows_of,
    start_draft,
)
from api.store.errors import AlreadyThere, Unchangeable
from api.store.verify import verify
from estimator.errors import Faults
from estimator.rates.folders import TableFolder
from estimator.rates.resources import read_resources
from estimator.rates.written_folder import write_folder
from tests.api.store.made import AT, CELLS, PEBBLES, SAND, filled

FULL_ROW = {
    **SAND, "date": "2026-02-01", "paid": "yes", "source": "quote, invented", "note": 'a "b", c',
}  # fmt: skip


@pytest.fixture
def made(store):
    return filled(store)


def set_of(work):
    return work.scalars(select(RateSet)).one()


def test_a_set_has_one_draft_at_a_time(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        rate_set = set_of(work)
        with pytest.raises(AlreadyThere, match="the set has a draft already"):
            start_draft(work, rate_set, {})


def test_a_published_version_is_final_and_the_next_draft_gets_the_next_number(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        draft = work.existing(RateVersion, made.draft_id)
        publish(work, draft)
        for change in (publish, delete_draft, lambda work, one: replace_rows(work, one, {})):
            with pytest.raises(Unchangeable, match="version 2 is published"):
                change(work, draft)
        assert start_draft(work, set_of(work), CELLS).number == 3
        work.commit()
    verify(store)


def test_a_row_of_a_draft_is_edited_with_its_own_audit_row(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        draft = work.existing(RateVersion, made.draft_id)
        row = rows_of(work, draft.id)[0]
        before = draft.content_digest
        row.cells = PEBBLES
        recount(work, draft)
        assert draft.content_digest != before
        work.commit()
        assert (row.version, draft.version) == (2, 3)
    verify(store)


def test_a_row_changed_without_a_recount_is_found_by_the_check(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        rows_of(work, made.draft_id)[0].cells = PEBBLES
        work.commit()
    with pytest.raises(Exception, match="its rows were altered"):
        verify(store)


def test_rows_of_a_published_version_are_refused_by_the_database(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        rows_of(work, made.published_id)[0].cells = PEBBLES
        with pytest.raises(Unchangeable, match="rate rows are final"):
            work.flush()


def test_all_rows_of_a_draft_are_replaced_at_once(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        draft = work.existing(RateVersion, made.draft_id)
        replace_rows(work, draft, {"resources.csv": [PEBBLES, SAND]})
        assert draft.row_count == 2
        work.commit()
    with store.reading(made.caller) as session:
        rows = rows_of(session, made.draft_id)
        assert [row.cells["code"] for row in rows] == ["pebbles", "sand"]
    verify(store)


def test_a_draft_goes_away_with_its_rows(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        delete_draft(work, work.existing(RateVersion, made.draft_id))
        work.commit()
    with store.reading(made.caller) as session:
        assert {row.rate_version_id for row in session.scalars(select(RateRow))} == {
            made.published_id
        }
    verify(store)


def test_rows_come_back_as_files_that_the_library_reads(store, made, tmp_path):
    with store.unit_of_work(made.caller, AT) as work:
        draft = work.existing(RateVersion, made.draft_id)
        replace_rows(work, draft, {"resources.csv": [FULL_ROW]})
        files = file_texts(rows_of(work, draft.id))
    write_folder(tmp_path / "set", files)
    faults = Faults()
    table = read_resources([TableFolder("set", tmp_path / "set")], faults)
    assert faults.entries == []
    assert [(one.code, str(one.rate), one.note) for one in table.rows()] == [
        ("sand", "18.50", 'a "b", c')
    ]


def test_quotes_come_back_in_their_order(store, made):
    with store.reading(made.caller) as session:
        quotes = quotes_of(session, made.project_id)
        assert [quote.row_key for quote in quotes] == ["sand"]
        assert list(file_texts(quotes)) == ["resources.csv"]
