"""Many rows that are added at once are as if each had been added by itself, on either database."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from api.estimates.rows import EstimateLine
from api.store.errors import AlreadyThere, Unchangeable, ValueRefused
from tests.api.store.made import AT, filled


@pytest.fixture
def made(store):
    return filled(store)


def lines(session):
    columns = EstimateLine.__table__.columns.keys()
    rows = session.scalars(select(EstimateLine).order_by(EstimateLine.position))
    return [{name: getattr(row, name) for name in columns} for row in rows]


def moved(line, by=1_000, **changes):
    return {**line, "position": line["position"] + by, "line": line["line"] + by, **changes}


def test_lines_come_back_as_they_were_given(store, made):
    text = 'Tab\t, new\nline, back\\slash, \\N, quote " and 窯'
    with store.unit_of_work(made.caller, AT) as work:
        before = lines(work)
        more = [moved(line, name=text, is_paid=False, cents=-line["cents"]) for line in before]
        work.add_parts(EstimateLine, more)
        work.add_parts(EstimateLine, [])
        work.commit()
    with store.reading(made.caller) as session:
        assert lines(session) == before + more


@pytest.mark.parametrize(
    ("changes", "refused"),
    [
        (
            {"by": 0},
            (AlreadyThere, Unchangeable),
        ),  # on SQLite the guard of final rows sees it first
        ({"name": "nul \x00"}, ValueRefused),
        ({"cents": 2**63}, ValueRefused),
        ({"cents": True}, ValueRefused),
        ({"ordered": 7, "net": 1, "waste": 0, "left_over": 0}, ValueRefused),
    ],
)
def test_what_one_of_them_must_not_be_is_refused_and_none_is_added(store, made, changes, refused):
    with store.reading(made.caller) as session:
        before = lines(session)
    rows = [moved(before[0], 500), moved(before[0], **changes)]
    with store.unit_of_work(made.caller, AT) as work, pytest.raises(refused):
        work.add_parts(EstimateLine, rows)
    with store.reading(made.caller) as session:
        assert lines(session) == before
