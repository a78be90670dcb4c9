import doctest
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.mark.parametrize("page", ["labor.md", "machines.md", "rates-over-time.md"])
def test_the_examples_on_the_page_give_what_it_says(page):
    run = doctest.testfile(str(DOCS / page), module_relative=False, encoding="utf-8")
    assert run.failed == 0
    assert run.attempted >= 10
