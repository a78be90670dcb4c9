"""Charts of a choice: drawn from the findings, the same bytes each time, no text taken for code."""

import xml.etree.ElementTree as ET

import pytest

from estimator.charts.drawing import form_of
from estimator.charts.method_chart import method_chart
from estimator.errors import FileNotWritten, MethodsFaulty
from estimator.studies.comparison.findings import Findings, Variation, findings_of
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, sample_choice

PNG = b"\x89PNG\r\n\x1a\n"


def root_of(content):
    """Return the tag of the root, which only well-formed XML has."""
    return ET.fromstring(content).tag  # noqa: S314  # drawn by this test itself


@pytest.mark.parametrize(
    "asked",
    [
        (),
        (Variation("truck turnaround", "45 min", "2 hr"),),
        (Variation("truck turnaround"), Variation("day worth")),
    ],
    ids=["nearest", "curve", "map"],
)
@pytest.mark.parametrize("form", ["svg", "png"])
def test_a_chart_is_the_same_bytes_each_time(asked, form):
    comparison = sample_choice("30.020")
    found = findings_of(comparison, asked)
    content = method_chart(comparison, found, form)
    assert method_chart(comparison, found, form) == content
    if form == "png":
        assert content.startswith(PNG)
    else:
        assert root_of(content).endswith("svg")


def test_no_day_and_no_other_program_is_written_into_a_chart():
    comparison = sample_choice("20.010")
    found = findings_of(comparison, (Variation("recovery"),))
    assert b"<dc:date>" not in method_chart(comparison, found, "svg")
    assert b"matplotlib" not in method_chart(comparison, found, "png").lower()


def test_names_are_drawn_as_they_stand():
    named = [{**DIG, "name": "_by $x^2$ & <b>"}, {**THROW, "name": "__"}, BY_HAND]
    comparison = pit_choice(*named)
    content = method_chart(comparison, findings_of(comparison, (Variation("depth"),)), "svg")
    assert root_of(content).endswith("svg")


@pytest.mark.parametrize("form", ["svg", "png"])
def test_letters_that_the_font_lacks_are_drawn_without_a_warning(form):
    comparison = pit_choice({**DIG, "name": "木工 \U0001f9f1"}, BY_HAND)
    assert method_chart(comparison, findings_of(comparison, (Variation("depth"),)), form)


def test_a_choice_in_which_nothing_was_varied_has_no_chart():
    with pytest.raises(MethodsFaulty, match="nothing is varied"):
        method_chart(sample_choice("20.010"), Findings(), "svg")


def test_the_ending_names_the_form(tmp_path):
    assert form_of(tmp_path / "a.SVG") == "svg"
    assert form_of(tmp_path / "a.png") == "png"
    with pytest.raises(FileNotWritten, match=r"end its name in \.svg or \.png"):
        form_of(tmp_path / "a.pdf")


def test_long_names_wrap_within_the_chart():
    name = "throwing it in by a conveyor truck that stands in the side street all day long"
    comparison = pit_choice({**DIG, "name": name}, BY_HAND)
    drawn = method_chart(comparison, findings_of(comparison, (Variation("depth"),)), "svg").decode()
    assert f"<!-- 1 {name} -->" not in drawn
    assert "<!-- 1 throwing it in by a conveyor truck that -->" in drawn
