"""Each command of docs/what-if.md prints what the page shows."""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import groundsill

PAGE = Path("docs/what-if.md").read_text(encoding="utf-8")
COMMANDS = [one for one in shown_commands(PAGE) if one[0].startswith("groundsill")]
OTHERS = [command for command, _ in shown_commands(PAGE) if not command.startswith("groundsill")]


@pytest.fixture(scope="module")
def folder(demo, tmp_path_factory):
    """The demo's files, and the scope with a level that the page makes of it."""
    folder = tmp_path_factory.mktemp("what-if")
    shutil.copytree(demo / "out", folder / "out")
    subprocess.run(["bash", "-e", "-c", "\n".join(OTHERS)], cwd=folder, check=True)
    return folder


def test_the_page_answers_fifteen_questions():
    assert len(COMMANDS) == 15
    assert PAGE.startswith("# What if\n\nFifteen builder's questions")
    assert "fifteen builder's questions" in Path("README.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(("command", "shown"), COMMANDS)
def test_the_page_shows_what_the_command_prints(command, shown, folder):
    ran = groundsill(*words_of(command), folder=folder)
    assert ran.exit_code == 0, ran.err
    assert agrees(shown, ran.out.splitlines()), ran.out
