"""The command of docs/schedule.md prints what the page shows, and its calendar is one."""

from pathlib import Path

from tests.commands.console import agrees, shown_commands, words_of
from tests.commands.running import groundsill

PAGE = Path("docs/schedule.md").read_text(encoding="utf-8")
HEAD = """\
project: One roof
on: 2026-03-02
phases:
  - code: "10"
    name: Roof
    items:
      - {code: "010", name: Roof covered, lump_sum: {amount: "$18,400", days: 3 day}}
"""


def test_the_page_shows_what_the_command_prints(demo):
    ((command, shown),) = shown_commands(PAGE)
    ran = groundsill(*words_of(command), folder=demo)
    assert ran.exit_code == 0, ran.err
    assert agrees(shown, ran.out.splitlines()), ran.out


def test_the_calendar_of_the_page_is_one(tmp_path):
    calendar = PAGE.split("```yaml\n")[1].split("```")[0]
    (tmp_path / "scope.yaml").write_text(HEAD + calendar)
    ran = groundsill("schedule", tmp_path / "scope.yaml")
    assert ran.exit_code == 0, ran.err
    # weather is expected to take two days of April: three days of work take four
    assert "2026-04-07 to 2026-04-10" in ran.out
