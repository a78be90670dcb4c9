"""Papers of the credit's file: what holds, what they cover, and what may be posted."""

from datetime import date

import pytest

from estimator.errors import LedgerFaulty
from estimator.tracking.credit_papers import (
    Approval,
    CreditAnswer,
    check_approval,
    check_credit_answer,
    standing_approvals,
)
from tests.tracking.rows import MONDAY, at, cost

STONE = ("20.010", "material")


def paper(kind, state, name="", codes=(), row=1):
    return Approval(row, MONDAY, at(MONDAY), kind, state, name, codes)


def answer(code="", **more):
    fields = {"cost": 7, "answer": "yes", "reason": "structural", "decides": "tax adviser"} | more
    return CreditAnswer(1, MONDAY, at(MONDAY), code=code, **fields)


def faults_of(check, *of):
    with pytest.raises(LedgerFaulty) as refused:
        check(*of)
    return [(one.where, one.what) for one in refused.value.faults]


@pytest.mark.parametrize(
    ("state", "holds"),
    [("submitted", False), ("denied", False), ("approved", True),
     ("approved with conditions", True), ("on file", True)],
)  # fmt: skip
def test_a_paper_holds_once_it_is_approved_or_on_file(state, holds):
    assert paper("part 2", state).holds is holds


def test_a_paper_covers_its_codes_and_phases_and_without_any_all_of_the_work():
    own = paper("amendment", "approved", "2", ("20", "30.010"))
    assert [own.covers(code) for code in ("20.010", "30.010", "30.020")] == [True, True, False]
    assert paper("part 2", "approved").covers("30.020")
    assert (own.title, paper("part 2", "approved").title) == ("amendment 2", "part 2")


def test_of_one_kind_and_name_the_last_row_stands():
    rows = [paper("amendment", "submitted", "1"), paper("amendment", "submitted", "2", row=2),
            paper("amendment", "denied", "1", row=3)]  # fmt: skip
    assert [(one.name, one.state) for one in standing_approvals(rows)] == [
        ("1", "denied"), ("2", "submitted"),
    ]  # fmt: skip


def test_photographs_are_on_file_and_a_paper_is_not():
    check_approval(paper("photographs before", "on file"), (), MONDAY)
    check_approval(paper("part 1", "approved", codes=("20",)), ("20",), MONDAY)
    assert faults_of(check_approval, paper("part 1", "on file"), (), MONDAY) == [
        ("state", "part 1 cannot be 'on file'")
    ]
    photographs = paper("photographs after", "approved", codes=("20", "21"))
    assert faults_of(check_approval, photographs, ("20",), date(2026, 5, 3)) == [
        ("happened", "2026-05-04 is in the future"),
        ("state", "photographs after cannot be 'approved'"),
        ("codes", "there is no cost code or phase '21'"),
    ]


def test_an_answer_is_about_a_cost_that_stands_and_a_code_that_it_has():
    bill = cost(7, (*STONE, 100, 0))
    for code in ("", "20.010"):
        check_credit_answer(answer(code), bill, MONDAY)
    assert faults_of(check_credit_answer, answer("30.010"), bill, MONDAY) == [
        ("code", "row 7 has nothing on '30.010'")
    ]
    assert faults_of(check_credit_answer, answer(), None, MONDAY) == [
        ("cost", "there is no cost in row 7")
    ]
    taken_back = cost(7, (*STONE, -100, 0), reverses=3)
    assert faults_of(check_credit_answer, answer("30.010"), taken_back, MONDAY) == [
        ("cost", "row 7 takes back row 3")
    ]
