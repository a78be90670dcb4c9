import os
import subprocess
import sys
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import click

from api.commands import main
from estimator.rates.public.base_rates import StatedInsurance
from tests.commands.running import groundsill, installed

HEAVY = ("numpy", "pandas", "scipy", "openpyxl", "pint", "yaml", "rich", "matplotlib")


def test_each_command_has_help_that_says_what_it_does() -> None:
    for command in (["price"], ["explain"], ["demo"], ["rates"], ["rates", "check"]):
        ran = installed(*command, "--help")
        assert ran.exit_code == 0
        assert len(ran.out.splitlines()) > 4


def test_what_each_command_does_is_said_in_a_whole_sentence() -> None:
    for group in ([], ["books"], ["draw"], ["log"], ["rates"], ["account"], ["database"]):
        said = groundsill(*group, "--help").out.partition("Commands:")[2]
        assert said.count("\n") > 3
        assert "..." not in said


def test_help_comes_without_any_heavy_library() -> None:
    asked = "import sys, api.commands; print([m for m in sys.argv[1:] if m in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", asked, *HEAVY], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_the_shell_completes_commands_and_options() -> None:
    """As click's own script for bash has them: the words so far, and which of them is meant."""
    for words, at, completed in (
        ("groundsill se", 1, "search"),
        ("groundsill price --xl", 2, "--xlsx"),
    ):
        done = subprocess.run(
            [Path(sys.executable).with_name("groundsill")],
            env=os.environ
            | {"_GROUNDSILL_COMPLETE": "bash_complete", "COMP_WORDS": words, "COMP_CWORD": str(at)},
            capture_output=True,
            text=True,
            check=False,
        )
        assert f"plain,{completed}" in done.stdout


def test_each_option_of_each_command_says_what_it_is() -> None:
    silent = [
        f"{context.command_path} {option.opts[-1]}"
        for context in contexts(click.Context(main, info_name="groundsill"))
        for option in context.command.params
        if isinstance(option, click.Option) and not option.help
    ]
    assert silent == []


def test_what_an_option_takes_is_said_in_words_of_the_trade() -> None:
    assert "--quantity NUMBER" in said("log", "ticket")
    assert "--amount MONEY" in said("log", "ticket")
    assert "--came TIME" in said("log", "ticket")
    assert "--weeks WEEKS Forecast from the last WEEKS only." in said("track")


def test_an_option_that_takes_one_of_a_few_words_lists_them() -> None:
    assert "One of: draft, submitted, approved, rejected." in said("log", "change")
    assert "One of: recovered, had before, used, sold, not used yet." in said("log", "stock")


def test_where_stock_comes_from_and_goes_to_is_not_said_in_the_words_of_every_cost_code() -> None:
    assert "--code TEXT Where it is from or goes to; a count names it." in said("log", "stock")


def test_a_search_has_no_scope_to_take_its_day_from() -> None:
    assert "--on DATE Day of the prices; today if left out." in said("search")


def test_overtime_is_time_and_a_half_and_not_the_regular_rate() -> None:
    assert "with time and a half past 40 hours (29 CFR part 778)." in said("labor", "week")


def test_an_import_posts_nothing_without_keep() -> None:
    """That it does not is tried in `tests/api/ledger/test_imports.py`."""
    assert "such as tracking.xlsx filled in; --keep posts them." in said("books", "import")


def test_a_lost_token_ends_on_its_last_day_too() -> None:
    """That it does is tried in `tests/api/access/test_sign_in.py`."""
    assert "stays good until it expires or the owner revokes it." in said("account", "token")


def test_the_insurance_of_a_public_hour_is_the_one_that_the_help_states() -> None:
    assert "Workers' compensation per $100 of pay; else 3.89." in said("rates", "base")
    assert "General liability per $100 of pay; else none." in said("rates", "base")
    stated = StatedInsurance()
    assert (stated.compensation_per_100, stated.liability_per_100) == (Decimal("3.89"), 0)


def said(*command: str) -> str:
    """Return the help of a command on one line."""
    return " ".join(groundsill(*command, "--help").out.split())


def contexts(context: click.Context) -> Iterator[click.Context]:
    """Yield the context of each command below one."""
    yield context
    if isinstance(context.command, click.Group):
        for name in context.command.list_commands(context):
            command = context.command.get_command(context, name)
            assert command is not None
            yield from contexts(click.Context(command, info_name=name, parent=context))
