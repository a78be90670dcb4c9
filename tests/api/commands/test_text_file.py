"""A text is read as any system saves it; what is no text is refused in a sentence."""

from __future__ import annotations

import pytest

from api.commands.text_file import file_text
from estimator.errors import InputFaulty
from tests.commands.running import groundsill


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_a_text_is_read_as_editors_and_powershell_save_it(tmp_path, encoding):
    (tmp_path / "loan.yaml").write_bytes("lender: Valley \u2013 bank".encode(encoding))
    assert file_text(tmp_path / "loan.yaml", "save it as UTF-8") == "lender: Valley \u2013 bank"


@pytest.mark.parametrize("content", [b"lender: Valley \x96 bank", b"\xff\xfe\x00"])
def test_what_is_no_text_is_refused(tmp_path, content):
    (tmp_path / "loan.yaml").write_bytes(content)
    with pytest.raises(InputFaulty) as refused:
        file_text(tmp_path / "loan.yaml", "save it as UTF-8")
    assert str(refused.value) == "loan.yaml: is not text in UTF-8; save it as UTF-8"


@pytest.mark.parametrize("command", ["loan", "amend"])
def test_terms_that_are_no_text_end_in_a_sentence(tmp_path, command):
    (tmp_path / "loan.yaml").write_bytes(b"lender: Valley \x96 bank")
    ran = groundsill("draw", command, "loan.yaml", folder=tmp_path)
    assert ran.exit_code == 1
    assert "Traceback" not in ran.err
    assert "loan.yaml: is not text in UTF-8; save it as UTF-8" in ran.err
