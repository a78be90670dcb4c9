"""Rate sets of the tests as somebody would make them over HTTP; all of it is invented."""

from __future__ import annotations

from typing import Any

from werkzeug.test import TestResponse

from tests.api.service import Service, new_key

AT = "/v1/rate-sets"
STONE = {
    "code": "stone-ballast", "name": "Ballast stone", "kind": "material", "unit": "ton",
    "rate": "31.00", "date": "2026-01-15", "paid": "yes", "source": "invented",
}  # fmt: skip
RESOURCES = (
    "code,name,kind,unit,rate,low,high,date,valid_until,paid,source,note\n"
    "stone-ballast,Ballast stone,material,ton,31.00,,,2026-01-15,,yes,invented,\n"
    'geotextile,"Cloth, ""woven""",material,sf,0.19,,,2026-02-01,,yes,invented,ä 窯 =1+1\n'
)


def opened_set(service: Service, name: str = "Valley") -> str:
    """Begin a rate set, and return its path."""
    answer = service.post(AT, {"name": name}, headers=new_key())
    assert answer.status_code == 201, answer.text
    return answer.headers["Location"]


def draft_of(service: Service, rate_set: str, **asked: Any) -> str:
    """Start a draft, and return its path."""
    answer = service.post(f"{rate_set}/versions", asked, headers=new_key())
    assert answer.status_code == 201, answer.text
    return answer.headers["Location"]


def sent(service: Service, method: str, path: str, body: Any = None, of: str = "") -> TestResponse:
    """Change something at the version that it is at now."""
    tag = service.get(of or path).headers["ETag"]
    return service.send(method, path, body, headers={"If-Match": tag})


def published(service: Service, draft: str) -> Any:
    """Publish a draft, and return what is told of it."""
    answer = sent(service, "POST", f"{draft}/publication", of=draft)
    assert answer.status_code == 200, answer.text
    return answer.json


def added(service: Service, of: str, *cells: dict[str, str], file: str = "resources.csv") -> Any:
    """Add rows, and return the answer."""
    body = {"rows": [{"file": file, "cells": one} for one in cells]}
    return service.post(f"{of}/rows" if "/versions/" in of else of, body, headers=new_key())
