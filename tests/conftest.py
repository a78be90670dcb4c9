"""What holds for the whole suite: no skip goes unseen in CI, and property tests repeat exactly.

What a test has measured is printed at the end, because workers have no terminal of their own.
"""

import gc
import os
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from xdist.scheduler import LoadGroupScheduling

from tests.api.store.postgres import ABSENT, server_programs
from tests.commands.running import installed
from tests.made_once import made_once

FORBID_SKIPS = "GROUNDSILL_FORBID_SKIPS"
MEASURED = "measured"

# The tests start many processes, none of which should compile the house anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
gc.disable()  # what is collected stays

settings.register_profile("desk", deadline=None, max_examples=60)
settings.register_profile("ci", deadline=None, max_examples=100, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "desk")


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Return 3 for folders: two cores are busy while one of three waits for a server or browser.

    A few files are done sooner in one process, without workers.
    """
    return 0 if all(".py" in one for one in config.args) else 3


class ByFile(LoadGroupScheduling):
    """Each worker takes the tests of a group, or those of a file that are in none.

    So what is set up for a file is set up once, and few files are sent instead of many tests.
    """

    def _split_scope(self, nodeid: str) -> str:
        return super()._split_scope(nodeid).partition("::")[0]


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> ByFile | None:
    """Return how tests are shared among the workers, unless the command line says it."""
    return ByFile(config, log) if config.getvalue("dist") == "loadgroup" else None


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the groups, which take longest, and the files with most tests."""
    sizes = Counter(item.path for item in items)
    items.sort(key=lambda one: (not one.get_closest_marker("xdist_group"), -sizes[one.path]))


def pytest_collection_finish() -> None:
    """Look for circles of garbage more rarely, and never among the thousands of tests."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    gc.enable()


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


@pytest.fixture
def measured(record_property: Callable[[str, object], None]) -> Callable[[str], None]:
    """A way to print a sentence with what a test has measured."""
    return lambda sentence: record_property(MEASURED, sentence)


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the demo was run once; tests read `out/` and write elsewhere.

    What it printed is in `printed.txt`.
    """

    def make(folder: Path) -> str:
        ran = installed("demo", "--out", "out", folder=folder)
        assert ran.exit_code == 0, ran.err
        return ran.out

    folder, printed = made_once(tmp_path_factory, "demo", make)
    (folder / "printed.txt").write_text(printed, encoding="utf-8")
    return folder


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print what was measured, and say loudly if half of the tests of the store did not run."""
    for report in terminalreporter.getreports("passed") + terminalreporter.getreports("failed"):
        for name, sentence in report.user_properties:
            if (name, report.when) == (MEASURED, "call"):
                terminalreporter.line(sentence)
    if server_programs() is None:
        terminalreporter.section("PostgreSQL is absent", sep="!", red=True, bold=True)
        terminalreporter.line(ABSENT)
