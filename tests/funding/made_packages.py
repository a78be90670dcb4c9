"""Draws with all that a package shows: stored, cut, credited, changed, in other scripts."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimator.funding.draw_decisions import Cut, granted
from estimator.funding.draw_package import DrawPackage
from estimator.funding.draw_papers import Evidence, Papers, Waiver
from estimator.funding.draw_requests import StoredPart
from estimator.funding.loan_balance import SOURCE, USE, BalanceLine, LoanBalance
from estimator.funding.loan_terms import BOTH, EVIDENCE
from estimator.funding.retainage import NEW_WORK, RetainageTerms
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldPoint, HoldResult
from tests.funding.made import after, bill, change, draw, loan, measured, moment, paid

DIGEST = "5f" * 32
FORMULA = '=HYPERLINK("http://example.org","pay here")'
LONG = "Steinbruch Łódź und Söhne, Gesellschaft für gebrochenen Stein am oberen Kanal " * 2
MAY = date(2026, 5, 20)
REDUCED = RetainageTerms(
    Decimal("0.10"), Decimal("0.05"), NEW_WORK, Decimal("0.5"), reduced_fraction=Decimal("0.05")
)
BALANCE = LoanBalance(
    date(2026, 5, 31),
    (
        BalanceLine(SOURCE, "Loan not drawn yet", 28_762_67, 28_762_67),
        BalanceLine(SOURCE, "less fees to be withheld", -350_00, -350_00),
        BalanceLine(USE, "Cost to complete", 26_000_01, 28_500_02),
        BalanceLine(USE, "Bills not paid", 1_234_56, 1_234_56),
    ),
)


def books() -> Books:
    """Two months: bills, a credit, stored stone, a change from the contingency, a hold passed."""
    hold = HoldPoint(30, MAY, moment(MAY), "30.010", "density of lift 1", "95 %", "engineer")
    return Books(
        costs=[
            bill(1, "20.010", 4_000_17),
            bill(2, "30.010", 6_000_05, vendor=LONG),
            bill(3, "40.010", 15_100_00, vendor=FORMULA, document="+1 (\\) ___"),
            bill(4, "overhead", 812_33),
            bill(10, "30.010", 9_000_00, day=MAY, vendor="採石場 Каменоломня"),
            bill(11, "30.010", -500_00, day=MAY, vendor=LONG, is_credit=True),
            bill(12, "20.010", 2_345_67, day=MAY),
        ],
        payments=[paid(20, 1, 4_000_17), paid(21, 2, 1_000_00), paid(22, 10, 9_000_00, MAY)],
        progress=[
            measured(5, "20.010", 37), measured(6, "30.010", 29), measured(7, "40.010", 100),
            measured(13, "20.010", 61, day=MAY), measured(14, "30.010", 74, day=MAY),
            measured(15, "30.010", 70, day=MAY, is_inspector=True),
        ],
        changes=[change(8, date(2026, 5, 2), {"30.010": 1_000_00, "contingency": -1_000_00})],
        holds=[hold, replace(hold, row=31, name="density of lift 2")],
        results=[HoldResult(32, MAY, moment(MAY), "30.010", "density of lift 1", True, "96.4 %")],
    )  # fmt: skip


def papers() -> Papers:
    """A waiver, papers that hold and expired, a picture of the hold."""
    pictures = Evidence(3, moment(MAY), "photographs", "west pit, lift 1", MAY, draw=2, row=30)
    return Papers(
        waivers=[Waiver(1, moment(MAY), "Quarry", 2, True, False, 1_00, MAY, "but for row 12")],
        evidence=[
            Evidence(1, moment(MAY), "insurance", "BR-1", MAY, expires=date(2026, 5, 25)),
            Evidence(2, moment(MAY), "permit", "B-7", MAY),
            pictures,
        ],
    )


def second(**terms) -> DrawPackage:
    """The second draw, granted with a cut; the first was funded short."""
    of = loan(evidence=EVIDENCE, waivers=BOTH, **terms)
    first = draw(books(), of=of, papers=papers())
    history, _ = after(first, short=0)
    stored = (StoredPart(10, "2", 2_000_00),)
    request = draw(
        books(), history, of, papers(), through=date(2026, 5, 31), stored=stored, left_out=(12,)
    )
    decided = granted(request, [Cut("2", 300_00, "stone not there")])
    decided = replace(decided, project="Barn & (old) Mill")
    return DrawPackage(decided, "granted", DIGEST, ("Granted; line 2 less $300.00",))


def reduced() -> DrawPackage:
    """The same with retainage that is reduced, of a sample, and with the balance of its loan."""
    package = second(retainage=REDUCED)
    project = "Barn (invented example)"
    request = replace(package.request, project=project)
    return replace(package, request=request, balance=BALANCE)


def first_open() -> DrawPackage:
    """The first draw while it is open."""
    return DrawPackage(draw(books(), of=loan(), papers=Papers()))
