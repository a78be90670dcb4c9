"""The title block: four texts of a scope that the printed estimate carries in every form."""

from io import BytesIO

import pytest
from openpyxl import load_workbook

from estimator.errors import ScopeFaulty
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from estimator.scope.scope_reader import read_scope
from estimator.scope.title_block import NO_TITLE, TitleBlock
from estimator.workbook.estimate_workbook import estimate_bytes
from estimator.workbook.scope.scope_reader import read_scope_workbook
from estimator.workbook.scope.scope_template import scope_bytes
from tests.factories import SPRING, item, located, scope_with
from tests.scope.methods.choices import shipped

STATED = {
    "address": "14 Harrow Lane", "prepared_for": "Kiln Cooperative", "prepared_by": "the owner",
    "revision": "B",
}  # fmt: skip
FLOOR = {"code": "20", "name": "Floor", "items": [item("010", "plank-floor-wreck", area="90 sf")]}


def scope(**head):
    return scope_with(shipped(), [FLOOR], **head)


def test_what_is_stated_is_read_and_what_is_not_is_empty():
    assert scope(**STATED).title_block == TitleBlock(
        "14 Harrow Lane", "Kiln Cooperative", "the owner", "B"
    )
    assert scope(revision="B").title_block == TitleBlock(revision="B")
    assert scope().title_block == NO_TITLE


def test_each_text_counts_in_the_digest_of_the_scope():
    digests = {scope_digest(scope(**{key: text})) for key, text in STATED.items()}
    assert len(digests | {scope_digest(scope())}) == 5


def test_all_faults_of_it_come_together():
    wrong = {"address": ["a", "b"], "prepared_by": "x" * 501, "revision": "\u0007", "version": "B"}
    with pytest.raises(ScopeFaulty) as faulty:
        scope(**wrong)
    assert [fault.what for fault in faulty.value.faults] == [
        "unknown key 'version' in scope",
        "address is not a single text",
        "prepared_by is longer than 500 characters",
        "revision has control characters",
    ]


def test_json_carries_what_is_stated_and_gives_it_back():
    estimate = price(scope(**STATED), shipped(), SPRING)
    assert estimate_from_json(estimate_json(estimate)) == printed_estimate(estimate)
    assert '"title_block": {}' in estimate_json(price(scope(), shipped(), SPRING))


def test_it_stands_under_the_name_of_the_project_on_the_summary():
    content = estimate_bytes(price(scope(**STATED), shipped(), SPRING))
    column = [cell.value for cell in load_workbook(BytesIO(content))["Summary"]["A"]]
    assert column[1:5] == [
        "Address: 14 Harrow Lane", "Prepared for: Kiln Cooperative", "Prepared by: the owner",
        "Revision: B",
    ]  # fmt: skip


def test_a_scope_workbook_takes_it_there_and_back():
    written = located({"project": "Test barn", "phases": [FLOOR], **STATED})
    content = scope_bytes(written, shipped())
    read = read_scope(read_scope_workbook(content, "barn.xlsx"), shipped())
    assert read.title_block == TitleBlock(**STATED)
    assert scope_digest(read) == scope_digest(scope(**STATED))
