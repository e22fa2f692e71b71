"""What left for a specialist, a conservator or a laboratory, how it came back, and the slips that stand in for it."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from findsdesk.store.models import objects as objects  # a line may point at a sample
from findsdesk.store.models.base import Base, Editable, Fact


class Loan(Editable, Base):
    """Things that left together: to whom, for what, since when, due when, back when."""

    __tablename__ = "loan"
    __table_args__ = (UniqueConstraint("code"), UniqueConstraint("number"))

    code: Mapped[str]
    number: Mapped[int]
    borrower: Mapped[str]
    borrower_kind: Mapped[str]
    """A ``domain.lending.BorrowerKind``."""
    address: Mapped[str] = mapped_column(default="")
    purpose: Mapped[str]
    permit: Mapped[str] = mapped_column(default="")
    lent_on: Mapped[date] = mapped_column(index=True)
    due_on: Mapped[date] = mapped_column(index=True)
    back_on: Mapped[date | None] = mapped_column(index=True)
    """When the last of it was back or written down as used up."""
    note: Mapped[str] = mapped_column(default="")
    made_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    label_copy: Mapped[int] = mapped_column(default=0)
    labelled_at: Mapped[datetime | None]


class LoanLine(Editable, Base):
    """One thing lent: a bag, a box, a piece, a container or a sample, with its condition out and back."""

    __tablename__ = "loan_line"

    loan_id: Mapped[int] = mapped_column(ForeignKey("loan.id"), index=True)
    ordinal: Mapped[int]
    bag_id: Mapped[int | None] = mapped_column(ForeignKey("bag.id"), index=True)
    box_id: Mapped[int | None] = mapped_column(ForeignKey("box.id"), index=True)
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("piece.id"), index=True)
    container_id: Mapped[int | None] = mapped_column(ForeignKey("container.id"), index=True)
    sample_id: Mapped[int | None] = mapped_column(ForeignKey("lab_sample.id"), index=True)
    pieces: Mapped[int]
    """How many pieces left with it; a box or a sample of powder counts as one."""
    tenths: Mapped[int | None]
    condition_out: Mapped[str] = mapped_column(default="")
    pieces_back: Mapped[int] = mapped_column(default=0)
    """The sum of its returns."""
    pieces_used: Mapped[int] = mapped_column(default=0)
    """Pieces used up by the analysis; the sum of its returns."""
    condition_back: Mapped[str] = mapped_column(default="")
    back_on: Mapped[date | None] = mapped_column(index=True)
    """When the last piece of it was back or written down as used up."""


class LoanReturn(Fact, Base):
    """Some or all pieces of a line came back, or were used up."""

    __tablename__ = "loan_return"

    loan_line_id: Mapped[int] = mapped_column(ForeignKey("loan_line.id"), index=True)
    pieces: Mapped[int]
    used_up: Mapped[int] = mapped_column(default=0)
    condition: Mapped[str] = mapped_column(default="")
    back_on: Mapped[date]
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class LoanChase(Fact, Base):
    """Somebody asked for a loan that is due: how, and what was answered."""

    __tablename__ = "loan_chase"

    loan_id: Mapped[int] = mapped_column(ForeignKey("loan.id"), index=True)
    how: Mapped[str]
    answer: Mapped[str] = mapped_column(default="")
    happened_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class LoanFile(Editable, Base):
    """A result that came back with a loan: a file kept beside the store, named by the SHA-256 of its bytes."""

    __tablename__ = "loan_file"

    loan_id: Mapped[int] = mapped_column(ForeignKey("loan.id"), index=True)
    sha256: Mapped[str] = mapped_column(index=True)
    file_name: Mapped[str]
    """As it was named when it was taken in."""
    size_bytes: Mapped[int]
    note: Mapped[str] = mapped_column(default="")
    taken_in_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))


class ProxySlip(Editable, Base):
    """A slip in a bag that says what was taken out of it, why, and where it is."""

    __tablename__ = "proxy_slip"
    __table_args__ = (UniqueConstraint("number"),)

    number: Mapped[int]
    bag_id: Mapped[int] = mapped_column(ForeignKey("bag.id"), index=True)
    piece_id: Mapped[int | None] = mapped_column(ForeignKey("piece.id"), index=True)
    pieces: Mapped[int]
    what: Mapped[str] = mapped_column(default="")
    why: Mapped[str]
    went_to: Mapped[str] = mapped_column(default="")
    loan_line_id: Mapped[int | None] = mapped_column(ForeignKey("loan_line.id"), index=True)
    made_at: Mapped[datetime]
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"))
    laid_back_at: Mapped[datetime | None]
    """When what was taken out lay in the bag again and the slip was taken away."""
