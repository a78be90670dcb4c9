"""Pricing stands outside the turn to write: others write meanwhile, and nothing stale is kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from api.store.verify import verify
from estimator.scheduling import dated_estimate as library
from tests.api.estimates.made import keep_project, priced
from tests.api.projects.made import open_project
from tests.api.service import Service, new_key

Meanwhile = Callable[[Callable[[], Any]], list[str]]


@pytest.fixture
def meanwhile(monkeypatch: pytest.MonkeyPatch) -> Meanwhile:
    """A way to have something done each time before the library prices."""

    def do(something: Callable[[], Any]) -> list[str]:
        price, names = library.price, []

        def price_then(scope: Any, *rest: Any) -> Any:
            names.append(scope.project)
            something()
            return price(scope, *rest)

        monkeypatch.setattr(library, "price", price_then)
        return names

    return do


def rename(service: Service, project: str, name: str) -> None:
    tag = service.get(project).headers["ETag"]
    answer = service.send("PATCH", project, {"name": name}, headers={"If-Match": tag})
    assert answer.status_code == 200, answer.text


def test_others_write_while_a_project_is_priced(service: Service, meanwhile: Meanwhile) -> None:
    project = keep_project(service)
    names = meanwhile(lambda: open_project(service, name="Shed"))
    assert priced(service, project).json["number"] == 1
    assert names == ["Harrow Lane Carbarn"]
    verify(service.store)


def test_a_project_that_is_changed_meanwhile_is_priced_again_as_it_stands(
    service: Service, meanwhile: Meanwhile
) -> None:
    project = keep_project(service)
    names = meanwhile(lambda: rename(service, project, "Carbarn and yard"))
    kept = priced(service, project)
    assert names == ["Harrow Lane Carbarn", "Carbarn and yard"]
    document = service.get(f"{kept.headers['Location']}/document").json
    assert document["project"] == "Carbarn and yard"


def test_a_project_that_is_changed_each_time_has_to_be_priced_again(
    service: Service, meanwhile: Meanwhile
) -> None:
    project = keep_project(service)
    names = meanwhile(lambda: rename(service, project, f"Carbarn {len(names)}"))
    answer = service.post(f"{project}/estimates", {}, headers=new_key())
    assert (answer.status_code, answer.json["code"]) == (503, "changed-meanwhile")
    assert answer.headers["Retry-After"] == "1"
    assert len(names) == 5
    assert service.get(f"{project}/estimates").json["estimates"] == []
