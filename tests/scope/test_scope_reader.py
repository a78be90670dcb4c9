"""A scope's faults: each with its line and a remedy, all in one answer."""

from datetime import date
from fractions import Fraction

import pytest

from estimator.errors import Faults, ScopeFaulty
from estimator.scope.located import Listing, Text
from estimator.scope.named_folders import named_folders
from estimator.scope.scope_reader import (
    read_head,
    read_phase_head,
    read_scope,
)
from estimator.scope.scope_yaml import read_yaml
from tests.factories import MADE, item, located, made_tables, scope_of

HEAD = "project: Barn\nphases:\n  - code: '20'\n    name: Fill\n    items:\n"


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"), MADE)


def read(text, tables):
    return read_scope(read_yaml(text.encode(), "barn.yaml"), tables)


def faults(text, tables):
    with pytest.raises(ScopeFaulty) as refusal:
        read(text, tables)
    return [str(fault) for fault in refusal.value.faults]


def given_faults(tables, assembly, **inputs):
    with pytest.raises(ScopeFaulty) as refusal:
        scope_of(tables, {"20": [item("010", assembly, **inputs)]})
    return [str(fault).partition(", ")[2] for fault in refusal.value.faults]


def given(tables, assembly, **inputs):
    return scope_of(tables, {"20": [item("010", assembly, **inputs)]}).items[0].inputs


def stone(tables, **inputs):
    return given(tables, "stone-fill", **({"length": "10 ft", "width": "4 ft"} | inputs))


def stone_faults(tables, **inputs):
    return given_faults(tables, "stone-fill", **({"length": "10 ft", "width": "4 ft"} | inputs))


def test_a_whole_scope_is_read_as_it_stands(tables):
    scope = read(
        "project: Barn\non: 2026-03-02\nshift: 10 hr/day\nmarkups: [tax]\n"
        "assumptions:\n  - Pits are dry.\n" + HEAD[len("project: Barn\n") :] +
        "      - code: '010'\n        name: Stone\n        assembly: stone-fill\n"
        "        crew: solo\n        element: A1030\n        note: By hand.\n"
        "        inputs: {length: 62 ft 6 in, width: 4'-2\", depth: [2 ft, 6 ft 3 in]}\n",
        tables,
    )  # fmt: skip
    one = scope.items[0]
    assert (scope.project, scope.on, scope.shift.value) == ("Barn", date(2026, 3, 2), 10)
    assert (scope.markups, scope.assumptions) == (("tax",), ("Pits are dry.",))
    assert (one.code, one.name, one.crew, one.element, one.note) == (
        "20.010", "Stone", "solo", "A1030", "By hand.",
    )  # fmt: skip
    assert one.where == "barn.yaml line 11"
    assert one.inputs["length"].value == Fraction("62.5")
    assert one.inputs["width"].text == "4'-2\""
    assert one.inputs["depth"].value == Fraction("4.125")
    assert one.inputs["depth"].text == "average of 2 ft and 6 ft 3 in"


def test_what_is_left_out_has_its_usual_value(tables):
    scope = read(
        HEAD + "      - {code: '010', name: S, assembly: slab-pour, inputs: {area: 100 sf}}\n",
        tables,
    )
    assert (scope.on, scope.markups, scope.assumptions) == (None, None, ())
    assert (scope.shift.value, scope.shift.text) == (8, "8 hr/day")
    assert (scope.items[0].crew, scope.items[0].element, scope.items[0].note) == ("", "", "")


