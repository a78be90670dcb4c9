"""No command writes over one of its inputs, or over a file it did not make, unless told to."""

import os
import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.commands.running import groundsill

SCOPE = "out/harrow-lane-carbarn.yaml"
COMPARE = ("compare", SCOPE, "--item", "30.020")
# Each command that writes a file: its arguments, and where the file's name goes.
WRITERS = {
    "estimate": ("price", SCOPE, "--xlsx", "FILE.xlsx"),
    "risk chart": ("price", SCOPE, "--risk", "--chart", "FILE.svg"),
    "template": ("price", "--template", "FILE.xlsx"),
    "comparison": (*COMPARE, "--xlsx", "FILE.xlsx"),
    "method chart": (*COMPARE, "--vary", "truck turnaround", "--chart", "FILE.png"),
    "rates": ("rates", "export", "out/harrow-lane-quotes", "FILE.xlsx"),
}
FOREIGN = "was not made by Groundsill, or has been changed since"
REMEDY = "name another file, or add --force to write over it"

writers = pytest.mark.parametrize("command", WRITERS.values(), ids=WRITERS)


def contents_of(folder: Path) -> dict[str, bytes]:
    """Return what the files of a folder hold, by name."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def target_of(command: Sequence[str], folder: Path) -> tuple[list[str], Path]:
    """Return the arguments of a command that writes to a folder, and the file."""
    file = folder / command[-1]
    return [*command[:-1], str(file)], file


@writers
def test_a_file_of_somebody_else_stays(demo: Path, tmp_path: Path, command: Sequence[str]) -> None:
    arguments, file = target_of(command, tmp_path)
    file.write_bytes(b"mine")
    ran = groundsill(*arguments, folder=demo)
    assert ran.exit_code == 1
    assert ran.out == ""
    assert ran.err.splitlines() == [
        "1 problem found; nothing was changed.",
        f"- {file}: {FOREIGN}; {REMEDY}",
    ]
    assert file.read_bytes() == b"mine"


@writers
def test_force_writes_over_it_and_the_next_run_needs_none(
    demo: Path, tmp_path: Path, command: Sequence[str]
) -> None:
    arguments, file = target_of(command, tmp_path)
    file.write_bytes(b"mine")
    assert groundsill(*arguments, "--force", folder=demo).exit_code == 0
    first = file.read_bytes()
    assert groundsill(*arguments, folder=demo).exit_code == 0
    assert file.read_bytes() == first != b"mine"


@writers
def test_a_link_stays_a_link(demo: Path, tmp_path: Path, command: Sequence[str]) -> None:
    arguments, file = target_of(command, tmp_path)
    own = tmp_path / "own"
    own.write_bytes(b"mine")
    file.symlink_to(own)
    ran = groundsill(*arguments, "--force", folder=demo)
    assert ran.err.splitlines()[1:] == [
        f"- {file}: is a link to another file; name the file itself"
    ]
    assert file.is_symlink()
    assert own.read_bytes() == b"mine"


@writers
def test_a_pipe_stays_a_pipe(demo: Path, tmp_path: Path, command: Sequence[str]) -> None:
    arguments, file = target_of(command, tmp_path)
    os.mkfifo(file)
    ran = groundsill(*arguments, "--force", folder=demo)
    assert ran.err.splitlines()[1:] == [f"- {file}: is a device or a pipe, not a file; name a file"]
    assert file.is_fifo()


@writers
def test_another_ending_is_refused_before_any_work(
    demo: Path, tmp_path: Path, command: Sequence[str]
) -> None:
    arguments, file = target_of(command, tmp_path)
    other = file.with_suffix(".yaml")
    ran = groundsill(*arguments[:-1], other, folder=demo)
    assert ran.exit_code == 2
    assert "end" in ran.err
    assert not other.exists()


def test_a_scope_is_not_turned_into_its_estimate(demo: Path, tmp_path: Path) -> None:
    scope = tmp_path / "scope.xlsx"
    assert groundsill("price", "--template", scope).exit_code == 0
    before = scope.read_bytes()
    for command in (["price", scope], ["price", scope, "--risk"]):
        ran = groundsill(*command, "--xlsx", scope)
        assert ran.exit_code == 1
        assert ran.err.splitlines()[1:] == [f"- {scope}: is what this command reads; {REMEDY}"]
    assert scope.read_bytes() == before


def test_a_template_that_was_filled_in_is_not_emptied(tmp_path: Path) -> None:
    scope = tmp_path / "scope.xlsx"
    assert groundsill("price", "--template", scope).exit_code == 0
    assert groundsill("price", "--template", scope).exit_code == 0
    book = load_workbook(scope)
    book["Items"]["C2"] = "My own pit"
    book.save(scope)
    ran = groundsill("price", "--template", scope)
    assert ran.err.splitlines()[1:] == [f"- {scope}: {FOREIGN}; {REMEDY}"]
    assert load_workbook(scope)["Items"]["C2"].value == "My own pit"


def test_an_estimate_is_replaced_a_week_later_without_a_word(demo: Path, tmp_path: Path) -> None:
    file = tmp_path / "estimate.xlsx"
    assert groundsill("price", SCOPE, "--xlsx", file, folder=demo).exit_code == 0
    first = file.read_bytes()
    later = groundsill("price", SCOPE, "--on", "2026-03-09", "--xlsx", file, folder=demo)
    assert later.exit_code == 0
    assert file.read_bytes() != first


def test_an_estimate_with_somebodys_notes_in_it_is_not_replaced(demo: Path, tmp_path: Path) -> None:
    file = tmp_path / "estimate.xlsx"
    assert groundsill("price", SCOPE, "--xlsx", file, folder=demo).exit_code == 0
    book = load_workbook(file)
    book.worksheets[0]["H1"] = "called the bank on Tuesday"
    book.save(file)
    ran = groundsill("price", SCOPE, "--xlsx", file, folder=demo)
    assert ran.err.splitlines()[1:] == [f"- {file}: {FOREIGN}; {REMEDY}"]
    assert load_workbook(file).worksheets[0]["H1"].value == "called the bank on Tuesday"


def test_one_file_that_stays_keeps_the_other_from_being_written(demo: Path, tmp_path: Path) -> None:
    chart, book = tmp_path / "risk.svg", tmp_path / "estimate.xlsx"
    chart.write_bytes(b"mine")
    ran = groundsill("price", SCOPE, "--risk", "--chart", chart, "--xlsx", book, folder=demo)
    assert ran.exit_code == 1
    assert not book.exists()


def test_a_template_and_an_estimate_are_not_one_command(demo: Path, tmp_path: Path) -> None:
    file = tmp_path / "one.xlsx"
    ran = groundsill("price", SCOPE, "--xlsx", file, "--template", file, folder=demo)
    assert ran.exit_code == 2
    assert not file.exists()


def test_the_demo_writes_over_its_own_files_and_nobody_elses(demo: Path, tmp_path: Path) -> None:
    """What is its own is not among the files that it names, and is written anew."""
    out, names = tmp_path / "out", ["estimate.json", "empty-scope.xlsx", "draw-02.pdf"]
    shutil.copytree(demo / "out", out)
    before = contents_of(out)
    for name in names:
        (out / name).write_bytes(b"mine")
    spoiled = contents_of(out)
    ran = groundsill("demo", "--out", out)
    assert ran.err.splitlines()[1:] == [f"- {out / name}: {FOREIGN}; {REMEDY}" for name in names]
    assert contents_of(out) == spoiled
    assert groundsill("demo", "--out", out, "--force").exit_code == 0
    assert contents_of(out) == before


def test_folders_of_rates_and_backups_are_always_new(demo: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "resources.csv").write_bytes(b"mine")
    book = tmp_path / "rates.xlsx"
    assert groundsill("rates", "export", book).exit_code == 0
    for command in (["rates", "import", book, own], ["rates", "adjust", own, "--to", "2027-03-02",
                    "--yearly", "3"]):  # fmt: skip
        ran = groundsill(*command)
        assert ran.exit_code == 1
        assert "holds files already, and nothing is ever written over them" in ran.err
    assert (own / "resources.csv").read_bytes() == b"mine"
