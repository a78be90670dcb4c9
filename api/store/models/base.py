"""What all models have in common: names of constraints, checks, whose rows they are, versions."""

from __future__ import annotations

from typing import Any, ClassVar
from uuid import UUID, uuid4

from sqlalchemy import ForeignKey, MetaData, Table, Uuid
from sqlalchemy.orm import DeclarativeBase, Mapped, declared_attr, mapped_column

from api.store.columns import IntRange, column_checks

NAMES = {
    "pk": "pk_%(table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(referred_table_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}
CODE_LENGTH = 40
NAME_LENGTH = 200
NOTE_LENGTH = 4_000
HIGHEST_POSITION = 10**9


class Base(DeclarativeBase):
    """A table of the store.

    `is_audited` tells whether each change of a row has its own audit row. `is_part` tells that the
    row of a whole (an estimate, a version of rate tables) holds a digest over its parts, so that
    many can be written at once. `is_final` tells that rows are never changed or deleted. What a
    column's `info` marks as `by_digest` stands in the audit trail by its SHA-256.
    """

    metadata = MetaData(naming_convention=NAMES)
    is_audited: ClassVar[bool] = True
    is_part: ClassVar[bool] = False
    is_final: ClassVar[bool] = False

    def __init_subclass__(cls, **options: Any) -> None:
        super().__init_subclass__(**options)
        table = cls.__dict__.get("__table__")
        if table is not None:
            for column in table.columns:
                for check in column_checks(column):
                    table.append_constraint(check)


def table_of(model: type[Base]) -> Table:
    """Return the table of a model, for statements that no session limits."""
    assert isinstance(model.__table__, Table)
    return model.__table__


def table_words(name: str) -> str:
    """Return the name of a table as words for a message: `book entries`."""
    return name.replace("_", " ")


class WithId:
    """A row that is known by an id of its own."""

    id: Mapped[UUID] = mapped_column(Uuid(), primary_key=True, default=uuid4, sort_order=-4)


class OfAccount:
    """A row that belongs to one account and is never seen by another."""

    @declared_attr
    def account_id(cls) -> Mapped[UUID]:  # noqa: N805
        """Whose it is."""
        return mapped_column(Uuid(), ForeignKey("accounts.id"), sort_order=-3)


class Private(OfAccount):
    """A row of the account's own business, which no lender and no crew sees."""


class OfSite(OfAccount):
    """A row of the books, which a crew sees if the project is shared with them; no lender does."""

    @declared_attr
    def project_id(cls) -> Mapped[UUID]:  # noqa: N805
        """The project."""
        return mapped_column(Uuid(), sort_order=-2)


class ProjectHead(WithId, OfAccount):
    """A project itself, which a lender or a crew sees if it is shared with them."""


class OfProject(OfAccount):
    """A row of a project, which whoever the project is shared with sees, as far as routes go."""

    @declared_attr
    def project_id(cls) -> Mapped[UUID]:  # noqa: N805
        """The project."""
        return mapped_column(Uuid(), sort_order=-2)


class Editable:
    """A row that may be changed by whoever knows its version, which every change raises."""

    version: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION), sort_order=-1)

    @declared_attr.directive
    def __mapper_args__(cls) -> dict[str, Any]:  # noqa: N805
        return {"version_id_col": cls.version}
