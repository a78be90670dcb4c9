import json
import shutil
from pathlib import Path

from tests.commands.running import groundsill

SCOPE = """\
project: One slab
on: 2026-03-02
markups: []
phases:
  - code: "10"
    name: Slab
    items:
      - code: "010"
        name: Fabric
        assembly: geotextile
        inputs: {area: "1,900 sq ft"}
"""


def written(folder: Path, text: str, name: str = "scope.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_the_demo_writes_scope_quotes_estimate_and_template(demo: Path) -> None:
    names = sorted(path.name for path in (demo / "out").iterdir())
    assert names == [
        "draw-02.pdf",
        "draw-02.xlsx",
        "empty-scope.xlsx",
        "estimate.json",
        "estimate.xlsx",
        "harrow-lane-carbarn.yaml",
        "harrow-lane-loan.yaml",
        "harrow-lane-quotes",
        "tracking.xlsx",
    ]


def test_the_demo_never_writes_over_a_scope_that_was_changed(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    mine = written(out, "project: mine\n", "harrow-lane-carbarn.yaml")
    ran = groundsill("demo", "--out", out)
    assert ran.exit_code == 1
    assert "was not made by Groundsill, or has been changed since" in ran.err
    assert mine.read_text() == "project: mine\n"
    assert [path.name for path in out.iterdir()] == ["harrow-lane-carbarn.yaml"]


def test_a_price_fits_80_columns_and_leaves_no_trailing_blanks(demo: Path) -> None:
    ran = groundsill("price", "out/harrow-lane-carbarn.yaml", folder=demo)
    assert ran.exit_code == 0
    lines = ran.out.splitlines()
    assert max(len(line) for line in lines) <= 80
    assert all(line == line.rstrip() for line in lines)


def test_a_price_shows_cautions_warnings_and_both_costs(demo: Path) -> None:
    shown = groundsill("price", "out/harrow-lane-carbarn.yaml", folder=demo).out
    for words in ("This program does not design shoring", "expired on", "Cash cost", "Full cost"):
        assert words in shown


def test_figures_come_first_then_what_is_read_with_them_and_the_totals_once_more(
    demo: Path,
) -> None:
    shown = groundsill("price", "out/harrow-lane-carbarn.yaml", "--risk", folder=demo).out
    headings = (
        "Totals ", "What the totals rest on", "Cost range, contingency and dates",
        "\nWarnings\n", "\nAssumptions\n", "\nCautions, by who decides", "\nCash cost $",
    )  # fmt: skip
    places = [shown.index(heading) for heading in headings]
    assert places == sorted(places)
    digest = json.loads(
        groundsill("price", "out/harrow-lane-carbarn.yaml", "--json", folder=demo).out
    )
    assert digest["digest"][:12] in shown
    assert digest["digest"][:13] not in shown


def test_the_title_block_stands_under_the_name_of_the_project(demo: Path, tmp_path: Path) -> None:
    text = (demo / "out" / "harrow-lane-carbarn.yaml").read_text(encoding="utf-8")
    stated = text.replace("\nshift:", "\nprepared_for: Kiln Cooperative\nrevision: B\nshift:", 1)
    shutil.copytree(demo / "out" / "harrow-lane-quotes", tmp_path / "harrow-lane-quotes")
    (tmp_path / "barn.yaml").write_text(stated, encoding="utf-8")
    lines = groundsill("price", "barn.yaml", folder=tmp_path).out.splitlines()
    assert lines[1:4] == ["Prepared for: Kiln Cooperative", "Revision: B", ""]


def test_json_is_the_same_as_the_demo_wrote_and_adds_up(demo: Path) -> None:
    ran = groundsill("price", "out/harrow-lane-carbarn.yaml", "--json", folder=demo)
    assert ran.out == (demo / "out" / "estimate.json").read_text(encoding="utf-8")
    said = json.loads(ran.out)
    paid = sum(round(float(line["amount"]) * 100) for line in said["lines"] if line["paid"])
    assert f"{paid / 100:.2f}" == said["totals"]["direct_cost"]


def test_every_key_of_the_json_is_documented(demo: Path) -> None:
    said = json.loads((demo / "out" / "estimate.json").read_text(encoding="utf-8"))
    documented = Path("docs/estimate-json.md").read_text(encoding="utf-8")
    keys = {*said, *said["totals"]}
    for part in ("markups", "by_phase", "items", "lines", "rates", "cautions"):
        keys |= set(said[part][0])
    assert [key for key in sorted(keys) if f"`{key}`" not in documented] == []


def test_a_date_on_the_command_line_overrides_that_of_the_scope(tmp_path: Path) -> None:
    scope = written(tmp_path, SCOPE)
    assert "rates of 2026-03-02" in groundsill("price", scope).out
    assert "rates of 2026-04-15" in groundsill("price", scope, "--on", "2026-04-15").out


def test_a_date_before_any_rate_is_a_missing_rate_and_not_zero(tmp_path: Path) -> None:
    ran = groundsill("price", written(tmp_path, SCOPE), "--on", "1950-01-01")
    assert ran.exit_code == 1
    assert ran.err.splitlines() == [
        "1 problem found; nothing was changed.",
        "- no resource has a rate on 1950-01-01: the first rate of all is of 2025-01-15; "
        "price on a later day",
    ]
    assert ran.out == ""


def test_own_rates_are_laid_over_the_shipped_ones(tmp_path: Path) -> None:
    rates = tmp_path / "mine"
    rates.mkdir()
    (rates / "resources.csv").write_text(
        "code,name,kind,unit,rate,low,high,date,valid_until,paid,source,note\n"
        "geotextile-roll,Fabric,material,roll,1000,,,2026-02-01,,yes,quote of a friend,\n",
        encoding="utf-8",
    )
    ran = groundsill("price", written(tmp_path, SCOPE), "--rates", rates, "--json")
    line = next(x for x in json.loads(ran.out)["lines"] if x["resource"] == "geotextile-roll")
    assert (line["rate"], line["rate_row"]) == ("1000.00", "mine resources.csv row 2")


def test_every_fault_of_a_scope_is_reported_at_once_and_no_workbook_is_left(tmp_path: Path) -> None:
    faulty = SCOPE.replace("1,900 sq ft", "1,900 ft").replace("name: Fabric", "nam: Fabric")
    target = tmp_path / "estimate.xlsx"
    ran = groundsill("price", written(tmp_path, faulty), "--xlsx", target)
    assert ran.exit_code == 1
    assert ran.err.splitlines() == [
        "3 problems found; nothing was changed.",
        "- scope.yaml line 9: unknown key 'nam' in item; did you mean 'name'?",
        "- scope.yaml line 8: name is missing",
        "- scope.yaml line 11, item 10.010, area: '1,900 ft' is a length, not an area; "
        "write it in sf or a unit that converts to it",
    ]
    assert not target.exists()


def test_a_comma_within_braces_is_explained(tmp_path: Path) -> None:
    ran = groundsill("price", written(tmp_path, SCOPE.replace('"', "")))
    assert "within braces a comma ends the value: put the measure in quotes" in ran.err


def test_a_workbook_that_cannot_be_written_is_one_sentence(tmp_path: Path) -> None:
    ran = groundsill("price", written(tmp_path, SCOPE), "--xlsx", tmp_path / "no" / "e.xlsx")
    assert ran.exit_code == 1
    assert len(ran.err.splitlines()) == 2
    assert "Traceback" not in ran.err


def test_a_file_that_is_no_scope_is_one_sentence(tmp_path: Path) -> None:
    ran = groundsill("price", written(tmp_path, "x", "scope.txt"))
    assert ran.exit_code == 1
    assert ran.err.splitlines()[1] == "- 'scope.txt' is not a scope; give a .yaml or .xlsx file"


def test_wrong_usage_exits_with_2(tmp_path: Path) -> None:
    assert groundsill("price").exit_code == 2
    assert groundsill("price", tmp_path / "absent.yaml").exit_code == 2
    assert groundsill("price", written(tmp_path, SCOPE), "--on", "tomorrow").exit_code == 2


def test_the_template_prices_as_it_stands(tmp_path: Path) -> None:
    template = tmp_path / "scope.xlsx"
    assert groundsill("price", "--template", template).exit_code == 0
    ran = groundsill("price", template, "--json")
    assert ran.exit_code == 0, ran.err
    assert float(json.loads(ran.out)["totals"]["cash_cost"]) > 0


def test_hostile_words_are_shown_as_they_are(tmp_path: Path) -> None:
    name = '"[bold red]:skull: =1+1 \\u202e pit"'
    ran = groundsill("price", written(tmp_path, SCOPE.replace("name: Fabric", f"name: {name}")))
    assert ran.exit_code in (0, 1)
    if ran.exit_code == 0:
        assert "[bold red]:skull: =1+1" in ran.out
    else:
        assert "control characters" in ran.err


def test_each_caution_stands_once_under_who_decides(demo):
    shown = groundsill("price", "out/harrow-lane-carbarn.yaml", folder=demo).out
    said = shown[shown.index("\nCautions, by who decides") :]
    assert said.count("Licensed structural engineer:") == 1
    assert "Who decides" not in said
    assert (
        "- Forms and their bracing carry wet concrete: leave them until it has the\n"
        "  strength the drawing calls for. (40)\n"
    ) in said
    assert "the hose end when the pump starts or clears a plug; it whips.\n  (30, 40)\n" in said
