"""`groundsill price --risk`, as somebody uses it who has read only the help."""

import json
from pathlib import Path

import pytest

from tests.commands.running import groundsill

SCOPE = Path("out/harrow-lane-carbarn.yaml")


def price(demo, *arguments, columns=80):
    return groundsill("price", SCOPE, *arguments, folder=demo, columns=columns)


def test_it_tells_how_sure_the_estimate_is_after_the_estimate(demo):
    ran = price(demo, "--risk")
    told = " ".join(ran.out.split())
    assert ran.exit_code == 0
    assert ran.out.index("Full cost") < ran.out.index("Cost range, contingency and dates")
    assert "To be 80 % sure, add $52,389.67 to the estimate" in told
    assert "the chance that it is enough is 65 %" in told
    assert "50 % chance to finish by 2026-09-16, 80 % by 2026-09-25" in told
    assert "Sale of salvage, a source of money: $2,511.78; it is in no total here." in told
    assert ran.err == ""


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_it_fits_the_terminal(demo, columns):
    lines = price(demo, "--risk", columns=columns).out.splitlines()
    assert max(map(len, lines)) <= min(columns, 80)


def test_the_same_seed_prints_the_same_and_another_seed_something_near(demo):
    first, again, other = (price(demo, "--risk", "--json", "--seed", seed).out for seed in "778")
    assert first == again
    amounts = [float(json.loads(text)["risk"]["percentiles"]["P80"]) for text in (first, other)]
    assert amounts[0] != amounts[1]
    assert amounts[0] == pytest.approx(amounts[1], rel=0.01)


def test_another_confidence_can_be_requested(demo):
    ran = price(demo, "--risk", "--confidence", "0.95")
    assert "To be 95 % sure, add $70,902.80" in " ".join(ran.out.split())


def test_json_without_risk_says_nothing_of_it(demo):
    assert "risk" not in json.loads(price(demo, "--json").out)


def test_the_price_is_the_same_with_and_without(demo):
    plain, with_risk = (json.loads(price(demo, "--json", *a).out) for a in ((), ("--risk",)))
    with_risk.pop("risk")
    assert with_risk == plain


def test_a_chart_and_a_sheet_are_written(demo, tmp_path):
    svg, xlsx = tmp_path / "risk.svg", tmp_path / "estimate.xlsx"
    ran = price(demo, "--risk", "--chart", svg, "--xlsx", xlsx)
    assert ran.exit_code == 0
    assert svg.read_bytes().startswith(b"<?xml")
    assert xlsx.stat().st_size > 10_000


def test_where_one_file_cannot_be_written_none_is(demo, tmp_path):
    nowhere = tmp_path / "nowhere" / "estimate.xlsx"
    ran = price(demo, "--risk", "--chart", tmp_path / "risk.png", "--xlsx", nowhere)
    assert ran.exit_code == 1
    assert "nothing was changed" in ran.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--confidence", "1"), "confidence: 1.0 is not above 0 and below 1"),
        (("--confidence", "0"), "write 0.8 for 80 %"),
        (("--confidence", "nan"), "is not above 0 and below 1"),
        (("--seed", "-3"), "seed"),
        (("--chart", "nowhere/risk.png"), "nowhere"),
    ],
    ids=str,
)
def test_wrong_input_gets_a_sentence(demo, arguments, told):
    ran = price(demo, "--risk", *arguments)
    assert ran.exit_code == 1
    assert told in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(
    "arguments",
    [
        ("--confidence", "0.8"),
        ("--seed", "3"),
        ("--chart", "a.png"),
        ("--risk", "--chart", "a.pdf"),
    ],
    ids=str,
)
def test_a_wrong_call_is_a_usage_error(demo, arguments):
    assert price(demo, *arguments).exit_code == 2


def test_phases_that_wait_for_each_other_are_reported(demo, tmp_path):
    text = (demo / SCOPE).read_text()
    quotes = demo / "out" / "harrow-lane-quotes"
    (tmp_path / quotes.name).symlink_to(quotes)
    loop = tmp_path / "loop.yaml"
    loop.write_text(text.replace('after: ["05", "10.030"]', 'after: ["60"]', 1))
    ran = groundsill("price", loop, "--risk", folder=tmp_path)
    assert ran.exit_code == 1
    assert "waits for" in ran.err
