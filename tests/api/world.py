"""An account with one of everything, made over HTTP; and routes filled with its ids."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import uuid4

from api.contract import example_ids
from api.draws.draw_shapes import EXAMPLE_DRAFT
from api.draws.loan_shapes import EXAMPLE_LOAN
from api.draws.paper_shapes import EXAMPLE_WAIVER
from api.ledger.money_entry_shapes import EXAMPLE_COST
from api.ledger.payroll_shapes import EXAMPLE_PAYROLL
from api.ledger.site_entry_shapes import (
    EXAMPLE_HOLD,
    EXAMPLE_HOURS,
    EXAMPLE_POINT,
    EXAMPLE_PROGRESS,
    EXAMPLE_RENT,
)
from api.rates.rate_shapes import EXAMPLE_TABLES
from tests.api.estimates.made import PITS
from tests.api.live import Live
from tests.api.service import Service
from tests.api.store.made import MADE_PDF

Told = tuple[int, Any, Mapping[str, str]]
Send = Callable[[str, str, Any, dict[str, str]], Told]

QUOTE = {
    "code": "stone-ballast", "name": "Ballast stone", "kind": "material", "unit": "ton",
    "rate": "30.00", "date": "2026-01-09", "paid": "yes", "source": "invented quote",
}  # fmt: skip
PARAMETER = re.compile(r"<(?:uuid:)?(\w+)>")
ROUND = (
    PITS
    + """\
  - code: "50"
    name: Slab
    after: ["30"]
    items:
      - code: "010"
        name: Old slab out
        assembly: slab-break-out
        inputs: {area: 480 sf, thickness: 5 in}
      - code: "020"
        name: Saw-cut joints kept clean
        alternate: A1
        lump_sum: {amount: "$400", kind: fee, source: invented}
alternates:
  - {code: A1, name: Joints sawn in squares}
