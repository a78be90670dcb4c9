"""Crews: who works together, and what is said of a member that cannot."""

from decimal import Decimal

import pytest

from estimator.errors import Faults
from estimator.production.crews import read_crews
from estimator.rates.resources import read_resources
from tests.factories import MADE, faults_in, with_rows, write_folder


def crews_of(*folders):
    faults = Faults()
    crews = read_crews(folders, read_resources(folders, faults), faults)
    assert not faults.entries
    return crews


def test_a_crew_has_its_members_in_the_order_of_the_table(tmp_path):
    crews = crews_of(write_folder(tmp_path / "made", MADE))
    gang = crews["gang"].members
    assert [(one.resource, one.number, one.order_multiple, one.ordered_per) for one in gang] == [
        ("laborer", Decimal(2), None, "item"),
        ("loader", Decimal(1), Decimal(1), "phase"),
    ]
    assert set(crews) == {"gang", "solo"}


def test_half_of_a_hand_can_be_a_member(tmp_path):
    tables = with_rows("crews", {"crew": "watch", "resource": "laborer", "number": "0.5"})
    crews = crews_of(write_folder(tmp_path / "made", tables))
    assert crews["watch"].members[0].number == Decimal("0.5")


def test_a_higher_set_replaces_a_crew_whole_and_leaves_the_others(tmp_path):
    own = {"crews": [{"crew": "gang", "resource": "owner-hand", "number": "3"}]}
    crews = crews_of(
        write_folder(tmp_path / "made", MADE, "shipped"), write_folder(tmp_path / "own", own, "own")
    )
    assert [member.resource for member in crews["gang"].members] == ["owner-hand"]
    assert [member.resource for member in crews["solo"].members] == ["owner-hand"]
    assert str(crews["gang"].members[0].origin) == "own crews.csv row 2"


@pytest.mark.parametrize(
    ("cells", "faults"),
    [
        ({"crew": "The Gang"}, ["crew 'The Gang' is not a code; "
                                "write lower-case words joined by hyphens"]),
        ({"resource": ""}, ["resource is missing"]),
        ({"resource": "labourer"}, ["unknown resource 'labourer'; did you mean 'laborer'?"]),
        ({"resource": "stone"}, ["resource 'stone' is priced per ton; "
                                 "a crew member is priced per hr, day, week or month"]),
        ({"number": ""}, ["number is missing"]),
        ({"number": "0"}, ["number is zero; take the member out, or write how many work"]),
        ({"number": "two"}, ["number 'two' is not a plain number; write it as 1234.50"]),
        ({"number": "0.1234"}, ["number '0.1234' has more than 3 decimals"]),
        ({"order_multiple": "0"}, ["order_multiple is zero; "
                                   "leave it empty where any quantity can be bought"]),
        ({"ordered_per": "week"}, ["ordered_per 'week' is not known; write item or phase"]),
        ({"ordered_per": "phase"}, ["is ordered per phase without an order multiple; "
                                    "write one, or item"]),
        ({"source": ""}, ["source is missing"]),
        ({"crew": "solo", "resource": "owner-hand"}, ["repeats member 'owner-hand' of row 4"]),
    ],
)  # fmt: skip
def test_a_faulty_member_is_reported_by_its_row(tmp_path, cells, faults):
    member = {"crew": "new", "resource": "laborer", "number": "1"} | cells
    assert faults_in(tmp_path, with_rows("crews", member)) == [
        f"made crews.csv row 5: {fault}" for fault in faults
    ]


def test_a_row_that_repeats_many_is_one_fault(tmp_path):
    member = {"crew": "new", "resource": "laborer", "number": "1"}
    assert faults_in(tmp_path, with_rows("crews", *[member] * 31)) == [
        f"made crews.csv row {row}: repeats member 'laborer' of row 5" for row in range(6, 36)
    ]
