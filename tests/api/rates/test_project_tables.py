"""What a project is priced with: the shipped tables, its rate set as published, its quotes."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from api.calculations.rate_tables import shipped_texts
from api.projects.rows import Project
from api.rates.project_tables import project_files, tables_of
from api.rates.rows import ProjectQuote, RateSet, RateVersion
from api.rates.stored_tables import publish, start_draft
from api.store.accounts import open_account
from api.store.caller import Caller
from estimator.assemblies.tables import load_tables
from estimator.errors import TablesFaulty
from estimator.rates.folders import shipped_tables
from tests.api.store.made import AT

SAND = {
    "code": "sand", "name": "Sand", "kind": "material", "unit": "ton", "rate": "18.50",
    "date": "2026-02-01", "paid": "yes", "source": "invented",
}  # fmt: skip


@pytest.fixture
def caller(store):
    return Caller(open_account(store, "Rail & Kiln", AT))


def project(work, **fields):
    row = Project(name="Barn", created_at=AT, markups=None, **fields)
    work.add(row)
    return row


def quote(work, row, **cells):
    work.add(
        ProjectQuote(
            project_id=row.id, file="resources.csv", row_key="sand", cells=SAND | cells, position=0
        )
    )


def test_the_shipped_tables_alone_have_the_librarys_digest(store, caller):
    with store.unit_of_work(caller, AT) as work:
        files = project_files(work, project(work))
    assert list(files) == ["shipped"]
    assert tables_of(files).digest == load_tables([shipped_tables()]).digest
    assert tables_of(files) is tables_of({"shipped": dict(shipped_texts())})


def test_the_newest_published_version_and_quotes_are_laid_over_them(store, caller):
    with store.unit_of_work(caller, AT) as work:
        rate_set = RateSet(name="Valley", created_at=AT)
        work.add(rate_set)
        barn = project(work, rate_set_id=rate_set.id)
        assert list(project_files(work, barn)) == ["shipped"]
        for rate in ("18.50", "19.75"):
            publish(work, start_draft(work, rate_set, {"resources.csv": [SAND | {"rate": rate}]}))
        start_draft(work, rate_set, {"resources.csv": [SAND | {"rate": "99.00"}]})
        assert work.scalars(select(RateVersion.number)).all()
        assert list(project_files(work, barn)) == ["shipped", "Valley 2"]
        quote(work, barn, rate="17.25")
        files = project_files(work, barn)
        other = project(work, rate_set_id=rate_set.id)
        assert "quotes" not in project_files(work, other)
    assert list(files) == ["shipped", "Valley 2", "quotes"]
    assert "19.75" in files["Valley 2"]["resources.csv"]
    assert (
        files["quotes"]["resources.csv"].splitlines()[1].startswith("sand,Sand,material,ton,17.25")
    )
    assert tables_of(files).sets == ("shipped", "Valley 2", "quotes")


def test_faults_name_the_set_and_never_our_own_folders():
    with pytest.raises(TablesFaulty) as refusal:
        tables_of({"shipped": shipped_texts(), "quotes": {"resources.csv": "code,rate\nsand,1\n"}})
    assert all(one.where.startswith("quotes resources.csv") for one in refusal.value.faults)
    with pytest.raises(TablesFaulty, match=r"'\.\./x\.csv' is not a rate table"):
        tables_of({"shipped": shipped_texts(), "quotes": {"../x.csv": ""}})
