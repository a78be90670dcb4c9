"""YAML as text with line numbers, without YAML's own surprises."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.errors import ScopeFaulty
from estimator.scope.located import Listing, Section, Text
from estimator.scope.scope_yaml import read_yaml


def refusal_of(content):
    data = content if isinstance(content, bytes) else content.encode()
    with pytest.raises(ScopeFaulty) as refusal:
        read_yaml(data, "barn.yaml")
    return str(refusal.value)


@pytest.mark.parametrize(
    "scalar",
    ["010", "0o10", "0x1F", "1_000", "12e3", "yes", "no", "on", "null", "~", "true", "2026-03-02",
     "1:30", ".nan", ".inf", "-5 ft", "=1+1", "62 ft 6 in", "4'-2"],
)  # fmt: skip
def test_every_scalar_stays_the_text_that_was_typed(scalar):
    assert read_yaml(f"code: {scalar}\n".encode(), "barn.yaml") == Section(
        {"code": Text(scalar, "barn.yaml line 1")}, "barn.yaml line 1"
    )


def test_each_value_knows_its_line():
    written = read_yaml(b"a: 1\nb:\n  - x\n  - {c: 'y'}\n", "barn.yaml")
    assert written == Section(
        {
            "a": Text("1", "barn.yaml line 1"),
            "b": Listing(
                (
                    Text("x", "barn.yaml line 3"),
                    Section({"c": Text("y", "barn.yaml line 4")}, "barn.yaml line 4"),
                ),
                "barn.yaml line 3",
            ),
        },
        "barn.yaml line 1",
    )


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        ("", "barn.yaml: is empty; docs/scope-file.md shows a scope"),
        ("# only a comment\n", "barn.yaml: is empty; docs/scope-file.md shows a scope"),
        ("a: &x 1\nb: *x\n", "barn.yaml line 1: uses an anchor or alias; write the value out"),
        ("a: 1\nb: *x\n", "barn.yaml line 2: uses an anchor or alias; write the value out"),
        ("a: !!python/object/apply:os.system ['ls']\n",
         "barn.yaml line 1: uses the tag 'tag:yaml.org,2002:python/object/apply:os.system'; "
         "remove it"),
        ("a: 1\nb: !!float 2\n",
         "barn.yaml line 2: uses the tag 'tag:yaml.org,2002:float'; remove it"),
        ("a: !mine 2\n", "barn.yaml line 1: uses the tag '!mine'; remove it"),
        ("a: 1\nb: 2\na: 3\n", "barn.yaml line 3: repeats the key 'a'"),
        ("a:\n  b: 1\n  b: 2\n", "barn.yaml line 3: repeats the key 'b'"),
        ("? [a, b]\n: 1\n", "barn.yaml line 1: has a key that is not a plain word"),
        ("{a: 1}: 2\n", "barn.yaml line 1: has a key that is not a plain word"),
        ("a: " + "[" * 13 + "]" * 13, "barn.yaml line 1: is nested too deeply"),
        ("a: " + "[" * 500, "barn.yaml line 1: is nested too deeply"),
        ("".join(" " * n + f"k{n}:\n" for n in range(1000)),
         "barn.yaml line 13: is nested too deeply"),
        (b"a: \xff\xfe\n", "barn.yaml: is not UTF-8 text at byte 3"),
        ("a: 1\n".encode("utf-16"), "barn.yaml: is not UTF-8 text at byte 0"),
        (b"#" * 10_000_001, "barn.yaml: is larger than 10 MB"),
    ],
)  # fmt: skip
def test_what_is_not_one_plain_document_is_refused_with_its_line(content, sentence):
    assert refusal_of(content) == sentence


@pytest.mark.parametrize(
    ("content", "beginning"),
    [
        ("a: [1, 2\n", "barn.yaml: is not YAML at line 2, column 1: "),
        ("a: 1\n b: 2\n", "barn.yaml: is not YAML at line 2, column "),
        ("a: 'never closed\n", "barn.yaml: is not YAML at line "),
        ("a: 1\n---\nb: 2\n", "barn.yaml line 2: begins a second document; take the '---' out"),
        (b"a: \x00\n", "barn.yaml: is not YAML"),
        (b"a: \x1b[31m\n", "barn.yaml: is not YAML"),
    ],
)
def test_what_does_not_parse_is_refused_with_line_and_column(content, beginning):
    assert refusal_of(content).startswith(beginning)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        ("a: 1\nname Slab\nb: 2\n",
         "barn.yaml line 2: 'name Slab' has no colon after its key; write 'name: Slab'"),
        ("name Slab\nb: 2\n",
         "barn.yaml line 1: 'name Slab' has no colon after its key; write 'name: Slab'"),
        ("- name Slab\n  b: 2\n",
         "barn.yaml line 1: 'name Slab' has no colon after its key; write 'name: Slab'"),
        ("a: 1\nitems\n  - b: 2\n",
         "barn.yaml line 2: 'items' has no colon after its key; write 'items:'"),
        ("name:Slab\nb: 2\n",
         "barn.yaml line 1: 'name:Slab' has no space after its colon; write 'name: Slab'"),
        ("name: Pit: west\n",
         "barn.yaml line 1: name has a colon within its text; "
         'put the text in quotes: name: "Pit: west"'),
        ("a:\n\tb: 1\n",
         "barn.yaml line 2: begins with a tab, which YAML does not take; "
         "indent it with spaces, as the lines around it"),
        ("name: Stone #4 fill\n",
         "barn.yaml line 1: 'Stone' ends there, because YAML takes '#4 fill' for a comment; "
         'put the text in quotes: "Stone #4 fill"'),
        ("a: {name: Bars #4, b: 1}\n",
         "barn.yaml line 1: 'Bars' ends there, because YAML takes '#4, b: 1}' for a comment; "
         'put the text in quotes: "Bars #4, b: 1}"\n'
         "barn.yaml: is not YAML at line 2, column 1: did not find expected ',' or '}'"),
    ],
)  # fmt: skip
def test_a_slip_of_the_pen_has_a_sentence_with_its_remedy(content, sentence):
    assert refusal_of(content) == sentence


def test_all_slips_of_a_file_come_in_one_answer():
    text = "project Barn\nname:Slab\na: Stone #4\nphases\n\t- b: 1\n"
    places = [line.partition(":")[0] for line in refusal_of(text).splitlines()]
    assert sorted(places) == [f"barn.yaml line {number}" for number in range(1, 6)]


@pytest.mark.parametrize(
    "text",
    [
        "a: 1 # first",
        "a: 1  #first",
        'a: "Stone #4"',
        "a: 'Stone #4'",
        "a: Stone#4",
        "# 57\na: 1",
    ],
)
def test_a_comment_and_a_quoted_number_sign_are_no_slips(text):
    assert isinstance(read_yaml(text.encode(), "barn.yaml"), Section)


def test_a_hundred_thousand_brackets_are_refused_before_they_are_read():
    assert "nest" in refusal_of("a: " + "[" * 100_000)


def test_a_billion_laughs_are_refused_at_the_first():
    laughs = ["a0: &a0 ['lol', 'lol']"]
    laughs += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    assert refusal_of("\n".join(laughs)) == (
        "barn.yaml line 1: uses an anchor or alias; write the value out"
    )


def test_a_merge_key_is_a_key_like_any_other():
    written = read_yaml(b"<<: {a: 1}\n", "barn.yaml")
    assert isinstance(written, Section)
    assert list(written.entries) == ["<<"]


def test_a_byte_order_mark_and_windows_line_ends_change_nothing():
    plain = read_yaml(b"a: 1\nb: 2\n", "barn.yaml")
    assert read_yaml(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n", "barn.yaml") == plain


@given(st.text(max_size=60))
def test_no_text_breaks_the_reader_of_yaml(text):
    try:
        written = read_yaml(text.encode("utf-8", "surrogatepass"), "barn.yaml")
    except ScopeFaulty:
        return
    assert isinstance(written, Text | Listing | Section)


def test_more_than_half_a_million_values_are_refused_at_the_first_too_many():
    with pytest.raises(ScopeFaulty, match="holds more than 500,000 values; divide it"):
        read_yaml(b"phases: [" + b"a," * 3_000_000 + b"]", "barn.yaml")
