"""A scope that is written as YAML reads as the same."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from estimator.scope.located import without_places
from estimator.scope.scope_text import scope_text
from estimator.scope.scope_yaml import read_yaml

SAMPLE = Path("estimator/sample/harrow-lane-carbarn.yaml")


def read_back(written):
    return without_places(read_yaml(scope_text(written).encode(), "scope.yaml"))


def test_the_sample_reads_back_as_it_was():
    written = without_places(read_yaml(SAMPLE.read_bytes(), "sample"))
    assert read_back(written) == written
    assert list(read_back(written)) == list(written)


def test_words_that_yaml_takes_for_something_else_stay_texts():
    words = ["010", "no", "null", "~", "", "1.5", "2026-03-02", "- a", "a: b", "#", "&a", "*a", "'"]
    written = {"assumptions": [*words, "62 ft 6 in", "22'-4\"", "Ofen 窯 🧱", "two\nlines", " x "]}
    assert read_back(written) == written


def test_equal_parts_are_written_out():
    part = {"depth": ["2 ft", "6 ft 3 in"]}
    assert read_back({"one": part, "two": part}) == {"one": part, "two": part}


texts = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), max_size=30)
values = st.recursive(
    texts, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3)
)


@given(written=st.dictionaries(texts, values, min_size=1, max_size=4))
def test_whatever_is_written_reads_back(written):
    assert read_back(written) == written
