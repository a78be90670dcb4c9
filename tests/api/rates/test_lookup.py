"""Assemblies and resources are looked up as they ship, as a project has them, or with a version."""

from __future__ import annotations

import pytest

from api.projects.rows import Project
from api.rates.lookup_shapes import KINDS
from api.rates.row_shapes import FILES
from api.rates.rows import ProjectQuote, RateSet
from api.rates.stored_tables import publish, replace_rows, row_key, start_draft
from api.store.caller import Caller
from estimator.rates import resources
from estimator.rates.folders import COLUMNS

STONE = {
    "code": "stone-ballast", "name": "Ballast stone", "kind": "material", "unit": "ton",
    "rate": "31.00", "date": "2026-01-15", "paid": "yes", "source": "invented",
}  # fmt: skip
ASSEMBLY = {
    "code": "made-haul", "name": "Haul by the ton", "unit": "ton", "quantity": "weight",
    "crew": "", "element": "", "credit": "no", "cautions": "", "source": "invented",
}  # fmt: skip
INPUT = {
    "assembly": "made-haul", "input": "weight", "unit": "ton", "least": "1", "most": "500",
    "meaning": "What is hauled", "source": "invented",
}  # fmt: skip
LINE = {
    "assembly": "made-haul", "line": "1", "resource": "stone-ballast", "formula": "quantity",
    "ordered_per": "item", "source": "invented",
}  # fmt: skip
TABLES = {
    "resources.csv": [STONE],
    "assemblies.csv": [ASSEMBLY],
    "assembly_inputs.csv": [INPUT],
    "assembly_lines.csv": [LINE],
}


@pytest.fixture
def kept(service):
    """A set with three published versions, and a project that is priced with it and a quote."""
    at = service.clock.now
    with service.store.unit_of_work(Caller(service.account_id), at) as work:
        valley = RateSet(name="Valley", created_at=at)
        work.add(valley)
        versions = []
        for tables in ({"resources.csv": [STONE]}, TABLES, TABLES):
            draft = start_draft(work, valley, tables)
            publish(work, draft)
            versions.append(draft)
        changed = TABLES | {"assemblies.csv": [ASSEMBLY | {"name": "Haul, by weight"}]}
        draft = start_draft(work, valley, {})
        replace_rows(work, draft, changed)
        publish(work, draft)
        project = Project(name="Barn", created_at=at, markups=None, rate_set_id=valley.id)
        work.add(project)
        quote = STONE | {"rate": "29.50", "date": "2026-02-01", "source": "a vendor's quote"}
        key = row_key("resources.csv", quote)
        work.add(
            ProjectQuote(
                project_id=project.id, file="resources.csv", row_key=key, cells=quote, position=0
            )
        )
        work.commit()
        return valley, versions, project


def told(service, path, status=200):
    answer = service.get(path)
    assert answer.status_code == status, answer.text
    return answer.json


def test_shapes_name_what_the_library_has():
    assert tuple(COLUMNS) == FILES
    assert KINDS == resources.KINDS


def test_shipped_assemblies_are_listed_in_pages_by_code(embedded):
    codes, cursor = [], ""
    while cursor is not None:
        page = told(embedded, f"/v1/assemblies?limit=25{cursor and f'&cursor={cursor}'}")
        codes += [one["code"] for one in page["assemblies"]]
        cursor = page["next"]
    assert codes == sorted(codes)
    assert len(codes) == len(set(codes)) >= 57
    assert "stone-fill-skid-steer" in codes


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ("search=GEOTEX", ["geotextile"]),
        ("search=geotextile&unit=ton", []),
        ("search=%E7%AA%AF", []),
    ],
)
def test_assemblies_are_found_by_part_of_their_code_or_name(embedded, asked, found):
    assert [one["code"] for one in told(embedded, f"/v1/assemblies?{asked}")["assemblies"]] == found


def test_a_search_finds_parts_of_words_with_the_prices_of_a_day(embedded):
    answer = told(embedded, "/v1/search?words=STON+deliv&on=2026-03-02")
    assert answer == {
        "on": "2026-03-02",
        "matches": [
            {
                "sort": "resource",
                "code": "crushed-stone-4",
                "words": "Crushed stone, No. 4, delivered",
                "unit": "ton",
                "prices": [{"amount": "26.00", "unit": "ton", "paid": True}],
            }
        ],
    }
    assert told(embedded, "/v1/search?words=xyzzy")["matches"] == []
    assert told(embedded, "/v1/search", 422)["errors"]


