"""Digests stand on the one form of JSON that RFC 8785 describes."""

import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from estimator.digests import canonical_bytes, canonical_digest

TEXT = st.text(st.characters(codec="utf-8"))
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | TEXT,
    lambda inner: st.lists(inner) | st.dictionaries(st.text("abc_", min_size=1), inner),
)


@given(PLAIN)
def test_plain_values_are_written_as_a_library_of_the_standard_writes_them(value):
    assert canonical_bytes(value) == rfc8785.dumps(value)


def test_the_form_is_part_of_what_is_digested():
    # printf '{"form":"estimate 1","value":[]}' | sha256sum
    assert canonical_digest("estimate 1", []) == (
        "c1ccfae151bc71245056e854f11b35b5ff2de60c691d8cf7da6e55ceeba5b9ab"
    )
    assert canonical_digest("estimate 1", []) != canonical_digest("estimate 2", [])
