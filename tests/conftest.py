"""What holds for the whole suite: no skip goes unseen in CI, and property tests repeat exactly."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

FORBID_SKIPS = "GROUNDSILL_FORBID_SKIPS"

settings.register_profile("desk", deadline=None, max_examples=60)
settings.register_profile("ci", deadline=None, max_examples=100, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "desk")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Iterator[pytest.TestReport]:
    report = yield
    _fail_if_skipped(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector) -> Iterator[pytest.CollectReport]:
    report = yield
    _fail_if_skipped(report)
    return report


def _fail_if_skipped(report: pytest.TestReport | pytest.CollectReport) -> None:
    """Count a skip as a failure where the environment forbids it; an expected failure is none."""
    if report.skipped and os.environ.get(FORBID_SKIPS) and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, which {FORBID_SKIPS} forbids: {report.longrepr}"
