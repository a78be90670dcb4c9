"""The formulas of a printed estimate, worked out by LibreOffice, give the estimate's own cents."""

from pathlib import Path

import pytest

from estimator.pricing import summaries
from estimator.pricing.estimate import Estimate
from estimator.workbook.estimate_workbook import write_estimate
from tests.factories import MADE
from tests.workbook.estimates import sample_estimate, sample_tables, small_estimate, with_rates
from tests.workbook.spreadsheet import Rows, all_recalculated, cents, row_of, shown

RATE_NO, CASH, OWN, SALE = 9, 10, 11, 12
ITEM_CASH, ITEM_OWN = 5, 6
PERCENT, BASE, AMOUNT = 1, 2, 3

# Quantities with two decimals at these rates come to many exact half cents.
TIE_HEAVY = ["1.005", "2.675", "0.125", "33.335", "141.125", "0.0050", "8.345", "19.995", "0.5"]

Written = tuple[Estimate, dict[str, Rows]]


@pytest.fixture(scope="module")
def all_written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Written]:
    """Return estimates, and what another program, started once, makes of their workbooks."""
    folder = tmp_path_factory.mktemp("estimates")
    unpaid = [row | {"paid": "no"} for row in MADE["resources"]]
    estimates = {
        "sample": sample_estimate(),
        "ties": sample_estimate(with_rates(sample_tables(), TIE_HEAVY)),
        "small": small_estimate(folder / "small"),
        "own work": small_estimate(folder / "own", MADE | {"resources": unpaid}),
        "no markups": small_estimate(folder / "bare", markups=[]),
    }
    books = {}
    for name, estimate in estimates.items():
        books[name] = folder / f"{name}.xlsx", {}
        write_estimate(estimate, books[name][0])
    # 24 tons of stone, and 3.33 hours of the owner's, each cost a dollar and ten dollars more.
    dearer = {("Rates", "E8"): 25.005, ("Rates", "E6"): 31.50}
    sheets = all_recalculated(books | {"dearer": (books["small"][0], dearer)}, folder)
    return {name: (estimates.get(name, estimates["small"]), sheets[name]) for name in sheets}


@pytest.fixture
def sample(all_written: dict[str, Written]) -> Written:
    return all_written["sample"]


@pytest.fixture
def ties(all_written: dict[str, Written]) -> Written:
    return all_written["ties"]


def line_amounts(sheets: dict[str, Rows], column: int) -> dict[str, int]:
    """Return what the lines show, by code and number; they alone have a rate."""
    lines = [row for row in sheets["Cost lines"] if isinstance(row[RATE_NO], int)]
    return {row[0]: cents(row[column]) for row in lines}


def assert_lines_agree(estimate: Estimate, sheets: dict[str, Rows]) -> None:
    lines = estimate.lines
    codes = [f"{item}/{n}" for item, n in zip(lines["item"], lines["line"], strict=True)]
    cash = lines["cents"].where(lines["paid"], 0).tolist()
    is_sale = lines["kind"] == "salvage"
    own = lines["cents"].where(~lines["paid"] & ~is_sale, 0).tolist()
    assert line_amounts(sheets, CASH) == dict(zip(codes, cash, strict=True))
    assert line_amounts(sheets, OWN) == dict(zip(codes, own, strict=True))


def test_every_line_comes_to_the_same_cents(sample: Written) -> None:
    assert_lines_agree(*sample)


def test_half_cents_round_as_ours_do(ties: Written) -> None:
    estimate, sheets = ties
    lines = estimate.priced.lines
    scale = 10 ** (lines.decimals + 2)
    scaled_rates = [int(lines.rates[kind].rate * 10_000) for kind in lines.kind_of_line]
    halves = sum(
        quantity * rate % part == part // 2
        for quantity, rate, part in zip(
            lines.ordered.tolist(), scaled_rates, scale.tolist(), strict=True
        )
    )
    assert halves > 40
    assert_lines_agree(estimate, sheets)


@pytest.mark.parametrize("which", ["sample", "ties"])
def test_items_phases_and_their_totals_come_to_the_same_cents(
    which: str, request: pytest.FixtureRequest
) -> None:
    estimate, sheets = request.getfixturevalue(which)
    rows = sheets["Items"]
    for item in estimate.items.itertuples():
        row = row_of(rows, item.item)
        assert (cents(row[ITEM_CASH]), cents(row[ITEM_OWN])) == (item.cash_cents, item.own_cents)
    cash, own = summaries.cash_by_phase(estimate), summaries.own_by_phase(estimate)
    for phase in cash:
        row = row_of(rows, f"Phase {phase}, subtotal", 1)
        assert cents(row[ITEM_CASH]) == cash[phase] * 100
        assert cents(row[ITEM_OWN]) == own[phase] * 100
    total = row_of(rows, "All phases: direct cost", 1)
    assert cents(total[ITEM_CASH]) == estimate.direct_cost * 100
    assert cents(total[ITEM_OWN]) == estimate.own_value * 100


