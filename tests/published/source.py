"""The mark of an outside check: which publication it stands on, and how well that was read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from types import FunctionType, ModuleType
from typing import TypeVar

STATUSES = {
    "seen": "the figure was read in a public copy of the source",
    "second-hand": "read in a public work that quotes the source",
    "from memory": "recalled, not read again",
    "derived": "worked out from the source's definitions",
    "common practice, no source": "a rule of thumb of the trade",
}

# Checks of these assert an answer that stands in print.
PRINTED = ("seen", "second-hand")

Test = TypeVar("Test", bound=Callable[..., object])


@dataclass(frozen=True)
class Source:
    """Where an outside check comes from.

    Parameters
    ----------
    source : str
        Title and edition of the publication, or the library that serves as oracle; "Source not
        recorded: ..." where nobody wrote down which text it was.
    section : str
        Chapter, table, paragraph.
    status : str
        One of `STATUSES`.
    note : str
        Where the print is rounded or wrong, and why.
    """

    source: str
    section: str
    status: str
    note: str = ""

    def __post_init__(self) -> None:
        if self.status not in STATUSES:
            raise ValueError(f"{self.status!r} is none of {', '.join(STATUSES)}")
        if not self.source or not self.section:
            raise ValueError("name the source and its section")
        if self.source.startswith(("A ", "An ", "Published ", "Textbook", "Table of ")):
            raise ValueError(f"{self.source!r} is no title: write 'Source not recorded: ...'")


@dataclass(frozen=True)
class Check:
    """One outside check: its topic, what it says as a sentence, and its source."""

    topic: str
    sentence: str
    source: Source


def published(*, source: str, section: str, status: str, note: str = "") -> Callable[[Test], Test]:
    """Mark a test as a check against a publication; goes above or below `parametrize`."""
    where_from = Source(source, section, status, note)

    def mark(test: Test) -> Test:
        test.published = where_from  # type: ignore[attr-defined]
        return test

    return mark


def check_modules() -> Iterator[ModuleType]:
    """Yield the modules of outside checks, by name."""
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        yield import_module(f"tests.published.{path.stem}")


def functions_of(module: ModuleType) -> list[FunctionType]:
    """Return the test functions of a module, in the order written."""
    return [
        value
        for name, value in vars(module).items()
        if name.startswith("test_") and isinstance(value, FunctionType)
    ]


def checks() -> list[Check]:
    """Return all outside checks, by topic and in the order written."""
    return [
        Check(topic_of(module), sentence_of(test), vars(test)["published"])
        for module in check_modules()
        for test in functions_of(module)
    ]


def topic_of(module: ModuleType) -> str:
    """Return the topic that a module checks: `test_earthwork` is "Earthwork"."""
    return module.__name__.rpartition(".test_")[2].replace("_", " ").capitalize()


def sentence_of(test: FunctionType) -> str:
    """Return what a test says, from its name."""
    return test.__name__.removeprefix("test_").replace("_", " ").capitalize()
