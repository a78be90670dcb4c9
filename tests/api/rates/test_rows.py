"""Rows of a draft, and quotes, are added, changed and removed one by one or together."""

from __future__ import annotations

import pytest

from api.store.verify import verify
from tests.api.estimates.made import keep_project, path_of, priced
from tests.api.projects.made import AT as PROJECTS
from tests.api.projects.made import open_project
from tests.api.rates.made import RESOURCES, STONE, added, draft_of, opened_set, sent
from tests.api.service import Service, new_key

LATER = STONE | {"date": "2026-02-15", "rate": "31.50"}


@pytest.fixture
def draft(service):
    return draft_of(service, opened_set(service))


@pytest.fixture
def project(service):
    return keep_project(service)


def faults(answer, status=422):
    assert answer.status_code == status, answer.text
    return [(one["pointer"], one["what"]) for one in answer.json["errors"]]


def test_rows_are_added_together_and_listed_in_their_order(service, draft):
    answer = added(service, draft, STONE, LATER)
    assert answer.status_code == 201
    told = answer.json["rows"]
    assert [one["key"] for one in told] == ["stone-ballast 2026-01-15", "stone-ballast 2026-02-15"]
    assert told[0]["cells"]["note"] == ""
    page = service.get(f"{draft}/rows?limit=1").json
    rest = service.get(f"{draft}/rows?limit=1&cursor={page['next']}").json
    assert page["rows"] + rest["rows"] == told
    assert service.get(f"{draft}/rows?file=crews.csv").json["rows"] == []
    assert len(service.get(f"{draft}/rows?key=stone-ballast 2026-02").json["rows"]) == 1
    assert service.get(f"{draft}/rows?key=%25").json["rows"] == []
    assert service.get(draft).json["row_count"] == 2


def test_all_faults_of_new_rows_are_reported_and_none_is_added(service, draft):
    strange = {"code": "x", "date": "2026-01-01", "colour": "red"}
    answer = added(service, draft, STONE, strange, {"name": "no code"})
    assert faults(answer) == [
        ("#/rows/1/cells/colour", "'colour' is not a column of resources.csv"),
        ("#/rows/2/cells/code", "is missing: it tells the row from others"),
        ("#/rows/2/cells/date", "is missing: it tells the row from others"),
    ]
    assert service.get(draft).json["row_count"] == 0


@pytest.mark.parametrize("cell", [5, None, "a\nb", "x" * 2_001, "\u0007", ["x"]])
def test_a_cell_that_cannot_be_is_refused_where_it_stands(service, draft, cell):
    answer = added(service, draft, STONE | {"note": cell})
    assert [place for place, _ in faults(answer)] == ["#/rows/0/cells/note"]


def test_two_rows_of_one_code_and_date_are_refused(service, draft):
    answer = added(service, draft, STONE, STONE | {"rate": "1"})
    assert [place for place, _ in faults(answer, 409)] == ["#/rows/1/cells"]
    added(service, draft, STONE)
    assert [place for place, _ in faults(added(service, draft, LATER, STONE), 409)] == [
        "#/rows/1/cells"
    ]
    row = added(service, draft, LATER).json["rows"][0]
    body = {"cells": {"date": "2026-01-15"}}
    answer = sent(service, "PATCH", f"{draft}/rows/{row['id']}", body)
    assert faults(answer, 409)[0][0] == "#/cells"


def test_a_row_is_changed_at_the_version_that_was_read(service, draft):
    row = added(service, draft, STONE).json["rows"][0]
    path, change = f"{draft}/rows/{row['id']}", {"cells": {"rate": "30.25"}}
    assert service.send("PATCH", path, change).status_code == 428
    changed = sent(service, "PATCH", path, change)
    assert changed.json["cells"] == row["cells"] | {"rate": "30.25"}
    stale = service.send("PATCH", path, change, headers={"If-Match": '"1"'})
    assert stale.status_code == 412
    assert sent(service, "DELETE", path).status_code == 204
    assert service.get(path).status_code == 404
    verify(service.store)


def test_several_rows_are_changed_and_removed_or_none(service, draft):
    first, second = added(service, draft, STONE, LATER).json["rows"]
    changes = [
        {"id": first["id"], "version": 1, "cells": {"rate": "29"}},
        {"id": second["id"], "version": 9, "removed": True},
    ]
    path = f"{draft}/rows/changes"
    assert service.post(path, {"rows": changes}).status_code == 412
    assert service.get(f"{draft}/rows").json["rows"] == [first, second]
    changes[1]["version"] = 1
    told = service.post(path, {"rows": changes}).json["rows"]
    assert [one["cells"]["rate"] for one in told] == ["29"]
    assert service.get(f"{draft}/rows").json["rows"] == told
    twice = [{"id": first["id"], "version": 2, "cells": {"rate": "1"}}] * 2
    assert faults(service.post(path, {"rows": twice})) == [("#/rows/1/id", "names a row twice")]
    nothing = [{"id": first["id"], "version": 2}]
    assert faults(service.post(path, {"rows": nothing})) == [("#/rows/0", "changes nothing")]


def test_two_rows_may_change_places(service, draft):
    first, second = added(service, draft, STONE, LATER).json["rows"]
    swapped = [
        {"id": first["id"], "version": 1, "cells": {"date": "2026-02-15"}},
        {"id": second["id"], "version": 1, "cells": {"date": "2026-01-15"}},
    ]
    assert service.post(f"{draft}/rows/changes", {"rows": swapped}).status_code == 200


