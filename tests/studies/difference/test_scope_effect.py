from decimal import Decimal

import pytest

from estimator.assemblies.tables import load_tables
from estimator.rates.folders import QUOTES
from estimator.scheduling.dated_estimate import price
from estimator.studies.difference.rates_difference import rates_difference
from estimator.studies.difference.rates_difference_json import rates_difference_fields
from estimator.studies.difference.scope_effect import AmountChange, scope_effect
from tests.factories import MADE, SPRING, item, scope_of, with_cells, with_rows, write_folder

ITEMS = {
    "20": [
        item("010", "stone-fill", length="60 ft", width="3 ft", depth="6 ft"),
        item("020", "slab-pour", area="400 sf", thickness="4 in"),
    ]
}


def estimates(path, tables_after):
    found = []
    for name, tables in (("made", MADE), ("other", tables_after)):
        loaded = load_tables([write_folder(path / name, tables, name)])
        found.append(price(scope_of(loaded, ITEMS), loaded, SPRING))
    return found


def test_the_same_tables_change_no_item(tmp_path):
    effect = scope_effect(*estimates(tmp_path, MADE))
    assert effect.items == ()
    assert effect.unchanged == 2
    assert all(total.rise == 0 for total in effect.totals)


def test_a_dearer_stone_raises_the_fill_alone(tmp_path):
    before, after = estimates(tmp_path, with_cells("resources", 5, rate="26.005"))
    effect = scope_effect(before, after)
    (change,) = effect.items
    assert (change.code, change.name) == ("20.010", "Work 010")
    ordered = before.lines[before.lines["resource"] == "stone"]["ordered"].iloc[0]
    assert change.rise == Decimal(str(ordered)) * 2
    assert change.rise > 0
    assert effect.unchanged == 1


def test_the_rises_of_the_items_add_up_to_that_of_the_totals(tmp_path):
    changed = with_cells("resources", 5, rate="26.005")
    rows = [dict(row) for row in changed["resources"]]
    rows[4]["rate"] = "139.50"
    before, after = estimates(tmp_path, MADE | {"resources": rows})
    effect = scope_effect(before, after)
    totals = {total.name: total for total in effect.totals}
    assert sum(one.rise for one in effect.items) == (
        totals["Direct cost"].rise + totals["Unpaid value (own labor and material)"].rise
    )
    assert totals["Full cost"].new == after.full_cost
    assert totals["Cash cost"].old == before.cash_cost


def test_a_markup_that_is_new_rises_from_nothing(tmp_path):
    bond = {"code": "surety", "name": "Surety", "order": "90", "sum": "500", "on": "all"}
    effect = scope_effect(*estimates(tmp_path, with_rows("markups", bond)))
    (total,) = [total for total in effect.totals if total.name == "Surety"]
    assert (total.old, total.new, total.rise_fraction) == (Decimal(0), Decimal(500), None)
    names = [total.name for total in effect.totals]
    assert names.index("Surety") < names.index("Cash cost")


def test_a_markup_that_went_falls_to_nothing_in_its_place(tmp_path):
    kept = MADE | {"markups": MADE["markups"][1:]}
    effect = scope_effect(*estimates(tmp_path, kept))
    gone = MADE["markups"][0]["name"]
    assert [total.name for total in effect.totals][:2] == ["Direct cost", gone]
    assert effect.totals[1].new == 0


def test_a_fall_is_a_negative_fraction_of_what_it_was():
    change = AmountChange("20.010", "Fill", Decimal("200.00"), Decimal("150.00"))
    assert (change.rise, change.rise_fraction) == (Decimal("-50.00"), Decimal("-0.25"))
    gain = AmountChange("20.020", "Planks sold", Decimal("-100.00"), Decimal("-120.00"))
    assert gain.rise_fraction == Decimal("-0.2")


def test_as_fields_the_amounts_are_strings(tmp_path):
    tables = with_cells("resources", 5, rate="26.005")
    before, after = estimates(tmp_path, tables)
    folders = [write_folder(tmp_path / "made", MADE)], [write_folder(tmp_path / "o", tables, "o")]
    fields = rates_difference_fields(rates_difference(*folders), scope_effect(before, after))
    (first,) = fields["scope"]["items"]
    assert first["code"] == "20.010"
    assert Decimal(first["new"]) - Decimal(first["old"]) == Decimal(first["rise"])
    assert fields["scope"]["unchanged"] == 1
    assert fields["scope"]["totals"][0]["name"] == "Direct cost"


def test_what_the_scopes_own_quotes_hide_on_both_sides_is_said(tmp_path):
    dearer = with_cells("resources", 5, rate="26.005")
    stone = next(row for row in MADE["resources"] if row["code"] == "stone")
    own = [{**stone, "rate": "24.00", "date": "2026-02-01"}]
    quotes = write_folder(tmp_path / "quotes", {"resources": own}, QUOTES)
    sets = [write_folder(tmp_path / name, rows, name) for name, rows in
            (("made", MADE), ("other", dearer))]  # fmt: skip
    priced = []
    for folder in sets:
        loaded = load_tables([folder, quotes])
        priced.append(price(scope_of(loaded, ITEMS), loaded, SPRING))
    compared = rates_difference(*([folder] for folder in sets))
    effect = scope_effect(*priced, compared.changes)
    assert effect.items == ()
    assert [one.key[0] for one in effect.hidden] == [own[0]["code"]]
    assert effect.statement == (
        f"The scope's own quotes come before both sets for {own[0]['code']}: what changed there "
        "changes no amount of this scope."
    )
    fields = rates_difference_fields(compared, effect)
    assert fields["scope"]["hidden_by_quotes"][0]["table"] == "resources.csv"


def test_without_quotes_nothing_is_hidden(tmp_path):
    before, after = estimates(tmp_path, with_cells("resources", 5, rate="26.005"))
    folders = [[write_folder(tmp_path / n, r, n)] for n, r in (("a", MADE), ("b", MADE))]
    effect = scope_effect(before, after, rates_difference(*folders).changes)
    assert (effect.hidden, effect.statement) == ((), "")


def own_rows(*stems):
    """Return rows of the made tables as the scope's own quotes have them."""
    rows = {stem: MADE[stem][:1] for stem in stems}
    if "crews" in stems:
        rows["crews"] = [row for row in MADE["crews"] if row["crew"] == "gang"]
    if "assemblies" in stems:
        keys = {"assembly_inputs": "assembly", "assembly_lines": "assembly"}
        rows |= {
            stem: [row for row in MADE[stem] if row[key] == "stone-fill"]
            for stem, key in keys.items()
        }
    return rows


@pytest.mark.parametrize(
    ("stem", "cells", "hidden"),
    [
        ("crews", {"number": "3"}, "gang"),
        ("markups", {"percent": "8"}, "tax"),
        ("assemblies", {"name": "Stone laid"}, "stone-fill"),
    ],
)
def test_own_crews_markups_and_assemblies_hide_what_changed_below_them(
    tmp_path, stem, cells, hidden
):
    sets = [write_folder(tmp_path / name, rows, name) for name, rows in
            (("made", MADE), ("other", with_cells(stem, 2, **cells)))]  # fmt: skip
    changes = rates_difference(*([folder] for folder in sets)).changes

    def hidden_by(*own):
        priced = []
        for folder in sets:
            loaded = load_tables([folder, write_folder(tmp_path / own[0], own_rows(*own), QUOTES)])
            priced.append(price(scope_of(loaded, ITEMS), loaded, SPRING))
        return [one.key[0] for one in scope_effect(*priced, changes).hidden]

    assert hidden_by(stem) == [hidden]
    assert hidden_by("resources") == []
