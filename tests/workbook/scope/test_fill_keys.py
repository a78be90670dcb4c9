"""Level, opening and machine of an item come back from a workbook as they were."""

from pathlib import Path

from estimator.scope.scope_digest import scope_digest
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml
from estimator.workbook.scope.scope_reader import read_scope_workbook
from estimator.workbook.scope.scope_template import write_scope
from tests.scope.methods.choices import SAMPLE, SAMPLE_FILE, sample

FILL = """\
        level: {top: 100 ft, marks: [94 ft 6 in, 98 ft]}
        opening: {name: wagon door, width: 8 ft, height: 9 ft}
        methods:
          - name: lowering it in by telehandler
            machine: {name: telehandler, width: 6 ft 6 in, height: 7 ft 2 in}
"""


def test_they_have_their_places(tmp_path: Path) -> None:
    _, tables = sample()
    plain = (SAMPLE / SAMPLE_FILE).read_text(encoding="utf-8")
    text = plain.replace(
        "        methods:\n          - name: lowering it in by telehandler\n", FILL, 1
    )
    assert text != plain
    written = read_yaml(text.encode(), SAMPLE_FILE)
    write_scope(written, tables, tmp_path / "scope.xlsx")
    content = (tmp_path / "scope.xlsx").read_bytes()
    scope, again = (
        read_scope(one, tables) for one in (written, read_scope_workbook(content, "scope.xlsx"))
    )
    item = next(one for one in again.items if one.code == "30.020")
    assert item.level is not None
    assert [one.text for one in item.level.marks] == ["94 ft 6 in", "98 ft"]
    assert item.methods[0].machine is not None
    assert scope_digest(again) == scope_digest(scope)
