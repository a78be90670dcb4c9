"""Indented JSON is to the byte what the standard library writes."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.pricing.indented_json import indented_json

PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**63), 2**63 - 1) | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
)


@given(PLAIN)
def test_it_is_what_the_standard_library_writes(value):
    assert indented_json(value) == json.dumps(value, indent=2, ensure_ascii=False)


def test_a_text_that_looks_like_the_end_of_a_row_ends_none():
    rows = {"lines": [{"name": "a },\n      { b", "paid": True}, {"name": '"},'}, {"note": None}]}
    assert indented_json(rows) == json.dumps(rows, indent=2, ensure_ascii=False)


@pytest.mark.parametrize(
    "value", [1.5, float("nan"), b"", {1, 2}, [0.1], {"a": [{"b": 0.1}, {}]}, [(1,)]]
)
def test_a_float_has_no_place_in_it(value):
    with pytest.raises(TypeError, match="is not written to JSON"):
        indented_json(value)
