"""Registers as somebody set them out: narrowed, sorted, with the columns that are wanted, under a name."""

from typing import Any

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, Editable


class SavedView(Editable, Base):
    """One way to look at a register, for everybody who works in the store."""

    __tablename__ = "saved_view"
    __table_args__ = (UniqueConstraint("register", "name"),)

    register: Mapped[str]
    name: Mapped[str]
    search: Mapped[str] = mapped_column(default="")
    """The words that are searched for."""
    filters: Mapped[list[dict[str, Any]]] = mapped_column(default=list)
    """Each with name and value, as the register's filters take them."""
    sort: Mapped[str] = mapped_column(default="")
    descending: Mapped[bool] = mapped_column(default=False)
    columns: Mapped[list[str]] = mapped_column(default=list)
    """The keys of the columns in their order; empty for the register's own."""