def test_every_fault_of_a_scope_comes_in_one_answer_with_its_line(tables):
    text = (
        "projekt: Barn\non: 2 March\nshift: 30 hr/day\nmarkups: [taxes]\nphases:\n"
        "  - code: '20'\n    name: Fill\n    colour: red\n    items:\n"
        "      - {code: '010', name: A, assembly: stone-fil, inputs: {}}\n"
        "      - code: '020'\n        name: B\n        assembly: stone-fill\n        crew: gangs\n"
        "        inputs:\n          lenght: 62 ft\n          width: 4 ft\n"
        "          depth: 4,000 ft\n"
        "      - {code: '020', name: C, assembly: slab-pour, crew: gang, inputs: {area: 9 ft}}\n"
        "      - {code: 'x y', assembly: floor-cut, inputs: {length: 5 ft, wood: 3 cf}}\n"
        "  - code: '20'\n    name: Again\n    items: []\n"
        "  - just a text\n"
    )
    assert faults(text, tables) == [
        "barn.yaml line 1: unknown key 'projekt' in scope; did you mean 'project'?",
        "barn.yaml line 1: project is missing",
        "barn.yaml line 3: shift '30 hr/day' is not 1 to 24 hr/day",
        "barn.yaml line 2: on '2 March' is not a pricing date; write it as 2026-03-02",
        "barn.yaml line 4: unknown markup 'taxes'; did you mean 'tax'?",
        "barn.yaml line 8: unknown key 'colour' in phase; use one of 'after', 'along', 'code', "
        "'duration', 'items', 'name', 'starts_with', 'wait'",
        "barn.yaml line 10: item 20.010 names the unknown assembly 'stone-fil'; "
        "did you mean 'stone-fill'?",
        "barn.yaml line 14: item 20.020 names the unknown crew 'gangs'; did you mean 'gang'?",
        "barn.yaml line 16: item 20.020 gives 'lenght', which 'stone-fill' does not ask for; "
        "did you mean 'length'?",
        "barn.yaml line 18, item 20.020, depth: '4,000 ft' is too large; "
        "expected 0 to 240 in; check the unit",
        "barn.yaml line 16: item 20.020 does not give 'length' (length); write it in ft",
        "barn.yaml line 19: repeats item '20.020' of barn.yaml line 11",
        "barn.yaml line 19: item 20.020 names a crew, but 'slab-pour' is bought work",
        "barn.yaml line 19, item 20.020, area: '9 ft' is a length, not an area; "
        "write it in sf or a unit that converts to it",
        "barn.yaml line 20: item code 'x y' is not letters and digits; "
        "write up to 12 of them, such as 010 or 3A",
        "barn.yaml line 20: name is missing",
        "barn.yaml line 20: item 20.x y sets 'wood', which 'floor-cut' works out itself; remove it",
        "barn.yaml line 21: repeats phase '20' of barn.yaml line 6",
        "barn.yaml line 23: items is not a list, or is empty",
        "barn.yaml line 24: phase is not a set of keys; "
        "expected code, name, after, wait, starts_with, along, duration, items",
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("just text", ["barn.yaml line 1: scope is not a set of keys; expected project, address, "
                       "prepared_for, prepared_by, revision, on, shift, rates, quotes, markups, "
                       "day_worth, assumptions, calendar, crew, risk, alternates, phases"]),
        ("project: Barn\n", ["barn.yaml line 1: phases is not a list, or is empty"]),
        ("project: [Barn]\nphases: none\n",
         ["barn.yaml line 1: project is not a single text",
          "barn.yaml line 2: phases is not a list, or is empty"]),
        (HEAD + "      - {code: '010', name: S, assembly: slab-pour}\n",
         ["barn.yaml line 6: item 20.010 does not give 'area' (area); write it in sf"]),
        (HEAD + "      - {code: '010', name: S, assembly: slab-pour, inputs: 100 sf}\n",
         ["barn.yaml line 6: item 20.010: inputs is not a set of keys"]),
        (HEAD + "      - {code: '010', name: S, assembly: slab-pour, inputs: {area: }}\n",
         ["barn.yaml line 6, item 20.010, area: is empty; "
          "write a number with its unit, such as '12 ft 6 in'"]),
        (HEAD + "      - {code: '010', name: S, assembly: }\n", [
            "barn.yaml line 6: assembly is missing"]),
        (HEAD + "      - {name: S, assembly: slab-pour, inputs: {area: 9 sf}}\n"
                "      - {name: T, assembly: slab-pour, inputs: {area: 9 sf}}\n",
         ["barn.yaml line 6: code is missing", "barn.yaml line 7: code is missing"]),
        (f"project: {'x' * 501}\n" + HEAD.partition("\n")[2] +
         "      - {code: '010', name: S, assembly: slab-pour, inputs: {area: 9 sf}}\n",
         ["barn.yaml line 1: project is longer than 500 characters"]),
        ('project: "a\\u202eb"\n' + HEAD.partition("\n")[2] +
         "      - {code: '010', name: S, assembly: slab-pour, inputs: {area: 9 sf}}\n",
         ["barn.yaml line 1: project has control characters; type the text again"]),
        ("shift: 8 hr\nassumptions: Dry.\nmarkups: tax\n" + HEAD +
         "      - {code: '010', name: S, assembly: slab-pour, inputs: {area: 9 sf}}\n",
         ["barn.yaml line 1, shift: '8 hr' is working time, not hours per day; "
          "write it in hr/day or a unit that converts to it",
          "barn.yaml line 3: markups is not a list, or is empty",
          "barn.yaml line 2: assumptions is not a list, or is empty"]),
        ("on: 2026-02-30\n" + HEAD +
         "      - {code: '010', name: S, assembly: slab-pour, inputs: {area: 9 sf}}\n",
         ["barn.yaml line 1: on '2026-02-30' is not a pricing date; write it as 2026-03-02"]),
    ],
)  # fmt: skip
def test_each_fault_of_form_is_reported(text, expected, tables):
    assert faults(text, tables) == expected


