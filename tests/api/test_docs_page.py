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
SIZES = DESK, PHONE = {"width": 1280, "height": 900}, {"width": 390, "height": 844}
OPEN = ".opblock.is-open"
OVERTIME = "Work out the pay of a workweek, with time and a half past 40 hours (29 CFR part 778)."

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
pytestmark = [
    pytest.mark.xdist_group("live"),
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
        self.page.on("console", lambda message: self.complaints.append(message.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("requestfailed", lambda request: self.complaints.append(request.url))
        self.page.on("request", lambda request: self.hosts.add(urlsplit(request.url).netloc))

    @property
    def width(self) -> int:
        """How wide the page is, of which a window may show less [pixel]."""
        width: int = self.page.evaluate("document.documentElement.scrollWidth")
        return width

    def listed(self) -> Iterator[str]:
        """Yield each operation by its part of the page, from top to bottom.

        The page holds only what is near the window, so it is scrolled by half a window at a time,
        and back to there after whoever takes one has moved it.
        """
        step, seen, at = self.page.viewport_size["height"] // 2, set(), 0
        while at <= self.page.evaluate("document.documentElement.scrollHeight"):
            self.page.evaluate(f"window.scrollTo(0, {at})")
            self.page.wait_for_timeout(60)
            while new := [part for part in self._near() if part not in seen]:
                seen.add(new[0])
                yield new[0]
                self.page.evaluate(f"window.scrollTo(0, {at})")
            at += step

    def _near(self) -> list[str]:
        parts: list[str] = self.page.evaluate(
            "[...document.querySelectorAll('.opblock')].map(e => e.id)"
        )
        return parts

    def toggle(self, part: str) -> None:
        """Open or close an operation where it stands: to scroll there may let it go."""
        self.page.locator(f"#{part} .opblock-summary-control").first.dispatch_event("click")

    def open(self, summary: str) -> Any:
        """Open an operation by its summary, and return the part of the page that shows it."""
        wanted = self.page.get_by_text(summary, exact=True)
        next(part for part in self.listed() if wanted.count())
        wanted.click()
        opened = self.page.locator(OPEN, has_text=summary)
        opened.locator(".opblock-body").wait_for()
        return opened


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def shown(browser, live) -> Iterator[Shown]:
    """The page on a desk; a test may make its window another."""
    page = browser.new_page(viewport=DESK)
    shown = Shown(page)
    page.goto(f"{live.url}/docs")
    page.locator(".opblock").first.wait_for()
    yield shown
    page.close()


@pytest.mark.parametrize("size", SIZES, ids=["desk", "phone"])
def test_every_operation_is_listed_and_opens_within_the_window(shown, live, size):
    paths = json.loads(live.send("GET", "/v1/openapi.json").text)["paths"]
    parameters = {
        f"operations-{one['tags'][0].replace(' ', '_')}-{one['operationId']}": len(
            [*of_path.get("parameters", []), *one.get("parameters", [])]
        )
        for of_path in paths.values()
        for method, one in of_path.items()
        if method != "parameters"
    }
    shown.page.set_viewport_size(size)
    listed, subjects = set(), set()
    for part in shown.listed():
        listed.add(part)
        subject = part.split("-")[1]
        if subject not in subjects:
            subjects.add(subject)
            shown.toggle(part)
            shown.page.locator(f"#{part}.is-open .responses-inner").wait_for()
            assert shown.width == size["width"]
            assert shown.page.locator(f"#{part} tr[data-param-name]").count() == parameters[part]
            shown.toggle(part)
            shown.page.wait_for_timeout(60)  # in which the page lets go what is no longer near
    assert listed == parameters.keys()
    assert len(subjects) > 1
    assert shown.width == size["width"]
    assert shown.complaints == []
    assert shown.hosts == {urlsplit(live.url).netloc}


@pytest.mark.parametrize("size", SIZES, ids=["desk", "phone"])
def test_an_operation_shows_its_example_and_what_may_be_wrong(shown, size):
    shown.page.set_viewport_size(size)
    opened = shown.open(OVERTIME)
    body = opened.locator(".opblock-section-request-body .microlight").inner_text()
    responses = opened.locator(".responses-inner").inner_text()
    assert re.search(r'"hours":\s*"46"', body)
    assert re.search(r'"regular_rate":\s*"13.00"', responses)
    assert "#/on" in responses
    assert shown.complaints == []


@pytest.mark.parametrize("size", SIZES, ids=["desk", "phone"])
def test_a_request_can_be_tried_with_a_token(shown, live, size):
    page = shown.page
    page.set_viewport_size(size)
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
    assert shown.width == size["width"]
    assert shown.complaints == []
    assert shown.hosts == {urlsplit(live.url).netloc}
