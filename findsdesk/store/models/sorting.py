"""What the sorting table leaves: sherd groups."""

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models.base import ROWS_OF_IT, Base, Editable


class SherdGroup(Editable, Base):
    """Sherds of one container recorded together."""

    __tablename__ = "sherd_group"
    __table_args__ = (
        Index(None, "container_id", "ordinal"),
        Index(None, "proposed", info={ROWS_OF_IT: "proposed <> '' AND reason = ''"}),
    )

    container_id: Mapped[int] = mapped_column(ForeignKey("container.id"))
    ordinal: Mapped[int]
    ware_id: Mapped[int | None] = mapped_column(ForeignKey("ware.id"), index=True)
    form_id: Mapped[int | None] = mapped_column(ForeignKey("form.id"), index=True)
    part: Mapped[str]
    surface: Mapped[str] = mapped_column(default="")
    decoration: Mapped[str] = mapped_column(default="")
    condition: Mapped[str] = mapped_column(default="")
    """Keys of the list of conditions with a blank between them."""
    pieces: Mapped[int]
    tenths: Mapped[int | None]
    rim_permille: Mapped[int | None]
    """All rims of the group together: 1000 is one whole rim."""
    base_permille: Mapped[int | None]
    decision: Mapped[str]
    reason: Mapped[str] = mapped_column(default="")
    rule: Mapped[str] = mapped_column(default="")
    """The name of the retention rule that proposed the decision or another one; nothing where nobody's rule did."""
    proposed: Mapped[str] = mapped_column(default="")
    """What that rule proposed where somebody decided otherwise; nothing where it is decided as proposed."""
    diagnostic: Mapped[bool] = mapped_column(default=False)
    """By the excavation's rule when the group was written."""
    discarded: Mapped[bool] = mapped_column(default=False)
    """True once the discard list it stands on was signed."""
    vessel_id: Mapped[int | None] = mapped_column(ForeignKey("vessel.id"), index=True)
    note: Mapped[str] = mapped_column(default="")