"""
)

# What the ids of examples stand for.
EXAMPLES = {
    "token_id": example_ids.TOKEN,
    "project_id": example_ids.PROJECT,
    "phase_id": example_ids.PHASE,
    "item_id": example_ids.ITEM,
    "quote_id": example_ids.QUOTE,
    "share_id": example_ids.SHARE,
    "rate_set_id": example_ids.RATE_SET,
    "draft_id": example_ids.DRAFT,
    "published_id": example_ids.PUBLISHED,
    "row_id": example_ids.ROW,
    "estimate_id": example_ids.ESTIMATE,
    "earlier_estimate_id": example_ids.EARLIER_ESTIMATE,
    "second_phase_id": example_ids.SECOND_PHASE,
    "second_item_id": example_ids.SECOND_ITEM,
}


def through(service: Service, token: str) -> Send:
    """Return a way to send requests to an application as the holder of a token."""

    def send(method: str, path: str, body: Any, headers: dict[str, str]) -> Told:
        answer = service.send(method, path, body, token=token, headers=headers)
        return answer.status_code, answer.json if answer.is_json else None, answer.headers

    return send


def over(live: Live) -> Send:
    """Return a way to send requests to a running service as its owner."""

    def send(method: str, path: str, body: Any, headers: dict[str, str]) -> Told:
        sent = {"Authorization": f"Bearer {live.token}"} | headers
        answer = live.send(method, path, body, sent)
        return answer.status, json.loads(answer.text or "null"), dict(answer.headers)

    return send


@dataclass
class World:
    """One of everything on the account of whoever sends."""

    send: Send
    ids: dict[str, str] = field(default_factory=dict)

    def make(self) -> World:
        """Make everything, and return it."""
        self._make_tokens()
        self._make_rates()
        self._make_project()
        self._make_estimates()
        self._make_books()
        self._make_draws()
        return self

    def filled(self, route: str, **other: str) -> tuple[str, str]:
        """Return method and path of a route, its parameters filled with ids of this world.

        Parameters
        ----------
        route : str
            As the table of roles has it.
        **other
            Ids that stand in the place of this world's.
        """
        method, path = route.split(" ", 1)
        ids = self.ids_for(route) | other
        asked = {
            "explanations": "?item=30.020",
            "difference": f"?against={self.ids['earlier_estimate_id']}",
        }
        more = asked.get(path.rsplit("/", 1)[1], "") if "/estimates/" in path else ""
        more = "?name=bill.pdf" if method == "POST" and path.endswith("/documents") else more
        more = "?code=30.020" if path.endswith("/books/trace") else more
        more = "?bank=checking" if "/books/bank-" in path and "rules" not in path else more
        in_service = "?in_service=2026-10-01&basis=180000.00"
        more = in_service if path.endswith("/books/credit") else more
        return method, PARAMETER.sub(lambda found: ids[found[1]], path) + more

    def ids_for(self, route: str) -> dict[str, str]:
        """Return the ids that a route's parameters are filled with."""
        is_read = route.startswith("GET")
        version = "published_id" if is_read and "/rows/" not in route else "draft_id"
        kind = "comparison_id" if "/comparisons/" in route else "ranges_id"
        return self.ids | {
            "project_id": self.ids[self._project_of(route)],
            "draw_id": self.ids["decided_draw_id" if "/decision" in route else "draw_id"],
            "version_id": self.ids[version],
            "study_id": self.ids[kind],
            "code": "geotextile",
        }

    def _project_of(self, route: str) -> str:
        """Return which project is in the state that a route needs."""
        if "/books/" in route or (route.startswith("POST") and route.endswith("/loan")):
            return "books_project_id"
        if route.startswith("POST") and route.endswith("/draw-draft"):
            return "ready_project_id"
        if "/draws/" in route:
            return "decided_project_id" if "/decision" in route else "granted_project_id"
        of_loan = re.search(
            "/(loan(/balance|/cash|/amendments)?|draw-draft|draws|waivers|evidence|withdrawal)$",
            route,
        )
        return "lent_project_id" if of_loan else "project_id"

    def body_of(self, example: Any) -> Any:
        """Return the body of an example with ids of this world."""
        text = json.dumps(example)
        for name, shown in EXAMPLES.items():
            text = text.replace(shown, self.ids[name])
        return json.loads(text)

    def create(self, path: str, body: Any) -> Any:
        """Create something, and return what is told of it."""
        key = {"Idempotency-Key": str(uuid4())}
        status, told, _ = self.send("POST", path, body, key)
        assert status == 201, told
        return told

    def _make_tokens(self) -> None:
        told = self.create("/v1/tokens", {"holder": "bank of the tests", "role": "lender"})
        self.ids["token_id"] = told["id"]

    def _make_rates(self) -> None:
        ids = self.ids
        ids["rate_set_id"] = self.create("/v1/rate-sets", {"name": f"Valley {uuid4()}"})["id"]
        at = f"/v1/rate-sets/{ids['rate_set_id']}/versions"
        draft = self.create(at, EXAMPLE_TABLES)
        ids["published_id"] = draft["id"]
        version = {"If-Match": f'"{draft["version"]}"'}
        status, told, _ = self.send("POST", f"{at}/{draft['id']}/publication", None, version)
        assert status == 200, told
        ids["draft_id"] = self.create(at, {"from_version": ids["published_id"]})["id"]
        _, told, _ = self.send("GET", f"{at}/{ids['draft_id']}/rows", None, {})
        (ids["row_id"],) = (one["id"] for one in told["rows"])

    def _make_project(self) -> None:
        ids = self.ids
        ids["project_id"] = self.create("/v1/projects/from-scope", {"scope": ROUND})["id"]
        at = f"/v1/projects/{ids['project_id']}"
        _, told, _ = self.send("GET", f"{at}/phases", None, {})
        ids["phase_id"], ids["second_phase_id"] = (one["id"] for one in told["phases"])
        _, told, _ = self.send("GET", f"{at}/items?phase={ids['phase_id']}", None, {})
        ids["second_item_id"], ids["item_id"] = (one["id"] for one in told["items"])
        shared = self.create("/v1/tokens", {"holder": "bank with a share", "role": "lender"})
        quotes = {"rows": [{"file": "resources.csv", "cells": QUOTE}]}
        ids["quote_id"] = self.create(f"{at}/quotes", quotes)["rows"][0]["id"]
        ids["share_id"] = self.create(f"{at}/shares", {"token_id": shared["id"]})["id"]

    def _make_estimates(self) -> None:
        ids, at = self.ids, f"/v1/projects/{self.ids['project_id']}/estimates"
        ids["earlier_estimate_id"] = self.create(at, {})["id"]
        ids["estimate_id"] = self.create(at, {"on": "2026-05-04"})["id"]
        at = f"{at}/{ids['estimate_id']}"
        ids["comparison_id"] = self.create(f"{at}/comparisons", {"item": "30.020"})["id"]
        ids["ranges_id"] = self.create(f"{at}/ranges", {"iterations": 200})["id"]

    def _make_books(self) -> None:
        """Open the books of a project of their own, with what the examples of entries rest on."""
        at = self._opened("books_project_id")
        cost = EXAMPLE_COST | {"document": "Q-1186"}
        self.ids["entry_id"] = self.create(f"{at}/books/costs", cost)["id"]
        headers = {"Idempotency-Key": str(uuid4()), "Content-Type": "application/pdf"}
        path = f"/v1/projects/{self.ids['project_id']}/documents?name=plan.pdf"
        _, told, _ = self.send("POST", path, MADE_PDF, headers)
        self.ids["document_id"] = told["id"]
        self.create(f"{at}/books/holds", EXAMPLE_HOLD)
        self.create(f"{at}/books/points", EXAMPLE_POINT)
        self.create(f"{at}/books/payroll-terms", EXAMPLE_PAYROLL)
        self.create(f"{at}/books/hours", EXAMPLE_HOURS)
        self.create(f"{at}/books/rents", EXAMPLE_RENT)

    def _make_draws(self) -> None:
        """Make four loans: one without a draw, one with one open, one submitted, one granted."""
        for name in ("ready", "lent", "decided", "granted"):
            at = self._opened(f"{name}_project_id")
            self.create(f"{at}/books/costs", EXAMPLE_COST)
            self.create(f"{at}/books/progress", EXAMPLE_PROGRESS)
            self.create(f"{at}/loan", EXAMPLE_LOAN)
            if name == "lent":
                self.ids["paper_id"] = self.create(f"{at}/waivers", EXAMPLE_WAIVER)["id"]
            if name != "ready":
                self.create(f"{at}/draw-draft", EXAMPLE_DRAFT)
            if name in ("decided", "granted"):
                self.ids[f"{name}_draw_id"] = self.create(f"{at}/draws", None)["id"]
        self.ids["draw_id"] = self.ids["granted_draw_id"]
        self.create(f"{at}/draws/{self.ids['draw_id']}/decision", {})

    def _opened(self, name: str) -> str:
        """Open the books of a further project, and return its path."""
        project = self.create("/v1/projects/from-scope", {"scope": ROUND})["id"]
        at = f"/v1/projects/{project}"
        estimate = self.create(f"{at}/estimates", {})["id"]
        self.create(f"{at}/estimates/{estimate}/acceptance", None)
        self.ids[name] = project
        return at