def test_a_quote_prices_the_project_from_then_on_and_no_other(service, project):
    other = keep_project(service)
    before = priced(service, project).json["totals"]["cash_cost"]
    cells = {
        "code": "geotextile-roll", "name": "Cloth of the vendor", "kind": "material",
        "unit": "roll", "rate": "95.00", "date": "2026-03-01", "paid": "yes",
        "source": "invented quote",
    }  # fmt: skip
    answer = added(service, f"{project}/quotes", cells)
    assert answer.status_code == 201, answer.text
    estimate = path_of(priced(service, project))
    line = service.get(f"{estimate}/lines?resource=geotextile-roll").json["lines"][0]
    assert (line["rate"], line["source"]) == ("95.00", "invented quote")
    assert service.get(estimate).json["totals"]["cash_cost"] < before
    assert priced(service, other).json["totals"]["cash_cost"] == before
    row = answer.json["rows"][0]
    path = f"{project}/quotes/{row['id']}"
    assert sent(service, "PATCH", path, {"cells": {"rate": "96.50"}}).status_code == 200
    assert sent(service, "DELETE", path).status_code == 204
    assert priced(service, project).json["totals"]["cash_cost"] == before


def test_quotes_that_do_not_fit_their_tables_are_refused_and_not_stored(service, project):
    strange = STONE | {"unit": "sf", "rate": "cheap"}
    refused = added(service, f"{project}/quotes", strange)
    assert (refused.status_code, refused.json["code"]) == (422, "tables-faulty")
    assert all(one["where"].startswith("quotes resources.csv") for one in refused.json["errors"])
    assert service.get(f"{project}/quotes").json["rows"] == []
    row = added(service, f"{project}/quotes", STONE).json["rows"][0]
    path = f"{project}/quotes/{row['id']}"
    assert sent(service, "PATCH", path, {"cells": {"rate": "-5"}}).status_code == 422
    assert service.get(path).json == row


def test_quotes_are_changed_together(service, project):
    rows = added(service, f"{project}/quotes", STONE, LATER).json["rows"]
    changes = [
        {"id": rows[0]["id"], "version": 1, "removed": True},
        {"id": rows[1]["id"], "version": 1, "cells": {"rate": "28.75"}},
    ]
    told = service.post(f"{project}/quotes/changes", {"rows": changes}).json["rows"]
    assert service.get(f"{project}/quotes").json["rows"] == told


def test_all_quotes_go_out_and_come_in_as_tables(service, project):
    path = f"{project}/quotes/tables"
    assert service.get(path).json == {"tables": {}}
    answer = sent(service, "PUT", path, {"tables": {"resources.csv": RESOURCES}})
    assert answer.json == {"tables": {"resources.csv": RESOURCES}}
    rows = service.get(f"{project}/quotes").json["rows"]
    assert [one["key"] for one in rows] == ["stone-ballast 2026-01-15", "geotextile 2026-02-01"]
    tag = service.get(path).headers["ETag"]
    sent(service, "PATCH", f"{project}/quotes/{rows[0]['id']}", {"cells": {"rate": "30"}})
    stale = service.send("PUT", path, {"tables": {}}, headers={"If-Match": tag})
    assert (stale.status_code, stale.json["code"]) == (412, "version-stale")
    assert service.send("PUT", path, {"tables": {}}).status_code == 428
    strange = {"tables": {"resources.csv": RESOURCES.replace("31.00", "cheap")}}
    refused = sent(service, "PUT", path, strange)
    assert refused.status_code == 422
    assert refused.json["errors"][0]["pointer"] == "#/tables"
    assert len(service.get(f"{project}/quotes").json["rows"]) == 2
    assert sent(service, "PUT", path, {"tables": {}}).json == {"tables": {}}
    verify(service.store)


def test_the_same_key_adds_rows_once(service, draft):
    key, body = new_key(), {"rows": [{"file": "resources.csv", "cells": STONE}]}
    first = service.post(f"{draft}/rows", body, headers=key)
    again = service.post(f"{draft}/rows", body, headers=key)
    assert (again.json, again.headers["Idempotency-Replayed"]) == (first.json, "true")
    assert service.get(draft).json["row_count"] == 1


def test_a_lender_sees_no_rates_and_a_bookkeeper_changes_none(service, draft, project):
    assert service.get(draft, role="lender").status_code == 403
    assert service.get(f"{project}/quotes", role="lender").status_code == 403
    assert service.get(f"{draft}/rows", role="bookkeeper").status_code == 200
    body = {"rows": [{"file": "resources.csv", "cells": STONE}]}
    asked = service.post(f"{draft}/rows", body, role="bookkeeper", headers=new_key())
    assert asked.status_code == 403


def test_rows_sent_in_parts_come_to_no_more_than_one_request_may_have(sqlite_store, tmp_path):
    small = Service(sqlite_store, tmp_path, {"GROUNDSILL_MOST_ROWS": "10"})
    rows = [STONE | {"date": f"2026-01-{day:02d}"} for day in range(1, 12)]
    for path in (
        draft_of(small, opened_set(small)),
        f"{PROJECTS}/{open_project(small)['id']}/quotes",
    ):
        assert added(small, path, *rows[:9]).status_code == 201
        answer = added(small, path, *rows[9:])
        assert (answer.status_code, answer.json["code"]) == (413, "body-too-large")
        assert added(small, path, rows[9]).status_code == 201
