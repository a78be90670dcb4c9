"""Each command of docs/tracking.md prints what the page shows; its worked numbers are true."""

from __future__ import annotations

import json
import re
import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import groundsill

PAGE = Path("docs/tracking.md").read_text(encoding="utf-8")
COMMANDS = shown_commands(PAGE)
EXPORT = PAGE.partition("```csv\n")[2].partition("```")[0]
REFUSED = re.search(r"^```sh\n(groundsill log .*)\n```\n\n> (.*)$", PAGE, re.MULTILINE)

BY_INDEX = ("at_budgeted_cost", "at_cost_index", "at_cost_and_schedule_index")

pytestmark = pytest.mark.xdist_group("page of tracking")


@pytest.fixture(scope="module")
def printed(demo, tmp_path_factory):
    """What each command of the page prints, one after the other on a new database."""
    folder = tmp_path_factory.mktemp("week")
    shutil.copytree(demo / "out", folder / "out")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder / "data"))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        (folder / "bank.csv").write_text(EXPORT, encoding="utf-8")
        yield [groundsill(*words_of(command), folder=folder) for command, _ in COMMANDS]


@pytest.mark.parametrize("place", range(len(COMMANDS)))
def test_the_page_shows_what_the_command_prints(printed, place):
    command, shown = COMMANDS[place]
    ran = printed[place]
    assert ran.exit_code == 0, ran.err
    assert agrees(shown, ran.out.splitlines()), f"{command}\n{ran.out}"


def test_progress_past_the_open_hold_is_refused_in_the_words_of_the_page(printed):
    assert REFUSED is not None
    ran = groundsill(*words_of(REFUSED[1]))
    assert ran.exit_code == 1
    assert REFUSED[2] in ran.err


def test_the_same_bill_again_is_refused(printed):
    bill = next(command for command, _ in COMMANDS if "Q-1187" in command)
    assert "Q-1187 over $1,738.11 is row 13" in groundsill(*words_of(bill)).err


def test_each_worked_number_is_that_of_the_books(printed):
    code = of_code("30.020")
    said = [re.findall(r"-?\$[\d,]+\.\d\d|\d\.\d{3}$", row) for row in worked_rows()]
    assert [Decimal(row[-1].replace("$", "").replace(",", "")) for row in said[:11]] == [
        Decimal(code[name])
        for name in (
            "budget", "committed", "billed", "accrued", "incurred", "open", "planned_value",
            "earned_value", "cost_variance", "schedule_variance", "cost_index",
        )
    ]  # fmt: skip
    assert (said[11][-1], said[13][-1]) == (code["schedule_index"], "$14,609.91")
    assert [code[name] for name in BY_INDEX] == ["14609.91", "17177.59", "28758.61"]
    assert all(f"= ${Decimal(code[name]):,.2f} |" in PAGE for name in BY_INDEX)


def test_the_forecast_by_what_is_left_is_worked_kind_by_kind(printed):
    code = of_code("30.020")
    kinds = {kind: one["amount"] for kind, one in code["left"]["kinds"].items()}
    assert kinds == {"equipment": "856.33", "labor": "5942.30", "material": "6437.68"}
    for amount in (*kinds.values(), code["forecast"]):
        assert f"${Decimal(amount):,.2f}" in PAGE


def worked_rows():
    table = PAGE.split("| word | meaning | here |\n")[1].split("\n\n")[0]
    return [row.rstrip(" |").rsplit("| ", 1)[1] for row in table.splitlines()[1:]]


def of_code(code):
    report = json.loads(groundsill("track", "--as-of", "2026-05-24", "--json").out)
    return next(one for one in report["codes"] if one["code"] == code)
