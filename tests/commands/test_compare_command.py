"""`groundsill compare`, as somebody uses it who has read only the help."""

import json
from pathlib import Path

import pytest

from tests.commands.running import groundsill

SCOPE = Path("out/harrow-lane-carbarn.yaml")


def compare(demo, *arguments, item="30.020", columns=80):
    return groundsill("compare", SCOPE, "--item", item, *arguments, folder=demo, columns=columns)


def test_the_methods_stand_side_by_side_with_the_best_named(demo):
    ran = compare(demo)
    assert ran.exit_code == 0
    assert "3  throwing it in by conveyor truck       56.23  16,366.94    719.20" in ran.out
    assert "Lowest total cost: throwing it in by conveyor truck, $17,086.14." in ran.out
    assert "Fastest: throwing it in by conveyor truck, 2.32 days" in ran.out
    assert "What would change the choice" in ran.out
    assert "Licensed structural engineer" in ran.out


def test_each_caution_stands_once_after_the_figures_with_its_methods_if_not_of_all(demo):
    shown = compare(demo).out
    cautions = shown[shown.index("\nCautions, by who decides, with the methods if not of all\n") :]
    assert "Pump operator:\n- Keep clear of the hose end" in cautions
    assert "clears a plug; it whips.\n  (4)\n" in cautions
    assert "beside a\n  pit wall until the engineer has said what it carries.\n" in cautions
    assert cautions.count("Licensed structural engineer:") == 1
    assert "Who decides" not in cautions


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_it_fits_the_terminal(demo, columns):
    ran = compare(demo, "--vary", "depth", columns=columns)
    assert max(map(len, ran.out.splitlines())) <= min(columns, 80)


def test_what_is_cheapest_where_is_said_in_sentences(demo):
    ran = compare(demo, "--vary", "truck turnaround", "--from", "45 min", "--to", "2 hr")
    told = " ".join(ran.out.split())
    assert (
        "While the truck's round trip stays between 45 min and 1 hr 48.8 min, throwing it in by "
        "conveyor truck is cheapest. While the truck's round trip stays between 1 hr 48.9 min and "
        "2 hr, lowering it in by telehandler is cheapest. Priced at every 0.1 min; as written: "
        "1 hr 35 min." in told
    )


def test_where_nothing_changes_one_sentence_covers_the_range(demo):
    ran = compare(demo, "--vary", "truck turnaround", "--from", "1 hr", "--to", "80 min")
    told = " ".join(ran.out.split())
    assert ran.exit_code == 0
    assert "round trip stays between 1 hr and 1 hr 20 min, throwing it in by conveyor truck" in told


def test_two_inputs_give_a_map(demo):
    ran = compare(demo, "--vary", "truck turnaround", "--vary", "day worth")
    assert ran.exit_code == 0
    assert "Lowest total cost: day worth up, truck turnaround across" in ran.out
    assert "33333" in ran.out
    assert "11111" in ran.out


def test_saving_tells_where_the_difference_lies(demo):
    ran = compare(demo, item="20.010")
    assert "kept for use" in ran.out
    assert "while recovery is between 61.84 and 95 % (as written: 70 %)." in " ".join(
        ran.out.split()
    )


def test_the_rest_may_go_another_way(demo):
    ran = compare(demo, "--placed", "38 ton; 46 ton; 42 ton; 50 ton", "--by", "skid steer",
                  "--switch", "$300")  # fmt: skip
    told = " ".join(ran.out.split())
    assert "So far 176.00 tons in 4 days, 44.00 a day" in told
    assert "stay with it; throwing it in by conveyor truck would cost $293.42 more in total" in told
    assert "16.72 tons of what was ordered for the work so far, in whole loads, left over" in told


def test_another_worth_of_a_day_can_be_requested(demo):
    ran = compare(demo, "--day-worth", "$0/day")
    assert "A day is worth $0.00; set it with --day-worth." in " ".join(ran.out.split())


def test_json_goes_alone_to_the_output(demo):
    ran = compare(demo, "--json", "--vary", "depth")
    fields = json.loads(ran.out)
    assert fields["item"]["code"] == "30.020"
    assert len(fields["methods"]) == 5
    assert fields["curves"]["input"] == "depth"


def test_charts_and_a_workbook_are_written(demo, tmp_path):
    svg, png, xlsx = (tmp_path / name for name in ("a.svg", "a.png", "a.xlsx"))
    first = compare(demo, "--chart", svg, "--xlsx", xlsx)
    second = compare(demo, "--chart", png, "--vary", "depth")
    assert (first.exit_code, second.exit_code) == (0, 0)
    assert svg.read_bytes().startswith(b"<?xml")
    assert png.read_bytes().startswith(b"\x89PNG")
    assert xlsx.read_bytes().startswith(b"PK")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--vary", "turnaround"), "did you mean 'truck turnaround'"),
        (("--vary", "waste"), "has a different value in each method"),
        (("--vary", "depth", "--from", "3 ton"), "is a weight"),
        (("--vary", "depth", "--from", "5 ft", "--to", "2 ft"), "is empty"),
        (("--vary", "truck turnaround", "--from", "10 min"), "outside what it can be"),
        (("--day-worth", "310"), "has no unit"),
        (("--day-worth", "$1.005/day"), "not an amount in dollars and cents"),
        (("--placed", "38", "--by", "skid"), "has no unit"),
        (("--placed", "nan ton", "--by", "skid"), "not a measure"),
        (("--placed", "999 ton in 3 days", "--by", "skid"), "nothing is left"),
        (("--placed", "38 ton", "--by", "it in"), "in several names"),
        (("--chart", "nowhere/a.svg"), "nowhere"),
    ],
    ids=str,
)
def test_wrong_input_gets_a_sentence(demo, arguments, told):
    ran = compare(demo, *arguments)
    assert ran.exit_code == 1
    assert told in ran.err
    assert "Traceback" not in ran.err


def test_where_one_file_cannot_be_written_none_is(demo, tmp_path):
    ran = compare(demo, "--chart", tmp_path / "a.svg", "--xlsx", tmp_path / "nowhere" / "a.xlsx")
    assert ran.exit_code == 1
    assert "nothing was changed" in ran.err
    assert list(tmp_path.iterdir()) == []


def test_an_item_without_methods_names_those_that_have_some(demo):
    ran = compare(demo, item="30.030")
    assert ran.exit_code == 1
    assert "items with methods: 20.010, 30.020" in ran.err


@pytest.mark.parametrize(
    "arguments",
    [
        ("--vary", "a", "--vary", "b", "--vary", "c"),
        ("--from", "3 ft"),
        ("--placed", "38 ton"),
        ("--by", "skid"),
        ("--switch", "$3"),
        ("--chart", "a.pdf"),
    ],
    ids=str,
)
def test_a_wrong_call_is_a_usage_error(demo, arguments):
    assert compare(demo, *arguments).exit_code == 2
