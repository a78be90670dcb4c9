"""The family of errors: sentences with a place and a remedy, all of one input in one answer."""

import inspect
from difflib import get_close_matches

import pytest

from estimator import errors
from estimator.errors import (
    Fault,
    Faults,
    FormulaFaulty,
    GroundsillError,
    InputFaulty,
    MeasureFaulty,
    ScopeFaulty,
    TablesFaulty,
    did_you_mean,
    fault,
    quoted,
)

FAMILY = [
    one
    for one in vars(errors).values()
    if inspect.isclass(one) and issubclass(one, GroundsillError)
]


@pytest.mark.parametrize(
    ("one", "sentence"),
    [
        (Fault("row 3", "rate is missing", "write 12.50"), "row 3: rate is missing; write 12.50"),
        (Fault("row 3", "rate is missing"), "row 3: rate is missing"),
        (Fault("", "rate is missing", "write 12.50"), "rate is missing; write 12.50"),
    ],
)
def test_a_fault_reads_place_then_what_then_remedy(one, sentence):
    assert str(one) == sentence


def test_an_error_says_one_fault_a_line():
    error = ScopeFaulty([Fault("line 1", "a is wrong"), Fault("line 2", "b is wrong", "mend it")])
    assert str(error) == "line 1: a is wrong\nline 2: b is wrong; mend it"
    assert len(error.faults) == 2


def test_a_single_fault_is_made_in_one_call():
    error = fault(MeasureFaulty, "'12' has no unit", "write '12 ft'", "item 20.010")
    assert type(error) is MeasureFaulty
    assert error.faults == (Fault("item 20.010", "'12' has no unit", "write '12 ft'"),)


def test_faults_of_an_error_are_taken_under_a_place():
    faults = Faults()
    faults.take("row 2", fault(FormulaFaulty, "is wrong"))
    faults.take("row 3", fault(FormulaFaulty, "is wrong", where="cost"))
    faults.take("", fault(FormulaFaulty, "is wrong", where="cost"))
    assert [one.where for one in faults.entries] == ["row 2", "row 3, cost", "cost"]


def test_faults_are_raised_together_and_only_if_there_are_any():
    faults = Faults()
    faults.raise_if_any(ScopeFaulty)
    faults.add("line 1", "a is wrong")
    faults.add("line 2", "b is wrong")
    with pytest.raises(ScopeFaulty) as raised:
        faults.raise_if_any(ScopeFaulty)
    assert len(raised.value.faults) == 2


def test_a_thousand_faults_are_kept_and_the_rest_counted():
    faults = Faults()
    for n in range(1_200):
        faults.add(f"row {n}", "is wrong")
    faults.take("crews.csv", TablesFaulty([Fault("", "is wrong")] * 1_500, more=7))
    assert (len(faults.entries), faults.more) == (1_000, 1_707)
    with pytest.raises(TablesFaulty) as raised:
        faults.raise_if_any(TablesFaulty)
    assert (len(raised.value.faults), raised.value.more) == (1_000, 1_707)
    assert str(raised.value).endswith("\nrow 999: is wrong\nand 1,707 more")


def test_the_nearest_word_is_looked_for_only_where_the_fault_is_reported():
    looked = []

    def known():
        looked.append(1)
        yield "depth"

    error = ScopeFaulty(Fault("", "is unknown", did_you_mean("depht", known())) for _ in range(9))
    assert not looked
    assert str(error.faults[3]) == "is unknown; did you mean 'depth'?"
    assert str(error.faults[3]) == "is unknown; did you mean 'depth'?"
    assert len(looked) == 1


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("62 ft", "'62 ft'"),
        ("", "''"),
        ("a\nb\x00\x1b", "'a\\nb\\x00\\x1b'"),
        ("\u202eabc", "'\\u202eabc'"),
        ("x" * 60, "'" + "x" * 60 + "'"),
        ("x" * 61, "'" + "x" * 60 + "...'"),
        (12, "'12'"),
    ],
)
def test_a_quoted_text_stays_on_one_line_of_readable_length(text, shown):
    assert quoted(text) == shown


@pytest.mark.parametrize(
    ("word", "known", "hint"),
    [
        ("depht", ["depth", "width"], "did you mean 'depth'?"),
        ("colour", ["width", "depth"], "use one of 'depth', 'width'"),
        ("colour", [], ""),
        ("colour", [f"{n}" for n in range(13)], ""),
    ],
)
def test_a_wrong_word_is_met_with_the_nearest_or_the_few_known(word, known, hint):
    assert did_you_mean(word, known) == hint


def test_of_a_long_list_a_thousand_words_around_the_place_of_a_word_are_compared(monkeypatch):
    compared = []

    def counted(word, known, **options):
        compared.append(len(known))
        return get_close_matches(word, known, **options)

    monkeypatch.setattr(errors, "get_close_matches", counted)
    codes = [f"{phase}.{item}" for phase in range(20, 70) for item in range(100, 200)]
    for word in ("44.1O7", "20.1O7", "69.1O7"):
        assert str(did_you_mean(word, codes)) == f"did you mean '{word[:2]}.197'?"
    assert compared == [1_000, 1_000, 500]


@pytest.mark.parametrize("one", FAMILY, ids=lambda one: one.__name__)
def test_every_error_has_its_own_code_and_a_docstring(one):
    assert one.__doc__
    assert "code" in vars(one)
    assert one.code == "error" or one.code.replace("-", "").isalpha()


def test_the_codes_of_the_family_differ():
    assert len(FAMILY) >= 10
    assert len({one.code for one in FAMILY}) == len(FAMILY)
    assert all(issubclass(one, InputFaulty) for one in FAMILY if one is not GroundsillError)
