import subprocess
import sys

from tests.commands.running import installed

HEAVY = ("numpy", "pandas", "scipy", "openpyxl", "pint", "yaml", "rich", "matplotlib")


def test_each_command_has_help_that_says_what_it_does() -> None:
    for command in (["price"], ["explain"], ["demo"], ["rates"], ["rates", "check"]):
        ran = installed(*command, "--help")
        assert ran.exit_code == 0
        assert len(ran.out.splitlines()) > 4


def test_help_comes_without_any_heavy_library() -> None:
    asked = "import sys, api.commands; print([m for m in sys.argv[1:] if m in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", asked, *HEAVY], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
