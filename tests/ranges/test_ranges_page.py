import doctest
from pathlib import Path


def test_the_examples_on_the_page_give_what_it_says():
    page = Path(__file__).parents[2] / "docs" / "ranges.md"
    run = doctest.testfile(str(page), module_relative=False, encoding="utf-8")
    assert run.failed == 0
    assert run.attempted > 30
