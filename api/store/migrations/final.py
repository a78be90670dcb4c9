"""All triggers that stand at the newest step: what `verify` looks for and a copy puts back."""

from __future__ import annotations

from api.store.migrations.guards import (
    Guard,
    backup_guards,
    final_guards,
    published_version_guards,
)


def guards() -> list[Guard]:
    """Return the guards of everything that is final."""
    return [
        *final_guards("audit_rows", ("account_id", "number")),
        *published_version_guards(),
        *final_guards("estimates", ("id",), ("project_id", "number")),
        *final_guards(
            "estimate_lines", ("estimate_id", "position"), ("estimate_id", "item", "line")
        ),
        *final_guards("table_contents", ("account_id", "digest")),
        *final_guards("estimate_tables", ("estimate_id", "position")),
        *final_guards("accepted_estimates", ("id",), ("estimate_id",), ("project_id", "number")),
        *final_guards("estimate_studies", ("id",), ("estimate_id", "kind", "number")),
        *final_guards("book_entries", ("id",), ("project_id", "number")),
        *final_guards("ledger_movements", ("project_id", "number", "position")),
        *final_guards("document_contents", ("project_id", "digest")),
        *final_guards("documents", ("id",), ("project_id", "number")),
        *final_guards("loan_amendments", ("id",), ("project_id", "number")),
        *final_guards("paper_withdrawals", ("id",), ("project_id", "number")),
        *final_guards("loans", ("id",), ("project_id",)),
        *final_guards("draws", ("id",), ("project_id", "number", "issue")),
        *final_guards("draw_lines", ("draw_id", "line")),
        *final_guards("draw_backup", ("draw_id", "entry_id", "line", "cause")),
        *final_guards("draw_steps", ("id",), ("draw_id", "step")),
        *final_guards("loan_papers", ("id",), ("project_id", "number")),
        *backup_guards(),
    ]
