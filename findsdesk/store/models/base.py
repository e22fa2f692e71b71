"""What all tables share: named constraints, identifiers, moments as UTC milliseconds, versions."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any, ClassVar

from sqlalchemy import JSON, BigInteger, Dialect, Integer, MetaData, Text, TypeDecorator, event
from sqlalchemy.orm import DeclarativeBase, Mapped, declared_attr, mapped_column

from findsdesk.domain.natural_order import folded

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
"""SQLite can drop and rebuild only what has a name."""

ROWS_OF_IT = "rows of it"
"""In the ``info`` of an index over some rows only: which. Migrations alone read it: a condition given to the index
itself loads the library for both databases, 25 ms of every start."""

RowId = BigInteger().with_variant(Integer, "sqlite")


class Moment(TypeDecorator[datetime]):
    """An aware moment, kept as whole milliseconds UTC: the same number on both databases, sortable and comparable."""

    impl = BigInteger
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> int | None:
        """Turn an aware moment into milliseconds; a naive one is our mistake and raises ValueError."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment without a time zone cannot be stored")
        return round(value.timestamp() * 1000)

    def process_result_value(self, value: Any | None, dialect: Dialect) -> datetime | None:
        """Turn milliseconds into an aware moment in UTC."""
        return None if value is None else datetime.fromtimestamp(int(value) / 1000, UTC)


canonical: Callable[[Any], str] = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode
"""Return the one spelling of a JSON value: sorted keys, no spaces, letters as they are. The encoder is made once."""


class Canonical(TypeDecorator[dict[str, Any]]):
    """Plain values as a text in their one spelling, so that what is stored is what was hashed."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: dict[str, Any] | None, dialect: Dialect) -> str | None:
        """Spell values."""
        return None if value is None else canonical(value)

    def process_result_value(self, value: Any | None, dialect: Dialect) -> dict[str, Any] | None:
        """Read values."""
        return None if value is None else dict(json.loads(value))


class Base(DeclarativeBase):
    """The root of all tables."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        datetime: Moment(),
        dict[str, Any]: JSON(),
        list[str]: JSON(),
        list[dict[str, Any]]: JSON(),
    }


class Journaled:
    """A row whose every change becomes a line in the journal (store/journal.py)."""

    __abstract__ = True

    id: Mapped[int] = mapped_column(RowId, primary_key=True, autoincrement=False)


class Fact(Journaled):
    """A journaled row that is written once and never changed; a later one answers it (store/journal.py write_fact)."""

    __abstract__ = True


class Editable(Journaled):
    """A journaled row that people change: it has a version, and a change made from a stale version is refused."""

    __abstract__ = True

    version: Mapped[int]

    @declared_attr.directive
    def __mapper_args__(cls) -> dict[str, Any]:
        """Let each change by the ORM ask for the version it read and count it up."""
        return {"version_id_col": cls.version}


class Searched:
    """A row that registers search: what people look for in it, folded, in one column that an index covers."""

    __abstract__ = True

    SEARCHED: ClassVar[tuple[str, ...]]
    """The columns whose words are found."""

    search_text: Mapped[str] = mapped_column(default="")
    """Follows from other columns of the row, and so is no fact of its own in the journal."""

    def fold(self) -> None:
        """Write the folded words of the row as it is now."""
        said = (getattr(self, name) for name in self.SEARCHED)
        self.search_text = folded(" ".join(word for word in said if word))


@event.listens_for(Searched, "before_insert", propagate=True)
@event.listens_for(Searched, "before_update", propagate=True)
def _fold(_mapper: Any, _connection: Any, row: Searched) -> None:
    row.fold()
