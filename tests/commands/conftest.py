from pathlib import Path

import pytest

from tests.commands.running import installed


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the demo was run once; tests read `out/` and write elsewhere.

    What it printed is in `printed.txt`.
    """
    folder = tmp_path_factory.mktemp("demo")
    ran = installed("demo", "--out", "out", folder=folder)
    assert ran.exit_code == 0, ran.err
    (folder / "printed.txt").write_text(ran.out, encoding="utf-8")
    return folder
