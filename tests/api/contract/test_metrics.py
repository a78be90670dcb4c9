"""Figures for a collector, and for nobody else."""

from __future__ import annotations

import pytest

from tests.api.service import Service

COLLECTOR = "collector-" * 4


@pytest.fixture
def watched(sqlite_store, tmp_path):
    return Service(sqlite_store, tmp_path, {"GROUNDSILL_METRICS_TOKEN": COLLECTOR})


def test_without_a_collectors_token_there_are_no_figures(embedded):
    assert embedded.get("/metrics").status_code == 404


@pytest.mark.parametrize("shown", ["", "wrong", COLLECTOR[:-1], "ü"])
def test_figures_are_for_the_collector_only(watched, shown):
    headers = {"Authorization": f"Bearer {shown}"}
    answer = watched.get("/metrics", role="", headers=headers)
    assert answer.status_code == 401
    assert "groundsill_" not in answer.text


def test_requests_are_counted_by_route_and_never_by_what_was_typed(watched):
    for _ in range(3):
        watched.get("/v1/tokens/00000000-0000-4000-8000-000000000000")
    watched.get("/v1/typed-by-hand")
    watched.send("TYPED", "/v1/account")
    told = watched.get("/metrics", token=COLLECTOR).text
    route = 'route="/v1/tokens/<uuid:token_id>"'
    assert f'groundsill_requests_total{{method="GET",{route},status="404"}} 3.0' in told
    assert 'groundsill_requests_total{method="none",route="none",status="404"} 1.0' in told
    assert f"groundsill_request_seconds_count{{{route}}} 3.0" in told
    assert "typed-by-hand" not in told
    assert "TYPED" not in told
