from pathlib import Path

from tests.commands.running import groundsill


def test_a_line_is_explained_from_its_measures_to_its_cents(demo: Path) -> None:
    ran = groundsill(
        "explain", "out/harrow-lane-carbarn.yaml", "--item", "30.020", "--line", "4", folder=demo
    )
    said = " ".join(ran.out.split())
    assert (
        "62 ft 6 in * 22'-4\" * (average of 2 ft, 2 ft 6 in, 5 ft 6 in and 6 ft 6 in) * 1.3 ton/cy"
        in said
    )
    assert "waste of 3 % adds 8.73 tons: 299.82 tons" in said
    assert "308.00 tons x $24.80 per ton = $7,638.40" in said
    assert "quote, invented stone yard" in said
    assert "Competent person for confined spaces:" in said


def test_every_line_of_every_item_can_be_explained(demo: Path) -> None:
    import json

    said = json.loads((demo / "out" / "estimate.json").read_text(encoding="utf-8"))
    for item in [one["item"] for one in said["items"]][::7]:
        ran = groundsill("explain", "out/harrow-lane-carbarn.yaml", "--item", item, folder=demo)
        assert ran.exit_code == 0, ran.err
        for line in [x for x in said["lines"] if x["item"] == item]:
            assert f"{item}/{line['line']} " in ran.out
            amount = f"{float(line['amount']):,.2f}".replace("-", "")
            assert f"${amount}" in ran.out
        assert max(len(line) for line in ran.out.splitlines()) <= 80


def test_an_unknown_item_or_line_is_a_sentence(demo: Path) -> None:
    ran = groundsill("explain", "out/harrow-lane-carbarn.yaml", "--item", "30.02", folder=demo)
    assert (ran.exit_code, ran.out) == (1, "")
    assert "there is no item '30.02'; did you mean '30.020'?" in ran.err
    ran = groundsill(
        "explain", "out/harrow-lane-carbarn.yaml", "--item", "30.020", "--line", "9", folder=demo
    )
    assert "item 30.020 has no line 9; its lines are 1 to 6" in ran.err
