"""What anybody may read: health, the list of problems, and pages that need no network."""

from __future__ import annotations

import re

import pytest

from api.store.errors import StoreUnfit
from api.store.store import Store
from estimator.errors import fault


def test_the_process_tells_that_it_lives_and_is_ready(service):
    assert service.get("/health/live", role="").json == {"status": "live"}
    assert service.get("/health/ready", role="").json == {"status": "ready"}


def test_a_service_without_its_database_lives_but_is_not_ready(service, monkeypatch):
    def check(_store: Store) -> None:
        raise fault(StoreUnfit, "is not there", where="/srv/secret.sqlite3")

    monkeypatch.setattr(Store, "check", check)
    assert service.get("/health/live", role="").status_code == 200
    answer = service.get("/health/ready", role="")
    assert (answer.status_code, answer.json["code"]) == (503, "store-unfit")
    assert "secret" not in answer.text


def test_the_address_alone_leads_to_the_reference(embedded):
    answer = embedded.get("/", role="")
    assert (answer.status_code, answer.headers["Location"]) == (302, "/docs")


def test_the_pages_load_nothing_from_elsewhere(embedded):
    page = embedded.get("/docs", role="")
    assert page.content_type == "text/html; charset=utf-8"
    loaded = re.findall(r'(?:src|href)="([^"]+)"', page.text)
    assert len(loaded) == 5
    for address in loaded:
        assert address.startswith("/")
        answer = embedded.get(address, role="")
        assert answer.status_code == 200
        assert answer.data
    assert "<script>" not in page.text
    script = embedded.get("/docs/reference.js", role="").text
    assert re.findall(r'"(/[^"]+)"', script) == ["/v1/openapi.json"]
    assert "http" not in page.text + script


def test_every_sample_is_as_its_own_pattern_asks(embedded):
    specification = embedded.get("/v1/openapi.json", role="").json
    sampled = [one for one in parts_of(specification) if "pattern" in one and "examples" in one]
    assert len(sampled) > 20
    for one in sampled:
        for sample in one["examples"]:
            assert re.search(one["pattern"], sample)


def parts_of(part):
    """Yield a part of the specification and all within it that are objects."""
    if isinstance(part, dict):
        yield part
    for one in part.values() if isinstance(part, dict) else part if isinstance(part, list) else ():
        yield from parts_of(one)


@pytest.mark.parametrize("path", ["/docs", "/docs/reference.js", "/docs/swagger-ui.css"])
def test_the_pages_have_a_policy_of_their_own(embedded, path):
    policy = embedded.get(path, role="").headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self';" in policy
    assert "connect-src 'self';" in policy
    assert "unsafe-eval" not in policy


@pytest.mark.parametrize("name", ["..%2f__init__.py", "index.html", "swagger-ui.js", "%2e%2e"])
def test_no_other_file_is_served(embedded, name):
    assert embedded.get(f"/docs/{name}", role="").status_code == 404
