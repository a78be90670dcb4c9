"""The books of the sample, opened once for all tests that only read them."""

from __future__ import annotations

import pytest


@pytest.fixture(scope="session")
def opened(sample_books):
    """What the command says that opened them; the environment names their database."""
    folder, ran = sample_books
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("GROUNDSILL_DATA_FOLDER", str(folder))
        patch.delenv("GROUNDSILL_DATABASE_URL", raising=False)
        yield ran.out