@pytest.mark.parametrize(
    ("depth", "sentence"),
    [
        ("4,000 ft", "'4,000 ft' is too large; expected 0 to 240 in; check the unit"),
        ("21 ft", "'21 ft' is too large; expected 0 to 240 in; check the unit"),
        ("20.00000000000000001 ft", "'20.00000000000000001 ft' is too large; "
         "expected 0 to 240 in; check the unit"),
        ("-3 ft", "'-3 ft' is negative; write it without the minus sign"),
        ("nan", "'nan' is not a measure; "
         "write a number with its unit, such as '12 ft 6 in' or '1,900 sf'"),
        ("inf ft", "'inf ft' is not a measure; "
         "write a number with its unit, such as '12 ft 6 in' or '1,900 sf'"),
        ("1e400 ft", "unknown unit 'e'; did you mean 'ea'?"),
        ("3", "'3' has no unit; write '3 in'"),
        ("3 cy", "'3 cy' is a volume, not a length; "
         "write it in in or a unit that converts to it"),
        (["1 ft"], "lists 1 values; give two end depths, four corner depths, or spots"),
        (["1 ft"] * 3, "lists 3 values; give two end depths, four corner depths, or spots"),
        ([], "lists 0 values; give two end depths, four corner depths, or spots"),
        ([["1 ft"], "2 ft"], "lists 2 values; give two end depths, four corner depths, or spots"),
        (["1 ft", "2"], "'2' has no unit; write '2 in'"),
        (["40 ft", "1 ft"], "'average of 40 ft and 1 ft' is too large; "
         "expected 0 to 240 in; check the unit"),
        ({"spot": []}, "is neither a measure nor spots; write {spots: [[x, y, depth], ...]}"),
        ({"spots": "1 ft"}, "is neither a measure nor spots; write {spots: [[x, y, depth], ...]}"),
        ({"spots": [["0 ft", "0 ft"]]}, "spot 1 is not x, y and depth"),
        ({"spots": [["0 ft", "0 ft", "1 ft"], "2 ft"]}, "spot 2 is not x, y and depth"),
        ({"spots": [["0 ft", "0 ft", "1 sf"]]}, "'1 sf' is an area, not a length; "
         "write it in ft or a unit that converts to it"),
        ({"spots": [["0 ft", "0 ft", "1 ft"]] * 10_001}, "has more than 10,000 spots"),
    ],
)  # fmt: skip
def test_a_depth_that_makes_no_sense_is_refused_with_its_item(depth, sentence, tables):
    assert stone_faults(tables, depth=depth) == [f"item 20.010, depth: {sentence}"]


@pytest.mark.parametrize("spots", [[], [["0 ft", "0 ft", "1 ft"]] * 3])
def test_spots_that_span_no_surface_are_refused_with_their_item(spots, tables):
    (sentence,) = stone_faults(tables, depth={"spots": spots})
    assert sentence.startswith("item 20.010, depth")


def test_only_lengths_may_be_given_by_several_depths(tables):
    assert given_faults(tables, "slab-pour", area=["90 sf", "100 sf"]) == [
        "item 20.010, area: takes one value in sf; only lengths may be given by several depths"
    ]


@pytest.mark.parametrize(
    ("depth", "value", "text"),
    [
        ("7 ft 3 in", "7.25", "7 ft 3 in"),
        ("  7   ft  3 in ", "7.25", "7 ft 3 in"),
        (["2 ft", "6 ft 3 in"], "4.125", "average of 2 ft and 6 ft 3 in"),
        (["1 ft", "2 ft", "30 in", "0 ft"], "1.375", "average of 1 ft, 2 ft, 30 in and 0 ft"),
        ({"spots": [["0 ft", "0 ft", "3 ft"], ["10 ft", "0 ft", "3 ft"],
                    ["0 ft", "10 ft", "6 ft"]]},
         "4", "mean 4.00 ft of 3 spot depths"),
        ({"spots": [["0 ft", "0 ft", "1 ft"], ["20 ft", "0 ft", "5 ft"],
                    ["0 ft", "10 ft", "1 ft"], ["20 ft", "10 ft", "5 ft"]]},
         "3", "mean 3.00 ft of 4 spot depths"),
    ],
)  # fmt: skip
def test_depths_that_vary_are_averaged(depth, value, text, tables):
    found = stone(tables, depth=depth)["depth"]
    assert (found.value, found.text) == (Fraction(value), text)


def test_counts_are_whole_and_within_their_limits(tables):
    assert given(tables, "slab-pour", area="9 sf", permits="3 permit")["permits"].value == 3
    assert given(tables, "slab-pour", area="9 sf", permits="3 ea")["permits"].value == 3
    assert given_faults(tables, "slab-pour", area="9 sf", permits="1.5 permit") == [
        "item 20.010, permits: '1.5 permit' is not a whole number of permit"
    ]
    assert given_faults(tables, "slab-pour", area="9 sf", permits="10 permit") == [
        "item 20.010, permits: '10 permit' is too large; expected 0 to 9 permit; check the unit"
    ]


