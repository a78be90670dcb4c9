"""Accounts with something in every table; all of it is invented."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID

from api.estimates.stored_estimates import (
    ReadyEstimate,
    accept,
    ready_estimate,
    store_estimate,
    store_study,
)
from api.ledger.documents.document_shapes import NewDocument
from api.ledger.documents.stored_documents import add_document, read_document
from api.ledger.plain_rows import plain_row
from api.ledger.rows import BookEntry
from api.ledger.stored_sums import store_movements
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.rates.rows import ProjectQuote, RateSet
from api.rates.stored_tables import publish, start_draft
from api.store.accounts import issue_token, open_account
from api.store.caller import Caller
from api.store.models import Base, ProjectShare
from api.store.store import Store
from api.store.submissions import StoredAnswer, Submission, answer_submission, claim_submission
from api.store.writing_session import WritingSession
from estimator.tracking.ledger_movements import movements
from estimator.tracking.payroll_week import HoursRow
from tests.api.store.made_draws import add_amendments, add_draws
from tests.api.store.made_project import AT, SPRING, project

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate

MADE = Path(__file__).parents[2] / "made"
NEVER_SEEN = UUID("00000000-0000-4000-8000-000000000000")
SAND = {"code": "sand", "name": "Sand", "kind": "material", "unit": "ton", "rate": "18.50"}
PEBBLES = {**SAND, "code": "pebbles", "rate": "21.25"}
CELLS = {"resources.csv": [SAND, PEBBLES]}


def phase(of: Project, code: str = "20") -> ProjectPhase:
    """Return a phase that is not kept yet."""
    return ProjectPhase(project_id=of.id, code=code, name=f"Phase {code}", position=1)


def piece(of: ProjectPhase, code: str = "010", **more: object) -> ProjectItem:
    """Return an item that is not kept yet."""
    return ProjectItem(
        **{
            "project_id": of.project_id,
            "phase_id": of.id,
            "code": code,
            "name": f"Work {code}",
            "assembly": "made-fill",
            "inputs": {"length": "62 ft 6 in", "depth": ["2 ft", "6 ft 3 in"]},
            "methods": None,
            "position": 1,
        }
        | more
    )


@cache
def made_ready() -> ReadyEstimate:
    """Return the made estimate ready to be kept."""
    return before_step_11(ready_estimate(priced(), "project: made\n", {"made": made_files()}))


def before_step_11(ready: ReadyEstimate) -> ReadyEstimate:
    """Return an estimate as it was kept before the step that added columns to it."""
    return replace(
        ready,
        columns=ready.columns
        | {
            "sales_cents": None,
            "rests_on": None,
            "planned_dates": None,
        },
    )


def priced() -> Estimate:
    """Return the estimate of a made scope.

    The library is imported here, so that processes that only write projects start at once.
    """
    from estimator.assemblies.tables import load_tables
    from estimator.rates.folders import TableFolder
    from estimator.scheduling.dated_estimate import price
    from tests.factories import MADE_FOLDER, item, scope_of

    tables = load_tables([TableFolder("made", MADE_FOLDER)])
    codes = sorted(tables.catalogue.assemblies)
    items = []
    for number, code in enumerate(codes, start=1):
        asked = {one.name: one for one in tables.catalogue.assemblies[code].inputs}
        inputs = {
            name: f"{one.least or 2} {one.unit.name}".removesuffix(" fraction")
            for name, one in asked.items()
            if one.is_required
        }
        items.append(item(f"{number:03d}", code, **inputs))
    return price(scope_of(tables, {"20": items}), tables, SPRING)


def made_files() -> Mapping[str, str]:
    """Return the texts of the made tables."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(MADE.glob("*.csv"))}