def test_a_search_looks_where_it_is_told_to(service, kept):
    _, _, project = kept
    assert told(service, "/v1/search?words=made-ha")["matches"] == []
    found = told(service, f"/v1/search?words=made-ha&project={project.id}")["matches"]
    assert [one["sort"] for one in found] == ["assembly"]


def test_an_assembly_tells_what_it_asks_for_uses_and_warns_of(embedded):
    assembly = told(embedded, "/v1/assemblies/stone-fill-skid-steer")
    asked = {one["name"]: one for one in assembly["inputs"]}
    assert asked["depth"]["is_required"] is True
    assert asked["depth"]["unit"] == "ft"
    assert any(one["is_crew"] for one in assembly["lines"])
    assert all(one["caution"] and one["source"] for one in assembly["cautions"])
    assert assembly["tables"] == "shipped"


def test_an_assembly_that_is_not_there_is_not_found_with_the_nearest(embedded):
    answer = told(embedded, "/v1/assemblies/geotextil", 404)
    assert answer["errors"][0]["remedy"] == "did you mean 'geotextile'?"


def test_a_project_and_a_version_show_their_own(service, kept):
    _, versions, project = kept
    assert told(service, "/v1/assemblies?search=made-haul")["assemblies"] == []
    found = told(service, f"/v1/assemblies/made-haul?project={project.id}")
    assert (found["name"], found["tables"]) == ("Haul, by weight", "Valley 4")
    found = told(service, f"/v1/assemblies/made-haul?version={versions[1].id}")
    assert (found["name"], found["tables"]) == ("Haul by the ton", "Valley 2")
    told(service, f"/v1/assemblies/made-haul?version={versions[0].id}", 404)


def test_versions_in_which_an_assembly_changed_are_listed_newest_first(service, kept):
    valley, versions, _ = kept
    path = f"/v1/rate-sets/{valley.id}/assemblies/made-haul/versions"
    found = told(service, path)["versions"]
    assert [(one["number"], one["manner"]) for one in found] == [(4, "changed"), (2, "added")]
    assert found[1]["version_id"] == str(versions[1].id)
    assert told(service, path.replace("made-haul", "geotextile"))["versions"] == []


def test_a_resource_costs_what_the_highest_set_says_on_the_day(service, kept):
    project = kept[2]
    path = f"/v1/resources?search=stone-ballast&project={project.id}&on="
    (now,) = told(service, path + "2026-03-02")["resources"]
    assert (now["rate"], now["date"], now["source"]) == ("29.50", "2026-02-01", "a vendor's quote")
    (before,) = told(service, path + "2026-01-20")["resources"]
    assert before["rate"] == "31.00"
    assert told(service, path + "2025-12-31")["resources"] == []


def test_resources_of_a_kind_have_rates_ranges_and_sources(embedded):
    page = told(embedded, "/v1/resources?kind=labor&on=2026-03-02&limit=200")
    assert page["on"] == "2026-03-02"
    assert len(page["resources"]) >= 5
    assert {one["kind"] for one in page["resources"]} == {"labor"}
    assert all(one["source"] and one["rate_row"] for one in page["resources"])


@pytest.mark.parametrize(
    ("asked", "name"), [("kind=gold", "kind"), ("on=1850-01-01", "on"), ("project=5", "project")]
)
def test_a_question_that_cannot_be_is_refused_by_name(embedded, asked, name):
    assert told(embedded, f"/v1/resources?{asked}", 422)["errors"][0]["parameter"] == name


def test_project_and_version_are_not_requested_together(service, kept):
    _, versions, project = kept
    asked = f"project={project.id}&version={versions[0].id}"
    assert told(service, f"/v1/resources?{asked}", 422)["errors"][0]["parameter"] == "version"


def test_another_accounts_tables_are_not_looked_into(service, kept):
    _, versions, project = kept
    _, strangers = service.account("Stranger")
    for asked in (f"project={project.id}", f"version={versions[0].id}"):
        for path in ("/v1/resources", "/v1/assemblies", "/v1/assemblies/geotextile"):
            answer = service.get(f"{path}?{asked}", token=strangers["owner"])
            assert answer.status_code == 404
    assert service.get("/v1/resources", role="lender").status_code == 403
