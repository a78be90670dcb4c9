"""The page at /docs as people see it: in a browser, on a desk and on a phone, without a network."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit

import pytest

BROWSER = shutil.which("chromium")
DESK, PHONE = {"width": 1280, "height": 900}, {"width": 390, "height": 844}
OPEN = ".opblock.is-open"
OVERTIME = "Work out the pay of a workweek, with overtime at the regular rate (29 CFR 778)."

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = [
    pytest.mark.xdist_group("live"),  # among the first, because it takes long
    pytest.mark.skipif(
        BROWSER is None, reason="Chromium is not installed: apt-get install chromium"
    ),
]


@dataclass
class Shown:
    """The page in a browser, and what the browser had to say of it."""

    page: Any
    complaints: list[str] = field(default_factory=list)
    hosts: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.page.on("console", lambda told: self.complaints.append(told.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("requestfailed", lambda asked: self.complaints.append(asked.url))
        self.page.on("request", lambda asked: self.hosts.add(urlsplit(asked.url).netloc))

    @property
    def width(self) -> int:
        """How wide the page is, of which a window may show less [pixel]."""
        found: int = self.page.evaluate("document.documentElement.scrollWidth")
        return found

    def listed(self) -> Iterator[str]:
        """Yield each operation by its part of the page, from top to bottom.

        The page holds only what is near the window, so it is scrolled by half a window at a time,
        and back to there after whoever takes one has moved it.
        """
        step, seen = self.page.viewport_size["height"] // 2, set()
        at = 0
        while at <= self.page.evaluate("document.documentElement.scrollHeight"):
            self.page.evaluate(f"window.scrollTo(0, {at})")
            self.page.wait_for_timeout(60)
            near = self.page.evaluate("[...document.querySelectorAll('.opblock')].map(e => e.id)")
            for part in near:
                if part not in seen:
                    seen.add(part)
                    self.page.evaluate(f"window.scrollTo(0, {at})")
                    yield part
            at += step

    def open(self, summary: str) -> Any:
        """Open an operation by its summary, and return the part of the page that shows it."""
        wanted = self.page.get_by_text(summary, exact=True)
        next(part for part in self.listed() if wanted.count())
        wanted.click()
        found = self.page.locator(OPEN, has_text=summary)
        found.locator(".opblock-body").wait_for()
        return found


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        found = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture(params=[DESK, PHONE], ids=["desk", "phone"])
def shown(request, browser, live) -> Iterator[Shown]:
    page = browser.new_page(viewport=request.param)
    shown = Shown(page)
    page.goto(f"{live.url}/docs")
    page.locator(".opblock").first.wait_for()
    yield shown
    page.close()


def test_every_operation_is_listed_and_opens_within_the_window(shown, live):
    paths = json.loads(live.send("GET", "/v1/openapi.json").text)["paths"]
    count = sum("responses" in one for methods in paths.values() for one in methods.values())
    found, subjects = set(), set()
    for part in shown.listed():
        found.add(part)
        subject = part.split("-")[1]
        if subject not in subjects:
            subjects.add(subject)
            shown.page.locator(f"#{part} .opblock-summary-control").first.click()
            shown.page.locator(f"#{part}.is-open .responses-inner").wait_for()
            assert shown.width == shown.page.viewport_size["width"]
            shown.page.locator(f"#{part} .opblock-summary-control").first.click()
    assert len(found) == count
    assert len(subjects) > 1
    assert shown.width == shown.page.viewport_size["width"]
    assert shown.complaints == []
    assert shown.hosts == {urlsplit(live.url).netloc}


def test_an_operation_shows_its_example_and_what_may_be_wrong(shown):
    opened = shown.open(
        "Work out the pay of a workweek, with overtime at the regular rate (29 CFR 778)."
    )
    asked = opened.locator(".opblock-section-request-body .microlight").inner_text()
    assert re.search(r'"hours":\s*"46"', asked)
    assert re.search(r'"regular_rate":\s*"13.00"', opened.locator(".responses-inner").inner_text())
    assert "#/on" in opened.locator(".responses-inner").inner_text()
    assert shown.complaints == []


def test_a_request_can_be_tried_with_a_token(shown, live):
    page = shown.page
    page.locator(".btn.authorize").click()
    page.locator(".auth-container input").fill(live.token)
    page.locator(".auth-btn-wrapper .authorize").click()
    page.locator(".btn-done").click()
    opened = shown.open("Show the account and role of this token.")
    opened.locator(".try-out__btn").click()
    opened.locator(".execute").click()
    answer = opened.locator(".live-responses-table .microlight").first
    answer.wait_for()
    assert '"name": "Own account"' in answer.inner_text()
    assert shown.width == page.viewport_size["width"]
    assert shown.complaints == []
    assert shown.hosts == {urlsplit(live.url).netloc}
