"""The page of outside checks is complete and current."""

from pathlib import Path

import pytest

from tests.published.calculations import calculations, called_by_checks
from tests.published.checks_page import checks_page
from tests.published.source import Source, check_modules, checks, functions_of, published

PAGE = Path(__file__).parents[2] / "docs" / "checks.md"


@pytest.mark.parametrize("module", list(check_modules()), ids=lambda module: module.__name__)
def test_every_outside_check_names_its_source(module):
    unmarked = [test.__name__ for test in functions_of(module) if not hasattr(test, "published")]
    assert functions_of(module), "a module of checks without a check"
    assert not unmarked


def test_no_check_hides_in_a_class():
    hidden = [name for module in check_modules() for name in vars(module) if name[:4] == "Test"]
    assert not hidden


def test_there_are_at_least_forty_outside_checks():
    assert len(checks()) >= 40


def test_the_page_begins_with_how_much_is_checked_from_outside():
    known, called = calculations(), called_by_checks()
    assert {"apportion", "pit_cf", "salaried_week_pay", "cheapest_intervals"} <= known & called
    assert {"fault", "read_scope"}.isdisjoint(known)
    assert f"Of {len(known)} public calculations, {len(known & called)} are called" in checks_page()


def test_no_two_checks_say_the_same():
    sentences = [check.sentence for check in checks()]
    assert len(set(sentences)) == len(sentences)


def test_the_page_of_checks_is_current():
    assert PAGE.read_text(encoding="utf-8") == checks_page(), (
        "run: python -m tests.published.checks_page > docs/checks.md"
    )


def test_a_mark_without_a_known_status_is_refused():
    with pytest.raises(ValueError, match="'heard' is none of seen"):
        published(source="a friend", section="at lunch", status="heard")


def test_a_source_that_is_no_title_is_refused():
    with pytest.raises(ValueError, match="'A college text' is no title"):
        Source("A college text", "ch. 5", "seen")


@pytest.mark.parametrize(("source", "section"), [("", "ch. 5"), ("a manual", "")])
def test_a_mark_without_source_or_section_is_refused(source, section):
    with pytest.raises(ValueError, match="name the source and its section"):
        Source(source, section, "seen")