@pytest.mark.parametrize("which", ["sample", "ties"])
def test_kinds_markups_credit_and_totals_come_to_the_same_cents(
    which: str, request: pytest.FixtureRequest
) -> None:
    estimate, sheets = request.getfixturevalue(which)
    rows = sheets["Summary"]
    for kind, amount in summaries.cash_by_kind(estimate).items():
        assert cents(row_of(rows, kind)[AMOUNT]) == amount * 100
    for one in estimate.markups:
        row = row_of(rows, one.markup.name)
        assert cents(row[AMOUNT]) == one.amount_cents
        assert row[BASE] is None or cents(row[BASE]) == one.base_cents
    labels = ("Yes, normally counts", "No, normally does not", "Ask")
    for label, amount in zip(labels, summaries.cash_by_credit(estimate).values(), strict=True):
        assert cents(row_of(rows, label)[AMOUNT]) == amount * 100
    assert cents(row_of(rows, "Direct cost")[AMOUNT]) == estimate.direct_cost * 100
    assert cents(row_of(rows, "Cash cost")[AMOUNT]) == estimate.cash_cost * 100
    assert cents(row_of(rows, "Full cost")[AMOUNT]) == estimate.full_cost * 100


def test_the_shares_of_kinds_and_of_phases_add_up_to_the_whole(sample: Written) -> None:
    estimate, sheets = sample
    rows = sheets["Summary"]
    kinds = [row_of(rows, kind)[PERCENT] for kind in summaries.cash_by_kind(estimate)]
    phases = [row_of(rows, f"{one.code} {one.name}")[PERCENT] for one in estimate.scope.phases]
    assert sum(kinds) == pytest.approx(1)
    assert sum(phases) == pytest.approx(1)


def test_values_shown_without_recalculating_are_the_recalculated_ones(
    sample: Written, tmp_path: Path
) -> None:
    estimate, sheets = sample
    write_estimate(estimate, tmp_path / "estimate.xlsx")
    for title, rows in shown(tmp_path / "estimate.xlsx").items():
        numbers = [v for row in rows for v in row if isinstance(v, int | float)]
        again = [v for row in sheets[title] for v in row if isinstance(v, int | float)]
        assert numbers == pytest.approx(again, abs=1e-9), title


def test_a_changed_rate_moves_line_item_markups_and_total(all_written: dict[str, Written]) -> None:
    (_, before), (_, after) = all_written["small"], all_written["dearer"]
    assert line_of(before, "20.010/3") == (57612, 0)  # 24.00 x 24.005
    assert line_of(after, "20.010/3") == (60012, 0)  # 24.00 x 25.005
    assert line_of(after, "30.020/1") == (0, 10490)  # 3.33 x 31.50 = 104.895
    assert totals_of(before) == {
        "Direct cost": 213353,
        "Tax": 12404,  # 7.25 % of 1,710.86 = 124.03735
        "Overhead": 21335,  # 10 % of 2,133.53 = 213.353
        "Bond": 50000,
        "Profit": 18775,  # 8 % of 2,346.88 = 187.7504
        "Cash cost": 315867,
        "Unpaid value (own labor and material)": 7160,
        "Full cost": 323027,
    }
    assert totals_of(after) == {
        "Direct cost": 215753,
        "Tax": 12578,  # 7.25 % of 1,734.86 = 125.77735
        "Overhead": 21575,  # 10 % of 2,157.53 = 215.753
        "Bond": 50000,
        "Profit": 18986,  # 8 % of 2,373.28 = 189.8624
        "Cash cost": 318892,
        "Unpaid value (own labor and material)": 10490,
        "Full cost": 329382,
    }


def line_of(sheets: dict[str, Rows], code: str) -> tuple[int, int]:
    row = row_of(sheets["Cost lines"], code)
    return cents(row[CASH]), cents(row[OWN])


def totals_of(sheets: dict[str, Rows]) -> dict[str, int]:
    rows = sheets["Summary"]
    first = rows.index(row_of(rows, "Direct cost"))
    return {str(row[0]): cents(row[AMOUNT]) for row in rows[first : first + 8]}


def test_a_sale_of_salvage_stands_apart_and_reduces_no_cost(
    all_written: dict[str, Written],
) -> None:
    _, sheets = all_written["small"]
    assert line_of(sheets, "30.020/4") == (0, 0)
    row = row_of(sheets["Cost lines"], "30.020/4")
    assert cents(row[SALE]) == 20708  # 165.0 x 1.255 = 207.075
    sales = row_of(sheets["Summary"], "Sale of salvage, a source of money")
    assert cents(sales[AMOUNT]) == 20708
    assert "salvage" not in [row[0] for row in sheets["Summary"]]


def test_a_job_that_is_all_own_work_costs_no_cash_but_its_markups_in_sums(
    all_written: dict[str, Written],
) -> None:
    _, sheets = all_written["own work"]
    assert totals_of(sheets) == {
        "Direct cost": 0,
        "Tax": 0,
        "Overhead": 0,
        "Bond": 50000,
        "Profit": 0,
        "Cash cost": 50000,
        "Unpaid value (own labor and material)": 220513,  # 2,133.53 paid and 71.60 unpaid
        "Full cost": 270513,
    }


def test_without_markups_the_cash_cost_is_the_direct_cost(
    all_written: dict[str, Written],
) -> None:
    rows = all_written["no markups"][1]["Summary"]
    assert cents(row_of(rows, "Cash cost")[AMOUNT]) == 213353
    assert "Tax" not in [row[0] for row in rows]


def test_a_line_names_the_number_of_its_rate(sample: Written) -> None:
    _, sheets = sample
    rates = {row[0]: row[1] for row in sheets["Rates"] if isinstance(row[0], int)}
    lines = [row for row in sheets["Cost lines"] if isinstance(row[RATE_NO], int)]
    assert len(lines) == 305
    assert all(rates[row[RATE_NO]] == row[1] for row in lines)
