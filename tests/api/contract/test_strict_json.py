"""Promise 10: no body, whatever it holds, is more than a sentence."""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.calculations import examples
from api.contract.errors import BodyFaulty
from api.contract.strict_json import read_json

DEEPEST = 32
ROUTE = "/v1/calculations/rental"

HOSTILE = {
    "not a number": (b'{"days": NaN}', "NaN, which is not a number"),
    "infinity": (b'{"days": -Infinity}', "-Infinity, which is not a number"),
    "beyond floats": (b'{"days": 1e400}', "the number '1e400', which is out of bounds"),
    "next to nothing": (b'{"days": 1e-400}', "which is out of bounds"),
    "an exponent of 19 digits": (b'{"days": 1e9999999999999999999}', "which is out of bounds"),
    "one below zero": (b'{"days": -1e9999999999999999999}', "which is out of bounds"),
    "one of next to nothing": (b'{"days": 1e-9999999999999999999}', "which is out of bounds"),
    "one of zero": (b'{"days": 0e9999999999999999999}', "which is out of bounds"),
    "a long number": (b'{"days": ' + b"9" * 19 + b"}", "more than 18 digits"),
    "a very long number": (b'{"days": ' + b"9" * 100_000 + b"}", "more than 18 digits"),
    "a long fraction": (b'{"days": 0.' + b"3" * 100_000 + b"}", "out of bounds"),
    "a key twice": (b'{"days": 1, "days": 2}', "the key 'days' twice"),
    "a key twice inside": (b'{"rates": {"day": "1", "d\\u0061y": "2"}}', "the key 'day' twice"),
    "deep lists": (b"[" * 100_000, "nested more than 32 deep"),
    "deep objects": (b'{"a":' * 33 + b"1" + b"}" * 33, "nested more than 32 deep"),
    "half a character": (b'{"days": "\\ud800"}', "half a character"),
    "half a key": (b'{"\\uDFFF": 1}', "half a character"),
    "the wrong half first": (b'["\\udc00\\ud800"]', "half a character"),
    "not UTF-8": (b'{"days": "\xff"}', "is not UTF-8 at byte 10"),
    "UTF-16": ('{"days": 1}'.encode("utf-16"), "is not UTF-8 at byte 0"),
    "a byte order mark": (b"\xef\xbb\xbf{}", "is not JSON at line 1, column 1"),
    "one quote": (b'"', "is not JSON"),
    "quotes escaped without end": (b'"' + b'\\"' * 400_000, "is not JSON"),
    "cut off": (b'{"days": 2', "is not JSON at line 1, column 11"),
    "two values": (b"{} {}", "is not JSON at line 1, column 4"),
    "a comment": (b"{} // fine", "is not JSON"),
    "single quotes": (b"{'days': 1}", "is not JSON"),
    "a bare word": (b"nothing", "is not JSON"),
    "a control character": (b'{"a": "\n"}', "is not JSON"),
    "blanks": (b"   ", "is not JSON"),
    "nothing": (b"", "is empty"),
}  # fmt: skip


@pytest.mark.parametrize(("content", "told"), HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_body_gets_a_sentence(embedded, content, told):
    answer = embedded.post(ROUTE, content)
    assert (answer.status_code, answer.json["code"]) == (400, "body-faulty")
    assert told in answer.json["detail"]
    assert len(answer.text) < 1000


SHAPELESS = [b"[]", b"{}", b"null", b"true", b"1", b'"text"', b"1.5", b'[{"days": 1}]']


@pytest.mark.parametrize("content", SHAPELESS)
@pytest.mark.parametrize(
    "name", ["estimate", "comparison", "volumes", "reinforcing", "rental", "production", "overtime"]
)
def test_json_of_another_shape_gets_its_faults(embedded, name, content):
    answer = embedded.post(f"/v1/calculations/{name}", content)
    assert (answer.status_code, answer.json["code"]) == (422, "fields-faulty")
    assert answer.json["errors"]


ODD_VALUES = [
    None, True, 0, -1, 10**17, "", " ", "\x00", "1_000", " 1.5 ", "１２", "1E+999999", "1e5",
    "NaN", "Infinity", "-0", "0x10", "१", "1,5", "1.", ".5", "+1", "00", "9" * 5000, [], {},
    [[]], {"a": {}}, "😀" * 300, "=1+1", "<script>", "2026-02-30", "\u202e",
]  # fmt: skip


def places(value, steps=()):
    """Yield the steps to every value inside an example."""
    parts = value.items() if isinstance(value, dict) else enumerate(value)
    for key, part in parts:
        yield (*steps, key)
        if isinstance(part, dict | list):
            yield from places(part, (*steps, key))


def replaced(value, steps, new):
    """Return a copy of an example with one value replaced."""
    if not steps:
        return new
    copy = dict(value) if isinstance(value, dict) else list(value)
    copy[steps[0]] = replaced(value[steps[0]], steps[1:], new)
    return copy


@pytest.mark.parametrize("name", ["volumes", "reinforcing", "rental", "production", "overtime"])
def test_any_odd_value_anywhere_is_answered_with_a_sentence_or_a_figure(embedded, name):
    example = getattr(examples, name.upper())
    for steps in places(example):
        for odd in ODD_VALUES:
            embedded.clock.turn(seconds=1)
            answer = embedded.post(f"/v1/calculations/{name}", replaced(example, steps, odd))
            assert answer.status_code in (200, 422), (steps, odd, answer.text)
            if answer.status_code == 422:
                assert answer.json["errors"], (steps, odd)


@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_bytes_are_read_or_refused(content):
    with suppress(BodyFaulty):
        read_json(content, DEEPEST)


def test_what_can_be_read_means_what_it_says():
    text = '{"a": [1, -2, 0.50, true, null, "\\ud83d\\ude00 \\\\ud800"], "b": {}}'
    assert read_json(text.encode(), DEEPEST) == {
        "a": [1, -2, Decimal("0.50"), True, None, "😀 \\ud800"],
        "b": {},
    }


def test_brackets_in_a_text_are_no_nesting():
    assert read_json(b'["' + b"[" * 100 + b'\\"["]', 1) == ["[" * 100 + '"[']
