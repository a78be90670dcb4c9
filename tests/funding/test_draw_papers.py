"""Papers of a draw: what is there, missing or expired; which waivers are due, and from whom."""

from dataclasses import replace
from datetime import date

from estimator.funding.draw_papers import Evidence, Papers, Waiver
from estimator.funding.draw_requests import StoredPart
from estimator.funding.loan_terms import EVIDENCE
from estimator.tracking.books import Books
from estimator.tracking.ledger_rows import PayrollPart
from tests.funding.made import NOW, after, bill, draw, loan, measured

MAY = date(2026, 5, 31)
BOOKS = Books(
    costs=[
        bill(1, "30.010", 3_000_00),
        bill(2, "30.010", 500_00, vendor="City"),
        bill(3, "30.010", 700_00, vendor="AB", payroll=PayrollPart((1,), 600_00, 0, 50_00, 50_00)),
        bill(4, "30.010", 900_00, date(2026, 5, 9), vendor="Haulers"),
    ],
    progress=[measured(5, "30.010", 90)],
)
BOTH = loan(waivers="both", no_waiver_from=("CITY",))


def due(request):
    return [
        (one.payee, one.draw, one.is_conditional, one.cents, one.state) for one in request.waivers
    ]


def waiver(number, payee, draw_number, conditional, cents, note=""):
    return Waiver(number, NOW, payee, draw_number, conditional, False, cents, MAY, note)


def test_a_waiver_is_due_of_each_vendor_and_the_unconditional_one_with_the_next_draw():
    first = draw(BOOKS, of=BOTH)
    assert due(first) == [
        ("Quarry", 1, True, 3_000_00, "missing"),
        ("City", 1, True, 500_00, "gives none"),
    ]
    history, _ = after(first)
    papers = Papers(waivers=[waiver(1, "haulers", 2, True, 800_00, "less extra")])
    second = draw(BOOKS, history, BOTH, papers, through=MAY)
    assert due(second) == [
        ("Haulers", 2, True, 900_00, "received"),
        ("Quarry", 1, False, 3_000_00, "missing"),
        ("City", 1, False, 500_00, "gives none"),
    ]
    assert second.waivers[0].note == "less extra; it is for $800.00"
    conditional = loan(waivers="conditional")
    assert [one.draw for one in draw(BOOKS, history, conditional, through=MAY).waivers] == [2]


def test_an_unconditional_waiver_serves_for_a_conditional_one_and_not_the_other_way():
    papers = Papers(waivers=[waiver(1, "Quarry", 1, False, 3_000_00)])
    assert due(draw(BOOKS, of=BOTH, papers=papers))[0][4] == "received"
    history, _ = after(draw(BOOKS, of=BOTH))
    papers = Papers(waivers=[waiver(1, "Quarry", 1, True, 3_000_00)])
    assert due(draw(BOOKS, history, BOTH, papers, through=MAY))[1][4] == "missing"


def test_each_paper_is_there_missing_or_expired_on_the_day_of_the_draw():
    terms = replace(BOTH, terms=replace(BOTH.terms, evidence=EVIDENCE))
    papers = Papers(
        evidence=[
            Evidence(1, NOW, "insurance", "policy", date(2026, 1, 1), date(2026, 4, 29)),
            Evidence(2, NOW, "permit", "B-114", date(2026, 1, 1)),
            Evidence(3, NOW, "title date-down", "of March", date(2026, 3, 31), draw=7),
            Evidence(4, NOW, "bill of sale", "S-1", date(2026, 4, 9), row=1),
        ]
    )
    request = draw(BOOKS, of=terms, papers=papers, stored=(StoredPart(1, "", 100_00),))
    assert [(one.kind, one.state, one.note) for one in request.evidence] == [
        ("insurance", "expired", "policy"),
        ("permit", "there", "B-114"),
        ("title date-down", "missing", ""),
        ("photographs", "missing", ""),
        ("bill of sale", "there", "row 1, on site: S-1"),
    ]
