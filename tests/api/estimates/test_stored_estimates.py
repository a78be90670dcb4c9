"""An estimate is kept as it was made, to the byte and the cent, with all it was made from."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from sqlalchemy import func, select

from api.estimates.rows import (
    AcceptedEstimate,
    EstimateLine,
    EstimateTables,
    StoredEstimate,
    TableContent,
)
from api.estimates.stored_estimates import accept, ready_estimate, store_estimate
from api.projects.accepted import accepted_codes
from api.projects.rows import Project
from api.store.errors import AlreadyThere
from estimator.assemblies.tables import load_tables
from estimator.pricing.estimate_json import estimate_json
from estimator.rates.folders import TableFolder
from estimator.rates.written_folder import write_folder
from tests.api.store.made import AT, filled, made_files, made_ready, priced


@pytest.fixture
def made(store):
    return filled(store)


def dollars(cents):
    return Decimal(cents).scaleb(-2)


def kept_again(work, made):
    barn = work.existing(Project, made.project_id)
    return store_estimate(work, barn, made_ready())


def test_the_document_is_that_of_the_library_to_the_byte(store, made):
    with store.reading(made.caller) as session:
        kept = session.existing(StoredEstimate, made.estimate_id)
        assert kept.document == estimate_json(priced())
        assert (kept.digest, kept.scope_digest) == (priced().digest, priced().scope_digest)
        assert kept.scope == "project: made\n"


def test_totals_are_those_of_the_library_in_cents(store, made):
    estimate = priced()
    with store.reading(made.caller) as session:
        kept = session.existing(StoredEstimate, made.estimate_id)
    assert dollars(kept.direct_cents) == estimate.direct_cost > 0
    assert dollars(kept.cash_cents) == estimate.cash_cost
    assert dollars(kept.own_cents) == estimate.own_value
    assert dollars(kept.full_cents) == estimate.full_cost
    assert kept.cash_cents == kept.direct_cents + kept.markup_cents


def test_every_line_is_that_of_the_document(store, made):
    wanted = json.loads(estimate_json(priced()))["lines"]
    with store.reading(made.caller) as session:
        asked = select(EstimateLine).order_by(EstimateLine.position)
        lines = session.scalars(asked).all()
    assert len(lines) == len(wanted) >= 5
    for line, said in zip(lines, wanted, strict=True):
        for name in ("net", "waste", "left_over", "ordered"):
            assert Decimal(getattr(line, name)).scaleb(-line.decimals) == Decimal(said[name])
        assert Decimal(line.rate).scaleb(-4) == Decimal(said["rate"])
        assert dollars(line.cents) == Decimal(said["amount"])
        words = ("item", "line", "resource", "name", "kind", "unit", "source", "rate_row")
        assert [getattr(line, one) for one in words] == [said[one] for one in words]
        assert line.is_paid is said["paid"]
        assert line.item.startswith(f"{line.phase}.")


def test_the_tables_it_was_priced_with_can_be_read_again(store, made, tmp_path):
    with store.reading(made.caller) as session:
        tables = session.scalars(select(EstimateTables)).one()
        key = (made.caller.account_id, tables.content_digest)
        files = json.loads(session.get(TableContent, key).files)
    write_folder(tmp_path / "made", files)
    assert load_tables([TableFolder("made", tmp_path / "made")]).digest == priced().tables.digest


def test_estimates_are_numbered_and_share_the_tables_that_are_the_same(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        assert kept_again(work, made).number == 2
        work.commit()
    with store.reading(made.caller) as session:
        assert session.scalar(select(func.count()).select_from(TableContent)) == 1
        assert session.scalar(select(func.count()).select_from(EstimateTables)) == 2


def test_the_latest_acceptance_is_the_budget_and_the_estimate_stays_as_it_was(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        assert accept(work, kept_again(work, made)).number == 2
        work.commit()
    with store.reading(made.caller) as session:
        asked = select(AcceptedEstimate).order_by(AcceptedEstimate.number.desc()).limit(1)
        assert session.scalars(asked).one().estimate_id != made.estimate_id


def test_an_estimate_is_accepted_once(store, made):
    with store.unit_of_work(made.caller, AT) as work:
        estimate = work.existing(StoredEstimate, made.estimate_id)
        with pytest.raises(AlreadyThere, match="the estimate was accepted already"):
            accept(work, estimate)


def test_items_of_an_accepted_estimate_are_known(store, made):
    with store.reading(made.caller) as session:
        first = session.scalars(select(EstimateLine.item)).first()
        assert first in accepted_codes(session, made.project_id)
        assert first not in accepted_codes(session, made.unshared_id)
        assert "99.999" not in accepted_codes(session, made.project_id)
    with store.unit_of_work(made.caller, AT) as work:
        shed = work.existing(Project, made.unshared_id)
        store_estimate(work, shed, ready_estimate(priced(), "", {"made": made_files()}))
        assert first not in accepted_codes(work, made.unshared_id)