def test_a_proportion_may_be_a_number_or_a_percentage_up_to_its_limit(tables):
    assert stone(tables, depth="1 ft", lost="12.5 %")["lost"].value == Fraction(1, 8)
    assert stone(tables, depth="1 ft", lost="0.125")["lost"].value == Fraction(1, 8)
    assert stone_faults(tables, depth="1 ft", lost="5") == [
        "item 20.010, lost: '5' without a percent sign would be 500 %; write '5 %'"
    ]
    assert stone_faults(tables, depth="1 ft", lost="500") == [
        "item 20.010, lost: '500' is too large; expected 0 to 0.5; check the unit"
    ]


@pytest.mark.parametrize(
    ("limits", "written", "sentence"),
    [
        ({"least": "", "most": ""}, "100000000 ft", "'100000000 ft' is too large; check the unit"),
        ({"least": "", "most": "50"}, "51 ft", "'51 ft' is too large; expected at most 50 ft"),
        ({"least": "2", "most": ""}, "1 ft", "'1 ft' is too small; expected at least 2 ft"),
    ],
)
def test_an_input_may_have_one_limit_or_none(tmp_path, limits, written, sentence):
    row = MADE["assembly_inputs"][0] | limits
    tables = made_tables(tmp_path, MADE | {"assembly_inputs": [row, *MADE["assembly_inputs"][1:]]})
    assert stone(tables, depth="1 ft")["length"].value == 10
    assert stone_faults(tables, length=written, depth="1 ft") == [
        f"item 20.010, length: {sentence}"
    ]


@pytest.mark.parametrize("name", ["harrow-lane-quotes", "q1", "A_b"])
def test_quotes_stand_in_a_folder_right_beside_the_scope(name):
    assert named_folders(located({"quotes": name, "rates": name}), Faults()) == (name, name)


@pytest.mark.parametrize("name", ["../quotes", "/etc", "a/b", "C:\\x", ".", "..", "a b", "x" * 62])
def test_a_path_to_quotes_elsewhere_is_refused(name):
    faults = Faults()
    assert named_folders(located({"quotes": name, "rates": name}), faults) == (None, None)
    assert [one.where for one in faults.entries] == ["rates", "quotes"]
    assert all("not the plain name of a folder beside" in one.what for one in faults.entries)


def test_a_scope_without_quotes_has_none():
    for written in (located({"project": "Barn"}), Text("x", "y"), Listing((), "y")):
        assert named_folders(written, Faults()) == (None, None)


def test_more_than_20000_items_are_refused_before_one_is_read(tables):
    items = [item(str(n), "slab-pore", area="9 sf") for n in range(20_001)]
    with pytest.raises(ScopeFaulty) as refused:
        scope_of(tables, {"20": items})
    assert str(refused.value) == "scope: has more than 20,000 items"


def test_a_head_is_read_without_phases_and_its_risk_may_name_those_there_are(tables):
    head = {"project": "Barn", "markups": ["tax"], "on": "2026-03-02"}
    scope = read_head(located(head), tables)
    assert (scope.project, scope.markups, scope.phases) == ("Barn", ("tax",), ())
    event = {"name": "cistern", "probability": "15 %", "cost": "$900", "phase": "30"}
    risky = located(head | {"risk": {"events": [event]}})
    assert read_head(risky, tables, ["20", "30"]).risk.events[0].phase == "30"
    with pytest.raises(ScopeFaulty, match="'cistern' names the unknown phase '30'"):
        read_head(risky, tables, ["20"])
    with pytest.raises(ScopeFaulty) as refusal:
        read_head(located({"on": "spring", "shift": "30 hr/day", "markups": ["vat"]}), tables)
    assert len(refusal.value.faults) == 4


def test_the_head_of_a_phase_is_read_without_items():
    phase = read_phase_head(located({"code": "20", "name": "Fill", "after": []}))
    assert (phase.code, phase.name, phase.items, phase.plan.after) == ("20", "Fill", (), ())
    with pytest.raises(ScopeFaulty) as refusal:
        read_phase_head(located({"code": "2 0", "duration": "12"}))
    assert len(refusal.value.faults) == 3


def test_of_a_hundred_thousand_unknown_keys_a_thousand_are_listed(tables):
    written = "".join(f"key{n}: 1\n" for n in range(100_000))
    with pytest.raises(ScopeFaulty) as refused:
        read(f"project: Barn\nphases: []\n{written}", tables)
    told = str(refused.value)
    assert told.count("unknown key 'key") == 1_000
    assert told.endswith("\nand 99,001 more")
