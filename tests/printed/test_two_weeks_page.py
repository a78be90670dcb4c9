"""Two weeks on paper: one page while it can be read, the same bytes, names as they stand."""

from datetime import date
from io import BytesIO

from pypdf import PdfReader

from estimator.printed.two_weeks_page import two_weeks_pdf
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.job_dates import job_schedule
from estimator.scheduling.two_weeks import look_ahead
from tests.factories import scope_with
from tests.scope.methods.choices import sample, shipped

DIGEST = "c7e3524538c1" + "0" * 52


def pdf_of(estimate, first=None):
    return two_weeks_pdf(look_ahead(estimate, job_schedule(estimate), first), DIGEST)


def pages(content):
    return [page.extract_text() for page in PdfReader(BytesIO(content)).pages]


def test_the_busiest_weeks_of_the_sample_are_one_page_with_their_cautions():
    scope, tables = sample()
    estimate = price(scope, tables, scope.on)
    (page,) = pages(pdf_of(estimate, date(2026, 6, 1)))
    words = " ".join(page.split())
    for part in (
        "Harrow Lane Carbarn: two weeks, 2026-06-01 to 2026-06-14",
        "Wed 2026-06-10", "30.060 ends: 1 laborer, 1 plate compactor",
        "Inspection: Panel of new mortar (preservation office).", "Call off: Plate compactor",
        "On rent: Mortar mixer", "To be here for 40.020: 5.5 cy Ready-mix concrete",
        "70.040 Weekly cleaning", "Upright bars that somebody could fall on are guarded.",
        "Estimate c7e3524538c1", "page 1 of 1",
    ):  # fmt: skip
        assert part in words, part
    assert pdf_of(estimate, date(2026, 6, 1)) == pdf_of(estimate, date(2026, 6, 1))


def test_more_than_a_page_holds_goes_on_on_the_next_and_no_name_is_cut():
    long = "=1+1 " + "Балка of the old north bay " * 15
    items = [
        {"code": f"{n:03d}", "name": f"{long}{n}", "after": [], "lump_sum": {
            "amount": "$90", "days": "12 day"}} for n in range(1, 60)
    ]  # fmt: skip
    scope = scope_with(shipped(), [{"code": "20", "name": "Phase", "items": items}])
    found = pages(pdf_of(price(scope, shipped(), date(2026, 4, 1))))
    assert len(found) > 1
    words = " ".join("".join(found).split())
    assert words.count("=1+1") == 59
    assert f"page 1 of {len(found)}" in words


def test_weeks_without_work_say_so():
    work = {"code": "010", "name": "Work", "lump_sum": {"amount": "$90", "days": "1 day"}}
    scope = scope_with(shipped(), [{"code": "20", "name": "Phase", "items": [work]}])
    (page,) = pages(pdf_of(price(scope, shipped(), date(2026, 4, 1)), date(2027, 4, 5)))
    assert "No work falls on these days." in page
