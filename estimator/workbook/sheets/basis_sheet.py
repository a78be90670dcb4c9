"""The last sheet: what the estimate was priced with, its digests, how figures are rounded."""

from __future__ import annotations

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Basis"
COLUMNS = (Column("", 34), Column("", 88))
NOTE = "What the estimate was priced with, and how its figures are rounded."
ROUNDING = (
    (
        "Quantities",
        "Rounded once, half-up, to the decimals of their unit (listed below). What is ordered is "
        "never rounded down: whole loads, half yards and whole blades go up to the next.",
    ),
    ("Rates", "Exact, with up to four decimals; never rounded."),
    (
        "Amounts",
        "Ordered quantity times rate, rounded half-up to the cent on each line: 4.619 at $33.60 is "
        "155.1984 and prints as $155.20.",
    ),
    (
        "Sums",
        "Sums of the printed cents: add up a page with a pocket calculator and you get the same.",
    ),
    (
        "Markups",
        "Percent times its base, in the order listed, each rounded half-up to the cent.",
    ),
    (
        "Unpaid value",
        "The owner's own labor and material, counted beside the cash and never part of it: "
        "no markup, draw or credit.",
    ),
)
UNIT_WORDS = {
    "$": "dollar", "bf": "board foot, 1/12 of a cubic foot of lumber", "cf": "cubic foot",
    "cwt": "hundred pounds", "cy": "cubic yard", "day": "day on the calendar", "ea": "each",
    "ft": "foot", "gal": "gallon", "hr": "hour of work", "in": "inch", "kg": "kilogram",
    "lb": "pound", "lf": "running foot", "ls": "lump sum", "mbf": "thousand board feet",
    "month": "four weeks, as rentals are billed", "sf": "square foot", "sq in": "square inch",
    "square": "100 square feet of roof", "sy": "square yard", "ton": "2,000 pounds",
    "tonne": "1,000 kilograms", "week": "seven days", "yd": "yard",
}  # fmt: skip


def write_basis(book: Book, estimate: PrintedEstimate, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.across(TITLE, "title")
    pen.across(NOTE)
    _basis(pen, estimate)
    pen.section("How figures are rounded", ("Figure", "Rule"))
    for figure, rule in ROUNDING:
        _row(pen, figure, rule)
    _decimals(pen, estimate)
    pen.finish(page)


def _row(pen: SheetPen, first: str, second: str) -> None:
    pen.text(1, first)
    pen.text(2, second)
    pen.down()


def _basis(pen: SheetPen, estimate: PrintedEstimate) -> None:
    pen.section("What it was priced with", ("Basis", "Value"))
    _row(pen, "Project", estimate.project)
    _row(pen, "Pricing date", estimate.on.isoformat())
    _row(pen, "Working day", estimate.shift)
    _row(pen, "Rate tables, lowest first", ", ".join(estimate.sets))
    _row(pen, "Digest of the rate tables", estimate.tables_digest)
    _row(pen, "Digest of the scope", estimate.scope_digest)
    _row(pen, "Digest of the estimate", estimate.digest)
    _row(pen, "Digest of the cost lines", estimate.lines_digest)


def _decimals(pen: SheetPen, estimate: PrintedEstimate) -> None:
    pen.section("Units in use, and the decimals they print with", ("Unit", "Meaning"))
    for name, decimals in estimate.decimals.items():
        meaning = f"{UNIT_WORDS.get(name, name)}; "
        _row(pen, name, f"{meaning}a quantity prints as {1234.5678:,.{decimals}f}")
