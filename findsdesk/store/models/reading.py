"""What the ceramicist says of the pottery, and the lists of what is discarded."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import ROWS_OF_IT, Base, Editable, RowId


class PotteryReading(Editable, Base):
    """What somebody says of the pottery of a container or of a whole deposit; a later reader adds another beside it."""

    __tablename__ = "pottery_reading"

    container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"), index=True)
    """The container that was read; None for a reading of the deposit as a whole."""
    deposit_id: Mapped[int | None] = mapped_column(ForeignKey("deposit.id"), index=True)
    """The deposit that was read as a whole; None for a reading of a container."""
    main_id: Mapped[int | None] = mapped_column(ForeignKey("period.id"))
    earlier_id: Mapped[int | None] = mapped_column(ForeignKey("period.id"))
    latest_id: Mapped[int | None] = mapped_column(ForeignKey("period.id"))
    confidence: Mapped[str]
    line: Mapped[str] = mapped_column(default="")
    look_again: Mapped[bool] = mapped_column(default=False)
    look_again_why: Mapped[str] = mapped_column(default="")
    looked_again_at: Mapped[datetime | None]
    looked_again_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    looked_again_says: Mapped[str] = mapped_column(default="")
    read_at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class DiscardList(Editable, Base):
    """Sherds proposed for discard, signed for as a whole, and carried away: three dated events."""

    __tablename__ = "discard_list"
    __table_args__ = (UniqueConstraint("season_id", "number"),)

    season_id: Mapped[int] = mapped_column(ForeignKey("season.id"))
    number: Mapped[int]
    made_at: Mapped[datetime] = mapped_column(index=True)
    made_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    signed_at: Mapped[datetime | None]
    signed_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    inspector: Mapped[str] = mapped_column(default="")
    inspected_at: Mapped[datetime | None]
    carried_at: Mapped[datetime | None] = mapped_column(index=True)
    carried_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    carried_to: Mapped[str] = mapped_column(default="")
    carried_how: Mapped[str] = mapped_column(default="")
    marker: Mapped[str] = mapped_column(default="")
    """What was laid with the sherds so that whoever digs there again knows what they are."""
    withdrawn_at: Mapped[datetime | None]


class DiscardLine(Editable, Base):
    """One group or piece on a discard list, as it was when the list was made."""

    __tablename__ = "discard_line"
    __table_args__ = (Index(None, "called_back_at", info={ROWS_OF_IT: "called_back_at IS NOT NULL"}),)

    list_id: Mapped[int] = mapped_column(ForeignKey("discard_list.id"), index=True)
    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"), index=True)
    group_id: Mapped[int | None] = mapped_column(RowId, index=True)
    """The group; it may be gone once it was called back."""
    piece_id: Mapped[int | None] = mapped_column(RowId, index=True)
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"))
    part: Mapped[str]
    pieces: Mapped[int]
    tenths: Mapped[int | None]
    reason: Mapped[str]
    rule: Mapped[str] = mapped_column(default="")
    proposed: Mapped[str] = mapped_column(default="")
    """What that rule proposed where somebody discarded all the same; nothing where the rule discards."""
    called_back_at: Mapped[datetime | None]
    called_back_by_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    called_back_why: Mapped[str] = mapped_column(default="")
