"""The second job, docs/chapel.md: its scope is priced as the page shows."""

import re
from pathlib import Path

import pytest

from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import groundsill

PAGE = Path("docs/chapel.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("chapel")
    (scope,) = re.findall(r"^```yaml\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)
    (folder / "chapel.yaml").write_text(scope, encoding="utf-8")
    return folder


@pytest.mark.parametrize(("command", "shown"), shown_commands(PAGE))
def test_the_page_shows_what_the_command_prints(command, shown, folder):
    ran = groundsill(*words_of(command), folder=folder)
    assert ran.exit_code == 0, ran.err
    assert agrees(shown, ran.out.splitlines()), ran.out