@dataclass(frozen=True)
class Made:
    """An account with something in every table."""

    caller: Caller
    token: str
    lender: Caller
    project_id: UUID
    unshared_id: UUID
    phase_id: UUID
    item_id: UUID
    estimate_id: UUID
    published_id: UUID
    draft_id: UUID

    def key_of(self, model: type[Base]) -> UUID:
        """Return the id of a row of the models that are asked for most."""
        return {
            "projects": self.project_id,
            "phases": self.phase_id,
            "items": self.item_id,
            "estimates": self.estimate_id,
            "rate_versions": self.published_id,
        }[model.__tablename__]


BILL, MADE_PDF = NewDocument(name="bill.pdf", entry=1), b"%PDF-1.4\n%%EOF\n"
WORKED = HoursRow(1, AT.date(), AT, "AB", "laborer", "20.010", Decimal(8), Decimal(20))


def book_entry(project_id: UUID) -> BookEntry:
    """Return the first row of the books of a project."""
    return BookEntry(
        project_id=project_id, number=1, kind="hours", happened=AT.date(), entered_at=AT,
        entered_by="owner", party="ab", document="", cents=16_000, notes=[],
        fields=plain_row(WORKED),
    )  # fmt: skip


def filled(
    store: Store,
    name: str = "Rail & Kiln",
    *,
    is_studied: bool = True,
    has_books: bool | None = None,
    has_draws: bool | None = None,
    has_documents: bool = True,
    has_amendments: bool = True,
) -> Made:
    """Fill an account and return it.

    Without studies, books and draws a step down has nothing to lose.
    """
    account = Caller(open_account(store, name, AT))
    with store.unit_of_work(account, AT) as work:
        owner, text = issue_token(work, "owner", "owner", AT + timedelta(days=90))
        lender, _ = issue_token(work, "bank", "lender", AT + timedelta(days=90))
        made = _fill(work, owner.id, lender.id, text, is_studied=is_studied)
        if is_studied if has_books is None else has_books:
            work.add(book_entry(made.project_id))
            store_movements(work, made.project_id, movements(WORKED))
        if has_draws is not False and (is_studied if has_books is None else has_books):
            add_draws(work, made.project_id, AT)
            if has_amendments:
                add_amendments(work, made.project_id, AT)
            if has_documents:
                add_document(work, made.project_id, read_document(BILL, MADE_PDF), 10**6)
        work.commit()
    sent = Submission(made.caller, "key-1", "POST /v1/projects", "0" * 64, AT)
    claim = claim_submission(store, sent)
    with store.unit_of_work(made.caller, AT) as work:
        answer_submission(work, claim, StoredAnswer(201, {"ETag": '"1"'}, b'{"name":"\xc3\xa9"}'))
        work.commit()
    return made


def _fill(
    work: WritingSession, owner_id: UUID, lender_id: UUID, text: str, *, is_studied: bool
) -> Made:
    rate_set = RateSet(name="Valley", created_at=AT)
    work.add(rate_set)
    published = start_draft(work, rate_set, CELLS, "first")
    publish(work, published)
    draft = start_draft(work, rate_set, {"resources.csv": [SAND]}, "second")
    barn = project(rate_set_id=rate_set.id, markups=["overhead"], assumptions=["Dry pits."])
    shed = project("Shed")
    work.add_all([barn, shed])
    pits = phase(barn)
    work.add(pits)
    stone = piece(pits)
    work.add(stone)
    work.add(
        ProjectQuote(
            project_id=barn.id, file="resources.csv", row_key="sand", cells=SAND, position=0
        )
    )
    work.add(ProjectShare(project_id=barn.id, token_id=lender_id, created_at=AT))
    estimate = store_estimate(work, barn, made_ready())
    accept(work, estimate)
    if is_studied:
        store_study(work, estimate, "ranges", {"confidence": "0.8"}, '{"risk": {}}\n')
    account_id = work.caller.account_id
    return Made(
        caller=Caller(account_id, "owner", owner_id),
        token=text,
        lender=Caller(account_id, "lender", lender_id),
        project_id=barn.id,
        unshared_id=shed.id,
        phase_id=pits.id,
        item_id=stone.id,
        estimate_id=estimate.id,
        published_id=published.id,
        draft_id=draft.id,
    )
