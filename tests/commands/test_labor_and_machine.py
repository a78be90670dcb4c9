"""`groundsill labor` and `groundsill machine`: what their pages show, and their faults."""

import json
from pathlib import Path

import pytest

from api.calculations import examples, soil_shapes
from api.commands.labor import labor
from api.commands.machine import machine
from estimator.quantity.takeoff.soil import SOILS
from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import groundsill

SHOWN = [
    one
    for page in ("labor", "machines", "production", "takeoff")
    for one in shown_commands(Path(f"docs/{page}.md").read_text(encoding="utf-8"))
]
OWN = [
    "machine", "own", "--value", "45000.00", "--life", "5000", "--hours-per-year", "1000",
    "--salvage", "0.20", "--money", "0.08", "--horsepower", "70", "--power", "0.50",
    "--fuel-price", "4.00", "--service", "0.25", "--repair", "0.60",
]  # fmt: skip


def test_the_pages_show_ten_commands():
    assert len(SHOWN) == 10


@pytest.mark.parametrize(("command", "shown"), SHOWN)
def test_the_page_shows_what_the_command_prints(command, shown):
    ran = groundsill(*words_of(command))
    assert agrees(shown, ran.out.splitlines()), ran.out + ran.err


def test_the_command_prints_as_json_what_the_service_answers():
    rent = ["--rent", "36.88", "--hours", "200", "--other", "900", "--json"]
    assert json.loads(groundsill(*OWN, *rent).out) == examples.MACHINE_ANSWER


@pytest.mark.parametrize(
    ("arguments", "answer"),
    [
        (
            "labor salary --salary 1040.00 --periods 12 --covers 40 --hours 46",
            examples.SALARY_ANSWER,
        ),
        ("labor bonus --bonus 100.00 --hours 40 --hours 50", examples.BONUS_ANSWER),
        (
            "machine loads --weights 3000:2400:3750 --bank 100 --loose 25 --truck 12 --payload 13",
            examples.SOIL_ANSWER,
        ),
        (
            "machine loader --bucket 16 --minutes 0.75 --efficiency 0.75 --truck 78 --away 6",
            examples.LOADER_ANSWER,
        ),
        (
            "machine roller --width 4.5 --speed 3 --lift 6 --passes 4 --flow 700",
            examples.ROLLER_ANSWER,
        ),
    ],
)
def test_a_command_answers_as_the_service_does(arguments, answer):
    assert json.loads(groundsill(*arguments.split(), "--json").out) == answer


def test_owning_that_never_pays_is_said():
    for rent in ("7.20", "0.01"):
        told = " ".join(groundsill(*OWN, "--rent", rent).out.split())
        assert "Owning never pays: its running hour costs at least as much as the rented" in told


def test_a_machine_is_worth_what_it_is_bought_for():
    # Figure 2-1 of USACE EP 1110-1-8 (2003): 1,197,389 less 7.5 %, tax 5.80 %, 1,913 cwt at 5.27.
    bought = [
        "--list-price", "1197389", "--discount", "0.075", "--tax", "0.058", "--weight", "1913",
        "--freight", "5.27",
    ]  # fmt: skip
    own = [one for one in OWN if one not in ("--value", "45000.00")]
    assert json.loads(groundsill(*own, *bought, "--json").out)["value"] == "1181907"
    refused = "--value: is given beside the list price; give the value, or"
    assert refused in groundsill(*OWN, *bought).err
    assert "--value: is missing; give the value, or the list price" in groundsill(*own).err


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["labor", "burden", "--wage", "abc", "--hours", "8"],
         "- --wage: is not a decimal number"),
        (["labor", "burden", "--wage", "10", "--hours", "0"],
         "--hours: are zero; enter the hours that are paid"),
        (["labor", "burden", "--wage", "10", "--hours", "10", "--leave", "20"],
         "--leave: are more than the paid hours"),
        (["labor", "burden", "--wage", "10", "--hours", "8", "--tax", "Medicare:1.5"],
         "--tax 1, fraction: is too large; 1 is the most"),
        (["labor", "week", "--worked", "100:5", "--worked", "100:6"],
         "hours: are more than the 168 of a week; pay week by week"),
        (["labor", "bonus", "--bonus", "9", "--hours", "0"], "--hours 1: is too small"),
        (["machine", "loader", "--bucket", "9", "--minutes", "1", "--truck", "8", "--away", "6"],
         "truck, bucket: holds more than the body"),
        (["machine", "loads", "--bank", "9"], "--soil: is missing; name a soil"),
        (["machine", "loads", "--soil", "clay", "--bank", "9", "--truck", "9", "--payload", "9"],
         "--payload: is given without the weights of the soil; give the weights"),
        (["machine", "rent", "--days", "0", "--day", "9"], "--days: is not right"),
        ([*OWN, "--salvage", "nan"], "--salvage: is not a decimal number"),
    ],
)  # fmt: skip
def test_faults_name_what_is_wrong(arguments, sentence):
    ran = groundsill(*arguments)
    assert ran.exit_code == 1
    assert sentence in ran.err


def test_every_soil_of_the_library_has_its_name_in_the_command_and_over_http():
    assert tuple(SOILS) == soil_shapes.SOILS
    assert all(groundsill("machine", "loads", "--soil", one, "--bank", "9").out for one in SOILS)


EVERY = [
    (group, command) for group in (labor, machine) for command in group.commands.values()
]  # fmt: skip


@pytest.mark.parametrize(("group", "command"), EVERY, ids=lambda one: one.name)
def test_each_fault_of_an_option_has_the_name_of_the_option(group, command):
    """Every option that takes a text is given one that is no number, written as its help says."""
    shapes = {"--tax": "T:x", "--insurance": "I:x", "--worked": "x:x", "--weights": "x:x:x"}
    texts = [
        one.opts[0]
        for one in command.params
        if one.type.name == "text" and one.opts[0] != "--state"
    ]
    whole = [one.opts[0] for one in command.params if one.type.name == "integer" and one.required]
    given = [word for one in texts for word in (one, shapes.get(one, "x"))]
    ran = groundsill(group.name, command.name, *given, *(w for one in whole for w in (one, "1")))
    places = [line.removeprefix("- ").partition(":")[0] for line in ran.err.splitlines()[1:]]
    named = {place.partition(" ")[0].partition(",")[0] for place in places if place}
    assert {one for one in named if one.startswith("--")} == named
    assert named == set(texts)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["machine", "loads", "--soil", "clay"], "Give --bank, --loose or --compacted."),
        (["machine", "rent", "--days", "5"], "Give --day, --week or --month."),
    ],
)
def test_one_of_several_options_is_required(arguments, sentence):
    ran = groundsill(*arguments)
    assert ran.exit_code == 2
    assert sentence in ran.err


def test_hours_without_a_rent_compare_nothing():
    ran = groundsill(*OWN, "--hours", "200")
    assert ran.exit_code == 2
    assert "go with --rent" in ran.err
