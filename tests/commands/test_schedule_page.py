"""The commands of docs/schedule.md print what the page shows, and write the files it names."""

from pathlib import Path

import pytest

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


@pytest.mark.parametrize(("command", "shown"), shown_commands(PAGE))
def test_the_page_shows_what_the_command_prints(demo, command, shown):
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


def test_the_chart_is_written_and_never_over_the_scope(tmp_path):
    scope = tmp_path / "scope.yaml"
    scope.write_text(HEAD)
    files = ("--svg", "bars.svg", "--png", "bars.png", "--xlsx", "bars.xlsx")
    ran = groundsill("schedule", scope, *files, folder=tmp_path)
    assert ran.exit_code == 0, ran.err
    assert (tmp_path / "bars.xlsx").read_bytes().startswith(b"PK")
    assert (tmp_path / "bars.svg").read_bytes().startswith(b"<?xml")
    assert (tmp_path / "bars.png").read_bytes().startswith(b"\x89PNG")
    assert "The schedule is in bars.svg." in ran.err
    (tmp_path / "own.svg").write_text("mine")
    ran = groundsill("schedule", scope, "--svg", "own.svg", folder=tmp_path)
    assert (ran.exit_code, (tmp_path / "own.svg").read_text()) == (1, "mine")


def test_a_job_into_another_year_says_the_years_of_its_days(tmp_path):
    long = HEAD.replace("3 day", "80 day") + "calendar: {start: 2026-10-05, holidays: none}\n"
    (tmp_path / "scope.yaml").write_text(long)
    ran = groundsill("schedule", tmp_path / "scope.yaml")
    assert "2026-10-05  2027-01-22" in ran.out


def test_a_calendar_file_is_written_again_as_long_as_nobody_changed_it(tmp_path):
    scope, file = tmp_path / "scope.yaml", tmp_path / "job.ics"
    for start in ("2026-05-04", "2026-05-11"):
        scope.write_text(f"{HEAD}calendar: {{start: {start}}}\n")
        ran = groundsill("schedule", scope, "--ics", file)
        assert ran.exit_code == 0, ran.err
        assert f"DTSTART;VALUE=DATE:{start.replace('-', '')}".encode() in file.read_bytes()
    file.write_bytes(file.read_bytes().replace(b"Roof", b"Wall"))
    assert groundsill("schedule", scope, "--ics", file).exit_code == 1


def test_two_weeks_are_printed_from_a_day(tmp_path):
    scope = tmp_path / "scope.yaml"
    scope.write_text(HEAD + "calendar: {start: 2026-05-04}\n")
    ran = groundsill("schedule", scope, "--lookahead", "--from", "2026-06-01")
    assert "No work falls on these days." in ran.out
    ran = groundsill("schedule", scope, "--lookahead", "--pdf", tmp_path / "ahead.pdf")
    assert "Mon 2026-05-04\n  10.010 Roof covered; begins" in ran.out
    assert (tmp_path / "ahead.pdf").read_bytes().startswith(b"%PDF-")


def test_a_scope_without_a_calendar_says_what_is_assumed(tmp_path):
    scope = tmp_path / "scope.yaml"
    assumed = (
        "No calendar is stated: work is on Monday to Friday, except federal holidays, from "
        "2026-03-02 on, as it is priced on 2026-03-02."
    )
    scope.write_text(HEAD)
    for view in ((), ("--bars",), ("--lookahead",)):
        assert assumed in " ".join(groundsill("schedule", scope, *view).out.split())
    scope.write_text(HEAD + "calendar: {holidays: none}\n")
    said = " ".join(groundsill("schedule", scope).out.split())
    assert "No first day is stated: work is from 2026-03-02 on" in said
    scope.write_text(HEAD + "calendar: {start: 2026-03-02}\n")
    assert "stated" not in groundsill("schedule", scope).out
