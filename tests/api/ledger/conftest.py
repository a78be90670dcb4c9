"""The books of the sample, opened once for all tests that only read them."""

from __future__ import annotations

import pytest

from tests.commands.running import groundsill


@pytest.fixture(scope="session")
def opened(tmp_path_factory):
    """What the command says that opened them; the environment names their database."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path_factory.mktemp("data")))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        ran = groundsill("books", "demo")
        assert ran.exit_code == 0, ran.err
        yield ran.out
