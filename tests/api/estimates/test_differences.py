"""Two estimates of a project are compared as they were kept, as the command compares them."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
from sqlalchemy import select

from api.projects.rows import ProjectItem
from api.store.caller import Caller
from tests.api.estimates.made import keep_project, path_of, priced
from tests.commands.running import groundsill


@pytest.fixture
def project(service):
    return keep_project(service)


@pytest.fixture
def two(service, project):
    """An estimate, and one after the pit was found to be wider."""
    before = path_of(priced(service, project))
    with service.store.unit_of_work(Caller(service.account_id), service.clock.now) as work:
        item = work.scalars(select(ProjectItem).where(ProjectItem.code == "020")).one()
        item.inputs = item.inputs | {"width": "30 ft"}
        work.commit()
    return before, path_of(priced(service, project))


def key_of(estimate):
    return estimate.rsplit("/", 1)[1]


def test_it_says_what_the_command_says_of_the_two_documents(service, two, tmp_path):
    files = []
    for number, estimate in enumerate(two):
        files.append(tmp_path / f"{number}.json")
        files[-1].write_text(service.get(f"{estimate}/document").text)
    told = service.get(f"{two[1]}/difference?against={key_of(two[0])}")
    assert told.status_code == 200, told.text
    assert told.text == groundsill("difference", *files, "--json").out


def test_it_adds_up_to_the_totals_of_the_two(service, two):
    told = service.get(f"{two[1]}/difference?against={key_of(two[0])}").json
    before, after = (service.get(one).json["totals"]["full_cost"] for one in two)
    full = told["totals"]["full_cost"]
    assert (full["before"], full["after"]) == (before, after)
    assert Decimal(full["difference"]) == Decimal(after) - Decimal(before) > 0
    assert {one["item"] for one in told["lines"]} == {"30.020"}


def test_with_itself_nothing_changed(service, two):
    told = service.get(f"{two[0]}/difference?against={key_of(two[0])}").json
    assert told["lines"] == []
    assert told["unchanged_lines"] == service.get(two[0]).json["line_count"]


def test_only_estimates_of_the_same_project_are_compared(service, two):
    foreign = path_of(priced(service, keep_project(service)))
    for other in (key_of(foreign), str(uuid4())):
        refused = service.get(f"{two[1]}/difference?against={other}")
        assert refused.status_code == 422
        assert refused.json["errors"][0]["parameter"] == "against"
        assert refused.json["errors"][0]["what"] == f"there is no '{other}' in estimates"
    assert service.get(f"{two[1]}/difference").status_code == 422
