import os
import subprocess
import sys
from pathlib import Path

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
