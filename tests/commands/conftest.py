from pathlib import Path

import pytest

from tests.commands.running import installed


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the demo was run once; tests read `out/` and write elsewhere."""
    folder = tmp_path_factory.mktemp("demo")
    ran = installed("demo", "--out", "out", folder=folder)
    assert ran.exit_code == 0, ran.err
    return folder
