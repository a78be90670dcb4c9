"""The shell lines of docs/operations.md do as they stand what the page says of them."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from api.store.store import open_store
from tests.api.store.made import filled

PAGE = Path("docs/operations.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```sh\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)
# Among the first, because it takes long.
pytestmark = pytest.mark.xdist_group("live")
FAULTLESS = re.compile(r"No problems: 1 account, [\d,]+ audit rows, digest ([0-9a-f]{64})")


def block(mention: str) -> str:
    """Return the one block of the page that has a word in it."""
    (found,) = (one for one in BLOCKS if mention in one)
    return found


class Shell:
    """A shell in a folder of its own, with the embedded database of a filled account."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        kept = {name: told for name, told in os.environ.items() if "GROUNDSILL_" not in name}
        self.environment = kept | {
            "PATH": f"{Path(sys.executable).parent}:{kept['PATH']}",
            "GROUNDSILL_DATA_FOLDER": str(folder / "data"),
        }

    def run(self, script: str) -> str:
        """Run lines, up to the first that fails, and return what they print."""
        ran = subprocess.run(
            ["bash", "-eu"], input=script, text=True, capture_output=True,
            cwd=self.folder, env=self.environment, check=False,
        )  # fmt: skip
        assert ran.returncode == 0, ran.stdout + ran.stderr
        return ran.stdout


@pytest.fixture(scope="module")
def filled_folder(tmp_path_factory):
    """A data folder with a filled account, made by the command once for all tests."""
    folder = tmp_path_factory.mktemp("filled")
    Shell(folder).run("groundsill database upgrade")
    store = open_store(f"sqlite:///{folder}/data/groundsill.sqlite3")
    filled(store)
    store.close()
    return folder / "data"


@pytest.fixture
def shell(tmp_path, filled_folder):
    shutil.copytree(filled_folder, tmp_path / "data")
    return Shell(tmp_path)


@pytest.fixture
def shell_with_postgresql(shell, server):
    shell.environment |= {
        "PATH": f"{server.programs}:{shell.environment['PATH']}",
        "PGHOST": str(server.folder),
        "PGUSER": "groundsill",
    }
    yield shell
    shell.run("dropdb --if-exists groundsill; dropdb --if-exists groundsill_new")


def digest(shell: Shell, setting: str = "") -> str:
    return FAULTLESS.search(shell.run(f"{setting} groundsill database verify"))[1]


def here(script: str, folder: Path) -> str:
    """Return lines of the page with the folder and the day of this test."""
    return script.replace("/backups", str(folder)).replace("2026-03-02", "$(date +%F)")


def test_a_backup_is_restored_where_nothing_is_yet(shell, tmp_path):
    backup, restore = here(block("database restore"), tmp_path).splitlines()
    before = digest(shell)
    shell.run(f"{backup}\nmv data away\n{restore}")
    assert digest(shell) == before


def test_an_upgrade_is_preceded_by_a_backup(shell, tmp_path):
    told = shell.run(here(block("before-upgrade"), tmp_path))
    assert FAULTLESS.search(told)[1] == digest(shell)
    assert (tmp_path / "before-upgrade.sqlite3").is_file()


def test_the_embedded_database_moves_to_postgresql(shell_with_postgresql):
    shell = shell_with_postgresql
    embedded = digest(shell)
    moved = shell.run(moving(shell) + "groundsill database verify")
    assert FAULTLESS.search(moved)[1] == embedded


def test_a_dump_of_postgresql_is_restored_and_verifies(shell_with_postgresql):
    shell = shell_with_postgresql
    shell.run(moving(shell) + block("pg_dump"))
    restored = f"GROUNDSILL_DATABASE_URL='{url(shell, 'groundsill_new')}'"
    assert digest(shell, restored) == digest(shell)


def moving(shell: Shell) -> str:
    """Return the lines that move a database, to the server of the tests."""
    shown = "postgresql+psycopg://groundsill@db.example/groundsill?sslmode=verify-full"
    assert shown in block("database move")
    return block("database move").replace(shown, url(shell, "groundsill"))


def url(shell: Shell, database: str) -> str:
    return f"postgresql+psycopg://groundsill@/{database}?host={shell.environment['PGHOST']}"
