"""Kept totals: sums over rows of other tables, so that no screen sums them again."""

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import Base, RowId

_LIES_BY_KEY = {"sqlite_with_rowid": False}
"""A row lies where its key is looked up: sums over many totals need no second look."""


class BalanceTotal(Base):
    """The ledger of one container and material, kept by store/totals.py alone and proved by ``prove``."""

    __tablename__ = "balance_total"
    __table_args__ = _LIES_BY_KEY

    container_id: Mapped[int] = mapped_column(RowId, ForeignKey("container.id"), primary_key=True, autoincrement=False)
    material: Mapped[str] = mapped_column(primary_key=True)
    counted: Mapped[int] = mapped_column(default=0)
    found_more: Mapped[int] = mapped_column(default=0)
    arrived: Mapped[int] = mapped_column(default=0)
    kept: Mapped[int] = mapped_column(default=0)
    on_hold: Mapped[int] = mapped_column(default=0)
    to_discard: Mapped[int] = mapped_column(default=0)
    discarded: Mapped[int] = mapped_column(default=0)
    used_up: Mapped[int] = mapped_column(default=0)
    moved_out: Mapped[int] = mapped_column(default=0)
    not_a_sherd: Mapped[int] = mapped_column(default=0)
    not_found: Mapped[int] = mapped_column(default=0)
    counted_tenths: Mapped[int] = mapped_column(default=0)
    accounted_tenths: Mapped[int] = mapped_column(default=0)


class WareTotal(Base):
    """Pieces and tenths of a gram by deposit and ware, kept by store/totals.py alone and proved by ``prove``."""

    __tablename__ = "ware_total"
    __table_args__ = _LIES_BY_KEY

    deposit_id: Mapped[int] = mapped_column(RowId, ForeignKey("deposit.id"), primary_key=True, autoincrement=False)
    ware_id: Mapped[int] = mapped_column(RowId, ForeignKey("ware.id"), primary_key=True, autoincrement=False)
    pieces: Mapped[int] = mapped_column(default=0)
    tenths: Mapped[int] = mapped_column(default=0)
